/// The wide screens' widgets: map and table, the chart, settling; and the number pad.

#include <doctest/doctest.h>

#include <array>
#include <string>

#include "look/bed_map.h"
#include "look/brew_ribbon.h"
#include "look/button.h"
#include "look/card.h"
#include "look/chart.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/history.h"
#include "look/hold.h"
#include "look/number_pad.h"
#include "look/numbers.h"
#include "look/rows.h"
#include "look/screen.h"
#include "look/settle.h"
#include "look/sheet.h"
#include "look/table.h"
#include "screens/harness.h"

using namespace steep;
using namespace steep::test;

namespace {

const std::array<Tab, 9> kTabs = {{{"Today", Icon::Today},
                                   {"Brew", Icon::Brew},
                                   {"Spray", Icon::Spray},
                                   {"Beds", Icon::Beds},
                                   {"Book", Icon::Book, 8},
                                   {"Trace", Icon::Trace},
                                   {"Merge", Icon::Merge},
                                   {"Reports", Icon::Reports},
                                   {"Settings", Icon::Settings}}};
constexpr std::array<RibbonAxis::Sun, 4> kSuns = {{{5.8, 20.5}, {29.8, 44.5}, {53.8, 68.5}, {77.8, 92.5}}};
constexpr std::array<StripStretch, 2> kHalf = {{{0, 0.5f, 0.78f}, {0.5f, 1, 0}}};

struct Beds {
  std::array<std::string, 24> numbers;
  std::array<MapBed, 24> north;
  std::array<MapBed, 12> creek;
  std::array<MapBed, 8> tunnel;
  Beds() {
    for (std::size_t i = 0; i < 24; ++i) numbers[i] = std::to_string(i + 1);
    for (std::size_t i = 0; i < 24; ++i)
      north[i] = {.number = numbers[i],
                  .length_m = i == 8 || i == 9 || i == 16 || i == 17 ? 21.3f : 30.5f,
                  .fill = 1,
                  .hold = StripHold::NoHarvest,
                  .question = i == 19};
    for (std::size_t i = 0; i < 12; ++i)
      creek[i] = {.number = numbers[i],
                  .length_m = 30.5f,
                  .fill = i == 0 || i == 3 ? 0.5f : 1.0f,
                  .hold = i == 0 || i == 3 || i == 1 ? StripHold::None : StripHold::NoHarvest};
    creek[1].fill = 0;
    creek[1].due = true;
    creek[1].late_days = 2;
    for (std::size_t i = 0; i < 8; ++i) tunnel[i] = {.number = numbers[i], .length_m = 23.8f, .fill = 0.78f};
    tunnel[2].hold = tunnel[3].hold = StripHold::NoEntry;
    tunnel[5].fill = 0;
    tunnel[5].due = true;
    tunnel[6].stretches = kHalf;
  }
};

struct DeskInput {
  MapPlace place;
  std::string reason = "One bottle on the shelf; the date on the bottle is the maker’s", search;
  std::string typed = "6.4";
};

void beds_screen(DeskInput& input) {
  static const Beds beds;
  const std::array<MapBlock, 3> blocks = {
      {{.name = "North", .note = "24 beds, 100 ft, four of 70 ft", .beds = beds.north},
       {.name = "Creek", .note = "12 beds, 100 ft", .beds = beds.creek},
       {.name = "Tunnel", .note = "8 beds, 78 ft", .beds = beds.tunnel, .covered = true}}};
  const Tabs tabs{kTabs, 3, 5, 8};
  Screen screen({.id = "beds",
                 .title = "Beds",
                 .second = "Alder Reach · Thu 14 May",
                 .saved = {SavedState::Saved, "8:20 pm"},
                 .tabs = &tabs,
                 .right_panel = look().screen() == ScreenClass::Desktop ? 372.0f : 0.0f});
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    {
      Card card(pen, {.id = "map"});
      bed_map(card.pen.take(bed_map_height(card.pen.width(), blocks)), "map", blocks, {0, 4}, input.place);
    }
    pen.space(6);
    Pen left = pen.column({-1.1f, -1}, 0, 16), right = pen.column({-1.1f, -1}, 1, 16);
    const std::array<Choice, 4> counts = {{{"All 44"}, {"Due 3"}, {"Late 1"}, {"Hold 35"}}};
    segmented(left, "filter", "Filter", counts, 0);
    text_field(
        right,
        {.id = "search", .label = "Bed or crop", .hint = "Bed or crop", .icon = Icon::Magnify, .label_hidden = true},
        input.search);
    pen.below(left);
    pen.below(right);
    pen.space(10);
    const std::array<GridColumn, 6> list = {{{"Bed", 70},
                                             {"Crop", -1.2f, false, true},
                                             {"Last tea", -1, false, true},
                                             {"Left of interval", 140},
                                             {"Next due", -1, false, true},
                                             {"Hold until", -1.1f}}};
    static const BedStrip strips[] = {{.fill = 1, .hold = StripHold::NoHarvest},
                                      {.fill = 0, .end = StripEnd::Due},
                                      {.stretches = kHalf},
                                      {.fill = 0.5f},
                                      {.fill = 0.78f, .hold = StripHold::NoEntry}};
    const Grid g{.id = "beds",
                 .columns = list,
                 .rows = 44,
                 .sorted_by = 4,
                 .fill =
                     [](std::size_t row, std::span<GridCell> cells) {
                       static const std::array<std::string, 44> names = [] {
                         std::array<std::string, 44> out;
                         for (std::size_t i = 0; i < 44; ++i) out[i] = "N" + std::to_string(i + 1);
                         return out;
                       }();
                       cells[0].stake = names[row];
                       cells[1] = {.strong = "Lettuce", .plain = "100 ft"};
                       cells[2].plain = "Thu 14 May";
                       cells[3].strip = &strips[row % 5];
                       cells[4].plain = "Thu 28 May";
                       if (row % 5 == 0)
                         cells[5] = {.strong = "Fri 6:46 pm", .sign = Icon::NoHarvest};
                       else if (row % 5 == 4)
                         cells[5] = {.strong = "Thu 8:46 pm", .sign = Icon::NoEntry};
                       else
                         cells[5] = {.plain = "none recorded", .grey = true};
                     },
                 .key = [](std::size_t row) { return static_cast<std::uint32_t>(row); },
                 .spoken = [](std::size_t row) { return "N" + std::to_string(row + 1) + " lettuce"; },
                 .chosen = 4,
                 .pin_chosen = true};
    grid(pen, g);
  }
  if (look().screen() != ScreenClass::Desktop) return;
  {
    ScreenPart right = screen.right();
    Pen& pen = right.pen();
    heading(pen, "N5 Lettuce", TextStyle::Title);
    hold_card(pen, {.id = "hold",
                    .what = "No harvest until",
                    .until = "Fri 6:46 pm",
                    .left = "22 h",
                    .left_words = "left",
                    .rule = "Farm rule: 1 day after tea on leaf"});
    history_row(pen, {.id = "1",
                      .day = "14 May",
                      .first = "Tea, brew 31 · pass 48, Ana",
                      .second = "6:46 pm · 0.26 gal spray (0.11 tea)"});
    history_row(pen, {.id = "2",
                      .day = "30 Apr",
                      .first = "Tea, brew 27",
                      .struck = true,
                      .struck_why = "6:09 pm · struck by Ana: logged twice"});
  }
  ScreenPart foot = screen.right_foot();
  buttons(foot.pen(),
          {{.id = "trace", .text = "Trace", .icon = Icon::Trace},
           {.id = "add", .text = "Add to N5", .icon = Icon::Plus, .kind = ButtonKind::Primary}},
          {1, 1.3f});
}

