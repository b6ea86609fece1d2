/// Phone screens put together from widgets alone, to be looked at beside the design and counted:
/// every pressable at least 48 dp, every item named, main action low, nothing wider than the screen.

#include <doctest/doctest.h>

#include <array>

#include "imgui.h"
#include "look/bed_strip.h"
#include "look/brew_ribbon.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/history.h"
#include "look/hold.h"
#include "look/load_figures.h"
#include "look/numbers.h"
#include "look/overlap.h"
#include "look/rows.h"
#include "look/screen.h"
#include "look/stepper.h"
#include "look/tank_gauge.h"
#include "screens/harness.h"

using namespace steep;
using namespace steep::test;

namespace {

const std::array<Tab, 9> kTabs = {{{"Today", Icon::Today},
                                   {"Brew", Icon::Brew},
                                   {"Spray", Icon::Spray},
                                   {"Beds", Icon::Beds},
                                   {"Book", Icon::Book, 8, "Book, 8 entries not confirmed"},
                                   {"Trace", Icon::Trace},
                                   {"Merge", Icon::Merge},
                                   {"Reports", Icon::Reports},
                                   {"Settings", Icon::Settings}}};
const Tabs kToday{kTabs, 0, 5, 8};
const Tabs kBook{kTabs, 4, 5, 8};

constexpr std::array<RibbonAxis::Sun, 3> kSuns = {{{-18.2, -3.5}, {5.8, 20.5}, {29.8, 44.5}}};

void brew_card(Pen& pen) {
  const std::array<RibbonReading, 6> readings = {{{12.6}, {16}, {20.2}, {29.6}, {32.2}, {35}}};
  const std::array<RibbonAxis::TickMark, 3> ticks = {{{18, "6 pm"}, {24, "midnight"}, {30, "6 am"}}};
  Card card(pen, {.id = "brew", .head = "Brew 31 · Leaf 3", .note = "Blue bucket"});
  big_number(card.pen, {.before = "about",
                        .number = "1½",
                        .unit = "h",
                        .words = "until ready (1 to 2 h)",
                        .detail = "estimate from 6 temperatures"});
  ribbon_figure(
      card.pen,
      {.axis = {.from_h = 11, .to_h = 48, .days = kSuns, .ticks = ticks, .now_h = 38.2},
       .ribbon = {.start_h = 12.5, .ready_from_h = 39.5, .ready_to_h = 44.5, .use_by_h = 46.5, .readings = readings},
       .above_right = "Ready 3:30–8:30 pm",
       .below_right = "use by 10:30 pm",
       .spoken = "Brew 31, ready about 3:30 to 8:30 pm"});
  card.pen.space(10);
  const bool stack = look().stacks();
  Pen left = stack ? card.pen : card.pen.column({-1, 137}, 0), right = stack ? card.pen : card.pen.column({-1, 137}, 1);
  paragraph(left, "Oxygen 6.9 mg/L", TextStyle::Strong);
  paragraph_in(left, "11:40 am · reading due now", TextStyle::TickStrong, colors().duetext);
  if (stack) right.y = left.y + 8;
  button(right, {.id = "add", .text = "Add reading", .icon = Icon::Plus});
  card.pen.below(left);
  card.pen.below(right);
}

void today(Icon) {
  const TapeBand band{.first = "No entry: T3, T4", .second = "until 8:52 pm today · sulfur, 24 h"};
  Screen screen({.id = "today",
                 .title = "Today",
                 .second = "Alder Reach · Thu 14 May",
                 .first_of_tab = true,
                 .saved = {SavedState::Saved, "2:09 pm"},
                 .tabs = &kToday,
                 .band = &band});
  ScreenPart main = screen.main();
  Pen& pen = main.pen();
  brew_card(pen);
  {
    Card card(pen, {.id = "pass", .head = "Next pass · North · 2 loads", .note = "4 mph SW", .note_icon = Icon::Wind});
    const std::array<NumberGroup, 2> groups = {
        {{.number = "24", .unit = "beds"}, {.number = "5.89", .unit = "gal spray (2.62 tea)"}}};
    number_groups(card.pen, groups);
    paragraph_in(card.pen, "Farm: sun under 20° (6:30 pm), wind 3–8 mph", TextStyle::Label, colors().ink2);
    card.pen.space(10);
    button(card.pen, {.id = "start", .text = "Start pass", .icon = Icon::Spray, .kind = ButtonKind::Primary});
  }
  heading_with_link(pen, "36 beds due", "all", "All beds");
  pen.space(6);
  bed_strip(pen, "C2",
            {.number = "C2",
             .first = "Kale",
             .second = "16 d ago · 100 ft",
             .fill = 0,
             .interval_days = 14,
             .end = StripEnd::Late,
             .end_first = "2 d",
             .end_second = "late",
             .late_days = 2},
            "C2 kale, 2 days late");
  bed_strip(pen, "N5",
            {.number = "N5",
             .first = "Lettuce",
             .second = "14 d ago · 100 ft",
             .fill = 0,
             .interval_days = 14,
             .end = StripEnd::Due,
             .end_first = "today",
             .end_second = "due"},
            "N5 lettuce, due today");
}

void spraying() {
  Screen screen({.id = "pass",
                 .title = "Pass 48 · North",
                 .second = "Brew 31 · wind 4 mph SW",
                 .back = true,
                 .saved = {SavedState::Saved, "6:51 pm"}});
  const std::array<TankRow, 8> rows = {
      {{.state = TankRowState::Done, .number = "N10", .crop = "Spinach", .right = "6:51 pm"},
       {.state = TankRowState::Current, .number = "N11", .crop = "Chard", .slab = "0.26"},
       {.number = "N12", .crop = "Chard", .right = "100 ft", .slab = "0.26"},
       {.number = "N13", .crop = "Radish", .flag = "pick Fri 7 am", .slab = "0.26"},
       {.number = "N14", .crop = "Beet", .right = "100 ft", .slab = "0.26"},
       {.number = "N15", .crop = "Beet", .right = "100 ft", .slab = "0.26"},
       {.number = "N16", .crop = "Beet", .slab = "0.13", .from_this_load = 0.5f, .refill = "refill"},
       {.state = TankRowState::NextLoad, .number = "N17", .crop = "Spinach", .right = "load 2"}}};
  const TankGauge gauge{.id = "tank",
                        .rows = rows,
                        .loupe = {.number = "N11",
                                  .crop = "Chard",
                                  .size = "100 ft × 30 in",
                                  .volume = "~0.26 gal spray (0.11 tea)",
                                  .slab_unit = "gal spray",
                                  .walk = "Walk",
                                  .walk_text = "18 of 39 s",
                                  .walked = 0.46f,
                                  .wait = StripHold::NoHarvest,
                                  .wait_text = "No harvest until Fri 6:53 pm"},
                        .used = "2.43",
                        .used_word = "used",
                        .sump = true,
                        .sump_spoken = "0.15 gallons can’t be sprayed",
                        .then = "then N15, ½ of N16, refill"};
  {
    ScreenPart main = screen.main();
    tank_head(main.pen(), {.number = "5½",
                           .words = "beds",
                           .words2 = "left in tank",
                           .amount = "~1.57",
                           .amount_unit = "gal spray in it",
                           .line2 = "1.42 gal can be sprayed",
                           .line3 = "load 1 of 2 · 10 of 24 done"});
    tank_gauge(main.pen(), gauge, screen.actions_in_column() ? screen.main_area().bottom - main.pen().y - 6 : 0);
  }
  ScreenPart actions = screen.actions();
  const std::array<PassButton, 4> four = {{{"half", "Half", "lane end", Icon::HalfBed},
                                           {"skip", "Skip", "with reason", Icon::SkipNext},
                                           {"undo", "Undo", "N10", Icon::Undo},
                                           {"refill", "Refill", "load 2", Icon::WaterPump}}};
  const ButtonSpec done{.id = "done",
                        .text = "N11 done",
                        .second = "then N12 · Chard",
                        .icon = Icon::Tick,
                        .kind = ButtonKind::Done,
                        .spoken = "N11 done, then N12"};
  if (screen.actions_in_column()) {
    button(screen.beside_mark(), {.id = "undo", .text = "Undo N10", .icon = Icon::Undo});
    button(actions.pen().take(screen.action_column().bottom - actions.pen().y - 96), done);
    actions.pen().space(12);
    const std::array<PassButton, 3> three = {four[0], four[1], four[3]};
    pass_buttons(actions.pen(), three);
    return;
  }
  pass_buttons(actions.pen(), four);
  actions.pen().space(10);
  button(actions.pen(), done);
}

void bed() {
  Screen screen({.id = "bed",
                 .title = "N5",
                 .second = "North · 100 ft × 30 in",
                 .back = true,
                 .saved = {SavedState::Saved, "7:38 pm"}});
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    const BedStrip strip{.number = "N5",
                         .first = "Lettuce, set out 9 Apr",
                         .second = "Tea today 6:46 pm",
                         .fill = 1,
                         .interval_days = 14,
                         .hold = StripHold::NoHarvest};
    draw_bed_strip(pen.take(bed_strip_height(pen.width(), strip, true)), strip, colors().ground);
    pen.space(size::kCardGap);
    hold_card(pen, {.id = "hold",
                    .what = "No harvest until",
                    .until = "Fri 6:46 pm",
                    .left = "23 h",
                    .left_words = "left",
                    .rule = "**Farm rule:** 1 day after tea on leaf, from this bed’s own finish"});
    const std::array<NumberGroup, 2> groups = {
        {{.label = "Next due", .number = "28", .unit = "May", .detail = "Thu, in 14 d"},
         {.label = "Tea this season", .number = "3", .unit = "passes", .detail = "0.78 gal spray (0.35 tea)"}}};
    number_cards(pen, groups);
    const SurfaceSection section(pen);
    heading_with_link(pen, "History", "filter", "All", Icon::Filter);
    history_line(pen, {.id = "1",
                       .day = "14 May",
                       .clock = "6:46 pm",
                       .sign = HistorySign::Leaf,
                       .icon = Icon::OnLeaf,
                       .first = "Tea, brew 31",
                       .second = "0.26 gal spray (0.11 tea) · Ana",
                       .thread_above = false});
    history_line(pen, {.id = "2",
                       .day = "8 May",
                       .clock = "7:20 am",
                       .sign = HistorySign::Square,
                       .icon = Icon::Basket,
                       .first = "Harvest 42 lb",
                       .second = "Lot N5-128-m4t · Marek"});
    history_line(pen, {.id = "3",
                       .day = "30 Apr",
                       .clock = "6:09 pm",
                       .icon = Icon::Strike,
                       .first = "Tea, brew 27",
                       .struck = true,
                       .struck_why = "Struck by Ana: logged twice"});
    history_line(pen, {.id = "4",
                       .day = "30 Apr",
                       .clock = "6:08 pm",
                       .sign = HistorySign::Leaf,
                       .icon = Icon::OnLeaf,
                       .first = "Tea, brew 27",
                       .second = "0.26 gal spray (0.12 tea) · Ana"});
    history_line(pen, {.id = "5",
                       .day = "22 Apr",
                       .clock = "7:05 pm",
                       .icon = Icon::Spray,
                       .first = "Bt, 0.26 gal spray",
                       .second = "No entry 4 h, ended · Ana"});
  }
  ScreenPart actions = screen.actions();
  buttons(actions.pen(),
          {{.id = "note", .text = "Note", .icon = Icon::Note},
           {.id = "add", .text = "Add to N5", .icon = Icon::Plus, .kind = ButtonKind::Primary}},
          {1, 2});
}

