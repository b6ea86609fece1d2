/// The component sheet, rendered without a graphics card in day, grey and dusk. The pictures lie in
/// build/pictures/look for people to look at; the test itself keeps what can be counted: something
/// was drawn, every item has a name, nothing leaves the screen.

#include <doctest/doctest.h>

#include <array>

#include "look/bed_strip.h"
#include "look/brew_ribbon.h"
#include "look/button.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/draw.h"
#include "look/frame.h"
#include "look/hold.h"
#include "look/saved_mark.h"
#include "look/stepper.h"
#include "screens/harness.h"

using namespace steep;
using namespace steep::test;

namespace {

void label(Pen& pen, std::string_view text) {
  paragraph_in(pen, text, TextStyle::Tick, colors().ink2);
  pen.space(8);
}

void strips(Pen& pen) {
  const std::array<StripStretch, 2> half = {{{0, 0.5f, 0.78f}, {0.5f, 1, 0}}};
  const BedStrip all[] = {
      {.number = "T1",
       .first = "Tomato",
       .second = "3 d ago · 78 ft",
       .fill = 0.786f,
       .interval_days = 14,
       .end = StripEnd::Plain,
       .end_first = "11 d",
       .end_second = "to next"},
      {.number = "C1",
       .first = "Collard",
       .second = "7 d ago · 100 ft",
       .fill = 0.5f,
       .interval_days = 14,
       .end = StripEnd::Plain,
       .end_first = "7 d",
       .end_second = "to next"},
      {.number = "T6",
       .first = "Pepper",
       .second = "14 d ago · 78 ft",
       .fill = 0,
       .interval_days = 14,
       .end = StripEnd::Due,
       .end_first = "today",
       .end_second = "due"},
      {.number = "C2",
       .first = "Kale",
       .second = "16 d ago · 100 ft",
       .fill = 0,
       .interval_days = 14,
       .end = StripEnd::Late,
       .end_first = "2 d",
       .end_second = "late",
       .late_days = 2},
      {.number = "N5",
       .first = "Lettuce",
       .second = "today · 100 ft",
       .fill = 1,
       .interval_days = 14,
       .hold = StripHold::NoHarvest,
       .end = StripEnd::Hold,
       .end_first = "Fri",
       .end_second = "6:46 pm"},
      {.number = "T3",
       .first = "Tomato",
       .second = "3 d ago · 78 ft",
       .fill = 0.786f,
       .interval_days = 14,
       .hold = StripHold::NoEntry,
       .end = StripEnd::Hold,
       .end_first = "today",
       .end_second = "8:46 pm"},
      {.number = "T7",
       .first = "Pepper",
       .second = "3 d and 14 d",
       .interval_days = 0,
       .stretches = half,
       .end = StripEnd::Due,
       .end_first = "half",
       .end_second = "due"},
      {.number = "N20",
       .first = "Carrot",
       .second = "today · 100 ft",
       .fill = 1,
       .interval_days = 14,
       .hold = StripHold::NoHarvest,
       .end = StripEnd::Hold,
       .end_first = "held: 2",
       .end_second = "to settle",
       .question = true},
  };
  for (const BedStrip& s : all) bed_strip(pen, s.number, s, s.first);
}

constexpr std::array<RibbonAxis::Sun, 3> kSuns = {{{-18.2, -3.5}, {5.8, 20.5}, {29.8, 44.5}}};

void ribbon(Pen& pen) {
  // Hours since midnight of the first day: 12:30 pm to 10:30 pm of the next.
  const std::array<RibbonReading, 6> readings = {{{12.6}, {15}, {18.2}, {26.6}, {28.8}, {31.5}}};
  const std::array<RibbonEvent, 2> events = {{{14.2}, {20.5, true}}};
  const std::array<RibbonAxis::TickMark, 4> ticks = {{{18, "6 pm"}, {24, "midnight"}, {30, "6 am"}, {36, "noon"}}};
  ribbon_figure(pen, {.axis = {.from_h = 11.5, .to_h = 48, .days = kSuns, .ticks = ticks, .now_h = 38.2},
                      .ribbon = {.start_h = 12.5,
                                 .ready_from_h = 39.5,
                                 .ready_to_h = 44.5,
                                 .use_by_h = 46.5,
                                 .readings = readings,
                                 .events = events},
                      .above_left = "start 12:30 pm",
                      .above_right = "ready 3:30–8:30 pm",
                      .now = "now 2:10 pm",
                      .below_right = "use by 10:30 pm",
                      .band = 60,
                      .spoken = "Brew 31, ready about 3:30 to 8:30 pm"});
}

void buttons_and_fields(Pen& pen) {
  button(pen, {.id = "start", .text = "Start pass", .icon = Icon::Spray, .kind = ButtonKind::Primary});
  label(pen, "Primary, 64 dp, one on a screen");
  buttons(pen, {{.id = "add", .text = "Add reading", .icon = Icon::Plus},
                {.id = "open", .text = "Open pass", .kind = ButtonKind::Filled}});
  label(pen, "Ink outline: it can be pressed. 48 dp.");
  stepper(pen, {.id = "tea", .value = "1.78", .unit = "gal", .spoken = "Tea 1.78 gallons"});
  label(pen, "Stepper with unit");
  const std::array<Choice, 4> units = {{{"gal"}, {"qt"}, {"fl oz"}, {"L"}}};
  segmented(pen, "unit", "Unit", units, 0);
  label(pen, "Unit chips; the number converts when changed");
  const std::array<SavedMark, 4> marks = {{{SavedState::Saved, "2:09 pm"},
                                           {SavedState::Saving, "1 entry"},
                                           {SavedState::NotSaved, ""},
                                           {SavedState::DraftSaved, "6:39 pm"}}};
  const Box row = pen.take(44);
  const auto cells = columns(row, {-1, -1, -1, -1.25f}, 4);
  for (std::size_t i = 0; i < 4; ++i) {
    const IdScope scope("mark", static_cast<std::int64_t>(i));
    draw_saved_mark(cells[i], marks[i], false, true);
  }
  pen.space(6);
}

void cautions(Pen& pen) {
  warn_block(pen, {.id = "warn",
                   .first = "N13 radish is to be picked Fri 7 am",
                   .second = "Sprayed now: no harvest until Fri 6:55 pm",
                   .left = "Skip N13",
                   .right = "Spray N13"});
  rule_line(pen, {.id = "rule",
                  .head = "Record shows: no tick, no green",
                  .text = "21 CFR 112 F: nothing of animal origin entered. **Farm rule: 1 day to harvest**"});
}

void sheet() {
  Pen left(34, 436, 24), right(900, 1408, 24), middle(476, 866, 24);
  heading(left, "Bed strip", TextStyle::Strong);
  left.space(8);
  strips(left);
  {
    const IdScope scope("again");
    heading(middle, "Caution and confirm", TextStyle::Strong);
    middle.space(8);
    cautions(middle);
    middle.space(12);
    hold_card(middle, {.id = "hold",
                       .what = "No harvest until",
                       .until = "Fri 6:46 pm",
                       .left = "23 h",
                       .left_words = "left",
                       .rule = "**Farm rule:** 1 day after tea on leaf, from this bed’s own finish"});
    hold_note(middle,
              {.head = "Held: 2 entries to settle",
               .text = "No harvest until Fri 7:16 pm, from the later finish. Totals count Ana’s, the earlier one."});
  }
  heading(right, "Buttons and fields", TextStyle::Strong);
  right.space(8);
  buttons_and_fields(right);
  Pen wide(34, 866, std::max(left.y, middle.y) + 10);
  heading(wide, "Brew ribbon", TextStyle::Strong);
  wide.space(6);
  ribbon(wide);
  // Every sign of ours, and some icons.
  Pen signs(34, 1408, wide.y + 16);
  const Box row = signs.take(48);
  float x = row.left + 20;
  for (auto code = static_cast<std::uint32_t>(Icon::Tick); code <= static_cast<std::uint32_t>(Icon::SortedDown);
       ++code) {
    draw_icon({x, row.center().y}, 34, static_cast<Icon>(code), colors().ink);
    x += 46;
  }
  const Box icons = signs.take(40);
  x = icons.left + 20;
  for (const Icon icon : {Icon::Today, Icon::Brew, Icon::Spray, Icon::Beds, Icon::Book, Icon::Trace, Icon::Merge,
                          Icon::Reports, Icon::Settings, Icon::Undo, Icon::SkipNext, Icon::WaterPump, Icon::Note,
                          Icon::Person, Icon::Gauge, Icon::Flask, Icon::FileIn, Icon::FileOut}) {
    draw_icon({x, icons.center().y}, 24, icon, colors().ink);
    x += 40;
  }
}

}  // namespace

TEST_CASE("look gallery: the component sheet in day, grey and dusk") {
  Look look;
  look.width = 1440;
  look.height = 960;
  look.density = 1;
  Harness harness(look);
  harness.draw = sheet;
  harness.settle();
  CHECK(harness.save("build/pictures/look/components.png"));
  CHECK(write_png("build/pictures/look/components-grey.png", in_grey(harness.picture())));
  for (const Item& item : harness.tree.items()) CHECK(!item.name.empty());
  MESSAGE("frame " << harness.last_frame_ms() << " ms");
  harness.look.theme = Theme::Dusk;
  harness.settle();
  CHECK(harness.save("build/pictures/look/components-dusk.png"));
}