void chart_screen() {
  const Tabs tabs{kTabs, 1, 5, 8};
  Screen screen({.id = "chart",
                 .title = "Brew 31",
                 .second = "Leaf 3, Blue bucket",
                 .saved = {SavedState::Saved, "2:09 pm"},
                 .tabs = &tabs});
  ScreenPart main = screen.main();
  Pen& pen = main.pen();
  const std::array<Chart::Grid, 4> grid_lines = {{{4, "4"}, {6, "6"}, {8, "8"}, {10, "10"}}};
  const std::array<Chart::Reading, 6> oxygen = {{{12.6, 8.9, "8.9"},
                                                 {16, 8.1, "8.1"},
                                                 {20.2, 7.2, "7.2"},
                                                 {29.6, 6.3, "6.3"},
                                                 {32.2, 6.6, "6.6"},
                                                 {35, 6.9, "6.9"}}};
  Card card(pen, {.id = "oxygen"});
  chart(card.pen, {.title = "Brew 31 oxygen, mg/L",
                   .axis = {.from_h = 11, .to_h = 48, .days = kSuns, .now_h = 38.2},
                   .low = 4,
                   .high = 10,
                   .grid = grid_lines,
                   .readings = oxygen,
                   .has_figure = true,
                   .figure = 6,
                   .figure_text = "farm: 6 or more"});
}