void book() {
  Screen screen({.id = "book",
                 .title = "Book",
                 .second = "Ana’s phone",
                 .first_of_tab = true,
                 .saved = {SavedState::Saved, "7:38 pm"},
                 .corner = Icon::Settings,
                 .corner_name = "Settings",
                 .tabs = &kBook});
  ScreenPart main = screen.main();
  Pen& pen = main.pen();
  {
    Card card(pen, {.id = "handover", .head = "Handover", .note = "works with no signal"});
    count_row(card.pen, {.number = "34", .words = "not given", .note = "since 1:30 pm"});
    count_row(card.pen, {.number = "8", .words = "given, not confirmed", .note = "Thu 1:30 pm"});
    count_row(card.pen, {.sign = Icon::SavedTick, .words = "confirmed by Office", .note = "Wed 7:40 pm"});
    card.pen.space(8);
    button(card.pen, {.id = "give", .text = "Give handover file", .icon = Icon::FileOut, .kind = ButtonKind::Primary});
    card.pen.space(8);
    button(card.pen, {.id = "take", .text = "Take one in", .icon = Icon::FileIn, .file_pick = true});
    card.pen.space(8);
    list_row(card.pen, {.icon = Icon::Computer,
                        .first = "Office",
                        .value = "taken in Wed 7:44 pm",
                        .value_plain = true,
                        .opens = false,
                        .line_above = true});
    list_row(card.pen, {.icon = Icon::Phone,
                        .first = "Marek’s phone",
                        .value = "taken in Wed 7:02 pm",
                        .value_plain = true,
                        .opens = false,
                        .line_above = true});
  }
  Card card(pen, {.id = "reports", .down = 4});
  list_row(card.pen,
           {.id = "a", .icon = Icon::Clipboard, .first = "Inspection report", .second = "28 Apr – today · 8 passes"});
  list_row(card.pen, {.id = "b",
                      .icon = Icon::Basket,
                      .first = "Closed beds",
                      .second = "2 no entry, 24 no harvest",
                      .line_above = true});
  list_row(card.pen, {.id = "c",
                      .icon = Icon::People,
                      .first = "Client sheet",
                      .second = "Quince Hollow · 1 visit",
                      .line_above = true});
}