void settle_screen(DeskInput& input) {
  const Tabs tabs{kTabs, 6, 5, 8};
  Screen screen({.id = "merge",
                 .title = "Merge",
                 .second = "one file taken in",
                 .saved = {SavedState::Saved, "8:14 pm"},
                 .tabs = &tabs,
                 .left_panel = 340});
  {
    ScreenPart left = screen.left();
    const std::array<SettleCount, 3> counts = {
        {{Icon::Differs, "2", "to settle"}, {Icon::Question, "1", "question"}, {Icon::New, "19", "new"}}};
    settle_counts(left.pen(), counts);
    heading(left.pen(), "To settle", TextStyle::LabelStrong);
    settle_row(left.pen(), {.id = "1",
                            .sign = Icon::Differs,
                            .first = "Lot K-19, liquid kelp",
                            .second = "how much came in, best before",
                            .chosen = true});
    settle_row(
        left.pen(),
        {.id = "2", .sign = Icon::Question, .first = "N20: same bed, twice?", .second = "Ana and Marek, Thu 7:15 pm"});
    settle_row(left.pen(), {.id = "3",
                            .sign = Icon::CautionDue,
                            .first = "C7 is to be picked Fri 7 am",
                            .second = "this file brought a spray, Thu 6:56 pm"});
    settle_row(
        left.pen(),
        {.id = "4", .sign = Icon::New, .first = "Pass 12 m4t, Creek", .second = "10 beds, 2.59 gal spray (1.15 tea)"});
  }
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    heading(pen, "Lot K-19, liquid kelp", TextStyle::M);
    pen.space(8);
    const std::array<SettleVersion, 2> came = {
        {{"This book · Office, Wed 13 May 6:10 pm, Ana", "16 fl oz", "receipt 1187, 27 Apr"},
         {"Marek’s phone · Wed 13 May 7:30 pm", "32 fl oz", "receipt 1187, 27 Apr, \"2 bottles\""}}};
    settle_card(pen, {.id = "came",
                      .fact = "How much came in",
                      .hangs = "used 1.1 fl oz, so left: **14.9 fl oz**",
                      .versions = came,
                      .chosen = 0,
                      .other = "Type another value"});
    Card same(pen, {.id = "same"});
    const std::array<Fact, 3> facts = {{{"Code", "K-19"}, {"Opened", "29 Apr"}, {"Used in", "brews 27, 28, 31"}}};
    fact_line(same.pen, "The same on both", facts);
    text_field(same.pen, {.id = "reason", .label = "Reason"}, input.reason);
  }
  ScreenPart actions = screen.actions();
  buttons(actions.pen(),
          {{.id = "ask", .text = "Ask Marek in the next file", .icon = Icon::Note},
           {.id = "later", .text = "Later", .kind = ButtonKind::Quiet},
           {.id = "settle", .text = "Settle 2 facts as Ana", .icon = Icon::Tick, .kind = ButtonKind::Primary}},
          {260, 80, -1});
}

void reading_screen(DeskInput& input) {
  {
    Screen screen({.id = "brew",
                   .title = "Brew 31 · Leaf 3",
                   .second = "Blue bucket · 25 h 40 min",
                   .back = true,
                   .saved = {SavedState::Saved, "2:09 pm"}});
    ScreenPart main = screen.main();
    big_number(main.pen(), {.before = "about",
                            .number = "1½",
                            .unit = "h",
                            .words = "until ready",
                            .detail = "1 to 2 h",
                            .words_at_right = false});
    const std::array<Chart::Grid, 4> grid_lines = {{{4, "4"}, {6, "6"}, {8, "8"}, {10, "10"}}};
    const std::array<Chart::Reading, 3> oxygen = {{{12.6, 8.9, "8.9"}, {16, 8.1, "8.1"}, {20.2, 7.2, "7.2"}}};
    chart(main.pen(), {.title = "Oxygen, mg/L",
                       .axis = {.from_h = 11, .to_h = 48, .days = kSuns, .now_h = 38.2},
                       .low = 4,
                       .high = 10,
                       .grid = grid_lines,
                       .readings = oxygen,
                       .has_figure = true,
                       .figure = 6,
                       .figure_text = "farm: 6 or more"});
  }
  Sheet sheet({.id = "reading", .title = "Add reading", .note = "**2:10 pm** · Ana", .note_icon = Icon::Clock});
  const std::array<Choice, 6> kinds = {{{"Oxygen"}, {"Smell"}, {"Temp"}, {"Foam"}, {"pH"}, {"EC"}}};
  number_pad(sheet.pen(),
             {.id = "pad",
              .spoken = "Oxygen in milligrams per liter",
              .kinds = kinds,
              .kind = 0,
              .unit = "mg/L",
              .farm_figure = "farm: 6 or more",
              .last = "last 6.9 at 11:40 am",
              .save = "Save",
              .save_second = "then Smell"},
             input.typed);
}

}  // namespace

TEST_CASE("look desk: beds, the chart, settling, number pad as pictures; every item named; rest is rest") {
  DeskInput input;
  Look look;
  look.width = 1440;
  look.height = 900;
  Harness harness(look);
  const auto take = [&](const char* name, std::function<void()> draw) {
    harness.draw = std::move(draw);
    harness.settle();
    harness.frame();
    CHECK(harness.save(std::string("build/pictures/look/") + name + ".png"));
    for (const Item& item : harness.tree.items()) CHECK(!item.name.empty());
    CHECK(harness.settle() <= 2);
    MESSAGE(std::string(name) << " " << harness.last_frame_ms() << " ms");
  };
  take("10-beds", [&] { beds_screen(input); });
  take("11-chart", chart_screen);
  take("12-settle", [&] { settle_screen(input); });
  harness.look.width = 390;
  harness.look.height = 844;
  harness.look.density = 2;
  take("03-reading", [&] { reading_screen(input); });
  take("10-beds-phone", [&] { beds_screen(input); });
  take("12-settle-phone", [&] { settle_screen(input); });
  harness.look.theme = Theme::Dusk;
  harness.look.density = 1;
  harness.look.width = 1440;
  harness.look.height = 900;
  take("11-chart-dusk", chart_screen);
}