void start_pass() {
  Screen screen({.id = "start",
                 .title = "Start pass",
                 .second = "North, 24 beds, 2,280 ft",
                 .back = true,
                 .saved = {SavedState::DraftSaved, "6:39 pm"}});
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    {
      Card card(pen, {.id = "known", .head = "Known", .note = "a tap changes it", .down = 8});
      list_row(card.pen, {.id = "who", .icon = Icon::Person, .first = "Ana Leland", .second = "with nobody else"});
      list_row(card.pen, {.id = "rig",
                          .icon = Icon::Spray,
                          .first = "Backpack 1, 4 gal (US) tank",
                          .second = "0.15 gal can’t be sprayed",
                          .line_above = true});
      list_row(card.pen, {.id = "brew",
                          .icon = Icon::Flask,
                          .first = "Brew 31, on leaf",
                          .second = "5.0 gal tea · air off 6:31 pm",
                          .line_above = true});
      list_row(card.pen, {.id = "rate",
                          .icon = Icon::Gauge,
                          .first = "45 gal spray, 20 gal tea per acre",
                          .second = "bed top: 5.89 gal spray (2.62 tea)",
                          .line_above = true});
    }
    {
      Card card(pen, {.id = "load", .head = "Load 1: what went in?", .sign = Icon::Question, .edge = CardEdge::Ink});
      const std::array<Stepper, 2> both = {
          {{.id = "tea", .label = "Tea", .value = "1.78", .unit = "gal", .spoken = "Tea 1.78 gallons"},
           {.id = "water",
            .label = "Well water",
            .value = "2.22",
            .unit = "gal",
            .spoken = "Well water 2.22 gallons"}}};
      int which = -1;
      steppers(card.pen, both, which);
      card.pen.space(6);
      paragraph(card.pen, "= **4.00 gal spray**, full: to half of N16", TextStyle::Label);
    }
    {
      Card card(pen, {.id = "walk", .head = "How do you walk?", .sign = Icon::Question, .edge = CardEdge::Ink});
      const std::array<Choice, 2> walk = {{{"Turn at each bed"}, {"Same end each bed"}}};
      choice_cells(card.pen, "walk", "Walk", walk, 1);
      card.pen.space(8);
      Pen label = card.pen.column({80, -1}, 0), cells = card.pen.column({80, -1}, 1);
      paragraph(label, "Start from", TextStyle::Label);
      const std::array<Choice, 2> from = {{{"lane"}, {"far end"}}};
      choice_cells(cells, "from", "Start from", from, 0);
      card.pen.below(cells);
    }
    Card card(pen, {.id = "weather", .head = "Weather now", .sign = Icon::Question, .edge = CardEdge::Ink});
    const std::array<Choice, 2> weather = {{{"Wind 4 mph SW, 66 °F"}, {"Not taken"}}};
    const std::array<float, 2> shares = {1.45f, 1};
    choice_cells(card.pen, "weather", "Weather", weather, -1, 2, shares);
  }
  ScreenPart actions = screen.actions();
  missing_line(actions.pen(), "1 answer missing: weather");
  button(actions.pen(), {.id = "go", .text = "Start · N1", .icon = Icon::Spray, .kind = ButtonKind::Primary});
}

void refill() {
  Screen screen({.id = "refill",
                 .title = "Pass 48 · North",
                 .second = "Brew 31 · refill",
                 .back = true,
                 .saved = {SavedState::Saved, "6:58 pm"}});
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    heading(pen, "Where did it run dry?", TextStyle::Strong);
    run_dry(pen, {.number = "N16",
                  .at = 0.5f,
                  .left_text = "load 1",
                  .right_text = "rest: load 2",
                  .zero = "0 ft, lane",
                  .here = "50 ft",
                  .end = "100 ft"});
    pen.space(10);
    stepper(pen, {.id = "at", .value = "50", .unit = "ft", .spoken = "Ran dry at 50 feet"});
    pen.space(12);
    const std::array<LoadBar::Slab, 9> slabs = {
        {{"½", .5f}, {"17", .7f}, {"18", .7f}, {"19"}, {"20"}, {"21"}, {"22"}, {"23"}, {"24"}}};
    load_bar(pen, {.label = "Load 2 will cover",
                   .right = "rest of N16 to N24",
                   .slabs = slabs,
                   .sump_share = .56f,
                   .below_right = "0.15 gal stays in"});
    Card card(pen, {.id = "closes", .head = "Load 1 closes", .note = "16 beds, the last one half"});
    const std::array<LedgerLine, 3> lines = {
        {{.words = "Went in", .number = "4.00", .unit = "gal spray (1.78 tea)"},
         {.words = "Left in tank", .number = "0.15", .unit = "gal spray (0.07 tea)"},
         {.words = "On 1,490 ft", .number = "3.85", .unit = "gal spray (1.71 tea)", .total = true}}};
    ledger(card.pen, lines);
  }
  ScreenPart actions = screen.actions();
  buttons(actions.pen(),
          {{.id = "fill", .text = "Fill up"},
           {.id = "go", .text = "Refilled, on with N16", .icon = Icon::WaterPump, .kind = ButtonKind::Primary}},
          {1, 2.1f});
}

void end_pass() {
  Screen screen({.id = "end",
                 .title = "End pass 48",
                 .second = "North · 6:40–7:20 pm",
                 .back = true,
                 .saved = {SavedState::Saved, "7:20 pm"}});
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    {
      Card card(pen, {.id = "sums"});
      const std::array<NumberGroup, 3> groups = {{{.number = "24", .unit = "beds"},
                                                  {.number = "2,280", .unit = "ft, 0.131 acre"},
                                                  {.number = "5.89", .unit = "gal spray (2.62 tea)"}}};
      number_groups(card.pen, groups, true);
      divider(card.pen, 8, 6);
      paragraph_in(card.pen, "6.04 gal spray went in, in 2 loads (2.69 tea)", TextStyle::Label, colors().ink2);
    }
    {
      Card card(pen, {.id = "left", .head = "Left over, and where to?", .sign = Icon::Question, .edge = CardEdge::Ink});
      Pen left = card.pen.column({-1.5f, -1}, 0), right = card.pen.column({-1.5f, -1}, 1);
      stepper(left, {.id = "left", .value = "0.15", .unit = "gal", .spoken = "Left over 0.15 gallons"});
      right.space(14);
      paragraph(right, "spray (0.07 tea)", TextStyle::Label);
      card.pen.below(left);
      card.pen.space(8);
      const std::array<Choice, 4> where = {
          {{"Poured on heap H9"}, {"Poured elsewhere"}, {"Stays in tank"}, {"Nothing left"}}};
      choice_cells(card.pen, "where", "Where to", where, 0);
    }
    {
      Card card(pen, {.id = "wash", .head = "Wash of backpack 1", .sign = Icon::Question, .edge = CardEdge::Ink});
      const std::array<Choice, 3> wash = {{{"3 rinses, well water"}, {"Other wash"}, {"Not washed"}}};
      const std::array<float, 3> shares = {1.3f, 1, 1};
      choice_cells(card.pen, "wash", "Wash", wash, 0, 3, shares);
    }
    hold_note(pen, {.text = "**24 beds, no harvest** until own finish + 1 day: N1 Fri 6:41 pm … N24 Fri 7:20 pm",
                    .card = false});
  }
  ScreenPart actions = screen.actions();
  button(actions.pen(), {.id = "end", .text = "End pass", .icon = Icon::Tick, .kind = ButtonKind::Primary});
}

void twice() {
  Screen screen({.id = "twice",
                 .title = "Same bed, twice?",
                 .second = "N20 carrot, 100 ft · Thu 14 May",
                 .back = true,
                 .saved = {SavedState::Saved, "8:16 pm"}});
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    {
      Card card(pen, {.id = "both", .across = 14, .down = 8});
      list_row(card.pen, {.icon = Icon::Person,
                          .first = "Ana: 7:14 to 7:15 pm",
                          .second = "pass 48, load 2 · Ana’s phone",
                          .value = "0.26 gal spray",
                          .value2 = "(0.12 tea)",
                          .opens = false});
      list_row(card.pen, {.icon = Icon::Person,
                          .first = "Marek: 7:13 to 7:16 pm",
                          .second = "pass 12 m4t · Marek’s phone",
                          .value = "0.26 gal spray",
                          .value2 = "(0.12 tea)",
                          .opens = false,
                          .line_above = true});
    }
    heading(pen, "Both at N20 for 1 min", TextStyle::LabelStrong);
    pen.space(8);
    const std::array<Overlap::Bar, 2> bars = {{{"Ana", 14, 15}, {"Marek", 13, 16}}};
    const std::array<Overlap::TickMark, 6> ticks = {
        {{12, "7:12"}, {13, "7:13"}, {14, "7:14"}, {15, "7:15"}, {16, "7:16"}, {17, "7:17"}}};
    overlap(pen, {.from_h = 11.65,
                  .to_h = 17.35,
                  .bars = bars,
                  .ticks = ticks,
                  .spoken = "Ana 7:14 to 7:15, Marek 7:13 to 7:16"});
    hold_note(pen,
              {.head = "Held: 2 entries to settle",
               .text = "No harvest until Fri 7:16 pm, from the later finish. Totals count Ana’s, the earlier one."});
    big_choice(
        pen, {.id = "same", .first = "Same work, written twice", .second = "keep one, strike the other", .strips = 1});
    big_choice(pen, {.id = "part", .first = "Each did a part", .second = "say where they met, in ft", .strips = 2});
    big_choice(pen,
               {.id = "both", .first = "Both sprayed all of it", .second = "keep both, 2 × the rate", .strips = 3});
  }
  ScreenPart actions = screen.actions();
  buttons(actions.pen(), {{.id = "later", .text = "Ask later"}, {.id = "note", .text = "Note", .icon = Icon::Note}});
}

void first_run() {
  Screen screen({.id = "first", .has_saved = false, .bare = true});
  ScreenPart main = screen.main();
  Pen& pen = main.pen();
  pen.space(24);
  big_choice(pen, {.id = "take",
                   .first = "Take the farm from a file",
                   .second = "the office or another phone gave it",
                   .icon = Icon::FileIn,
                   .primary = true,
                   .file_pick = true});
  big_choice(
      pen,
      {.id = "start", .first = "Start a farm here", .second = "blocks and beds, then the rules", .icon = Icon::Plus});
  big_choice(pen, {.id = "demo",
                   .first = "Look at the demo farm",
                   .second = "marked; it never mixes with your book",
                   .icon = Icon::Eye});
  Card card(pen, {.id = "settings"});
  const std::array<Choice, 2> languages = {{{"English"}, {"Español"}}}, units = {{{"gal, ft"}, {"L, m"}}},
                              decimals = {{{"0.26"}, {"0,26"}}};
  segmented(setting_line(card.pen, Icon::Translate, "Language", 188), "language", "Language", languages, 0);
  segmented(setting_line(card.pen, Icon::Scales, "Units", 188, true), "units", "Units", units, 0);
  segmented(setting_line(card.pen, Icon::Dialpad, "Decimals", 188, true), "decimals", "Decimals", decimals, 0);
  caution_note(card.pen, "Two people, one farm? Start it on **one** device and take its file on the other.");
}

struct Picture2 {
  const char* name;
  void (*draw)();
};
const Picture2 kScreens[] = {{"01-today", [] { today(Icon::None); }},
                             {"04-spraying", spraying},
                             {"05-bed", bed},
                             {"06-book", book},
                             {"16-start", start_pass},
                             {"17-refill", refill},
                             {"18-end", end_pass},
                             {"19-twice", twice},
                             {"20-first", first_run}};

bool is_target(const Item& item) {
  return item.enabled && item.rect != ItemRect{} &&
         (item.role == Role::Button || item.role == Role::Tab || item.role == Role::Choice || item.role == Role::Row ||
          item.role == Role::Check || item.role == Role::FilePick || item.role == Role::Field);
}

}  // namespace

TEST_CASE("look phone: screens of widgets, pictures, targets of 48 dp, names") {
  for (const Picture2& screen : kScreens) {
    CAPTURE(screen.name);
    Look look;
    look.density = 2;
    Harness harness(look);
    harness.draw = screen.draw;
    harness.settle();
    CHECK(harness.save(std::string("build/pictures/look/") + screen.name + ".png"));
    for (const Item& item : harness.tree.items()) {
      CAPTURE(item.name);
      CHECK(!item.name.empty());
      if (!is_target(item)) continue;
      CHECK(item.rect.right - item.rect.left >= 47.5f);
      // Rows cut by the edge of a scrolled part are as high as what is seen of them.
      const bool cut = item.rect.bottom > 844 - 200 || item.rect.top < 140;
      if (!cut) CHECK(item.rect.bottom - item.rect.top >= 43.5f);
      CHECK(item.rect.left >= -0.5f);
      CHECK(item.rect.right <= 390.5f);
    }
    CHECK(harness.settle() <= 2);  // At rest nothing asks for a frame.
  }
}

TEST_CASE("look phone: dusk, lying, 160 %, Spanish hand, narrow") {
  Look look;
  look.density = 2;
  Harness harness(look);
  harness.draw = spraying;
  harness.look.theme = Theme::Dusk;
  harness.settle();
  CHECK(harness.save("build/pictures/look/08-spraying-dusk.png"));
  harness.look.theme = Theme::Day;
  harness.look.width = 844;
  harness.look.height = 390;
  harness.settle();
  CHECK(harness.save("build/pictures/look/15-landscape.png"));
  harness.look.left_handed = true;
  harness.settle();
  CHECK(harness.save("build/pictures/look/15-landscape-left.png"));
  harness.look.width = 360;
  harness.look.height = 740;
  harness.look.text_percent = 130;
  harness.settle();
  CHECK(harness.save("build/pictures/look/04-left-360-130.png"));
  harness.draw = [] { today(Icon::None); };
  harness.look.left_handed = false;
  harness.look.width = 390;
  harness.look.height = 844;
  harness.settle();
  CHECK(harness.save("build/pictures/look/09-today-130.png"));
  harness.look.text_percent = 160;
  harness.settle();
  CHECK(harness.save("build/pictures/look/09-today-160.png"));
  harness.look.text_percent = 100;
  harness.look.theme = Theme::Dusk;
  harness.settle();
  CHECK(harness.save("build/pictures/look/01-today-dusk.png"));
}

TEST_CASE("look: between frames nothing holds on to the tree of a program that may be gone") {
  Harness harness;
  harness.draw = [&] { CHECK(&item_tree() == &harness.tree); };
  harness.frame();
  CHECK(&item_tree() != &harness.tree);
  const std::size_t named = harness.tree.items().size();
  // A window of Dear ImGui's own, before the program's part of the frame begins.
  ImGui::NewFrame();
  ImGui::Begin("Alder Reach");
  ImGui::End();
  ImGui::EndFrame();
  CHECK(harness.tree.items().size() == named);
}
