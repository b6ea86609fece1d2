#include "screens/today.h"

#include <algorithm>
#include <array>

#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/numbers.h"
#include "quantity/time_shown.h"
#include "screens/amounts.h"
#include "screens/asked.h"
#include "screens/fact_text.h"
#include "screens/parts.h"
#include "screens/planned.h"

namespace steep {
namespace {

TodayView::BrewCard brew_card(const RunningBrew& brew, const Places& places, const Surroundings& around) {
  const Words& words = around.words;
  TodayView::BrewCard card;
  card.brew = brew.sheet.brew.id;
  card.head = brew_title(brew.sheet, words);
  card.vessel = brew.sheet.vessel_name;
  card.figure = brew_figure(brew, places, around);
  card.add = words("brew.add_reading"_w);
  card.spoken = words("brew.add_reading_to"_w, {brew.sheet.code});
  const std::optional<Reading>& last = brew.last_oxygen ? brew.last_oxygen : brew.last_temperature;
  if (last) {
    card.reading = reading_text(*last, around);
    card.reading_detail = around.when(reading_time(*last));
    if (brew.oxygen_under && brew.last_oxygen) {
      card.reading_detail += " · " + words("brew.farm_floor"_w, {brew.oxygen_floor_typed});
      card.reading_due = true;
    }
  } else {
    card.reading = words("brew.no_reading"_w);
    card.reading_due = brew.age.has_value();
  }
  return card;
}

std::string weather_text(const WeatherGiven& weather, const Surroundings& around) {
  if (!weather.wind) return {};
  std::string text = show(*weather.wind, around.units, around.words);
  if (weather.direction.empty()) return text;
  return text + " " + around.words.stored("start.direction." + weather.direction, weather.direction);
}

/// Its time is over, and nobody said what became of it.
bool is_late(const PlannedWork& plan, Moment now) { return plan.at && plan.at->at < now - 2 * kHour; }

TodayView::PassCard next_card(const NextPass& next, const Surroundings& around) {
  const Words& words = around.words;
  const StartSheet& sheet = next.sheet;
  TodayView::PassCard card;
  if (sheet.planned) {
    card.plan = sheet.planned->id;
    card.open_plan = words("plan.open"_w);
  }
  card.head = sheet.planned && sheet.planned->at
                  ? words("plan.planned_pass_at"_w, {sheet.place, around.when(sheet.planned->at->at)})
              : next.loads > 0 ? words.count("today.next_pass_loads"_w, next.loads, {sheet.place})
                               : words("today.next_pass"_w, {sheet.place});
  if (sheet.last_weather) card.note = weather_text(*sheet.last_weather, around);
  card.beds_number = show_count(static_cast<long long>(sheet.beds.size()), around.units);
  card.beds_word = words(sheet.beds.size() == 1 ? "today.bed"_w : "today.beds"_w);
  if (sheet.on_beds) {
    const SprayShown spray = spray_shown(sheet.on_beds->spray(), sheet.on_beds->tea, false, around.units, words);
    card.spray_number = spray.number;
    card.spray_word = spray.words;
  }
  if (!sheet.beds.empty()) {
    card.detail = sheet.beds.size() == 1 ? sheet.beds.front().name
                                         : words("today.from_to"_w, {sheet.beds.front().name, sheet.beds.back().name,
                                                                     along_text(sheet.length, around.units, words)});
  }
  card.late = sheet.planned && is_late(*sheet.planned, around.now);
  if (card.late) card.detail = words("plan.pass_time_over"_w);
  card.button = words("today.start_pass"_w);
  card.button_spoken = words.count("today.start_pass_on"_w, static_cast<long long>(sheet.beds.size()), {sheet.place});
  return card;
}

TodayView::PlanCard plan_card(const PlannedWork& plan, const Surroundings& around) {
  const Words& words = around.words;
  TodayView::PlanCard card;
  card.plan = plan.id;
  card.is_brew = plan.what == "brew";
  card.head = planned_title(plan, around);
  if (plan.at) card.note = around.when(plan.at->at);
  card.late = is_late(plan, around.now);
  if (card.is_brew && plan.volume) {
    card.number = tank_number(*plan.volume, around.units, words);
    card.word = words("brew.unit_tea"_w, {unit_label(tank_unit(around.units), 2, words)});
  } else if (!card.is_brew) {
    card.number = show_count(static_cast<long long>(plan.beds.size()), around.units);
    card.word = words(plan.beds.size() == 1 ? "today.bed"_w : "today.beds"_w);
  }
  if (card.late) card.detail = words("plan.time_over"_w);
  if (!card.late) card.water = water_text(plan, around);
  card.water_due = plan.water_from && plan.water_from->at <= around.now;
  card.button = words("plan.open"_w);
  std::string spoken = card.head + (card.note.empty() ? "" : ", " + card.note);
  if (!card.water.empty()) spoken += ", " + card.water;
  card.spoken = words("plan.open_of"_w, {spoken});
  return card;
}

TodayView::PassCard open_card(const Today& today, const Surroundings& around) {
  TodayView::PassCard card;
  card.open_pass = today.open_pass;
  card.head = around.words("today.pass_open"_w, {today.open_pass_code});
  card.button = around.words("today.go_on"_w, {today.open_pass_code});
  return card;
}

}  // namespace

Result<TodayView> today_view(const Surroundings& around, const TodayInput&) {
  const Words& words = around.words;
  TodayView view;
  view.title = words("app.tab_today"_w);
  view.second = show_day(around.today, around.today, words);
  if (around.farm.is_nil()) {
    view.nothing = words("today.no_farm"_w);
    view.nothing_why = words("today.no_farm_why"_w);
    return view;
  }
  TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
  TRY_ASSIGN(const Today& today, read_today(around.book, *states, around.person, around.now));
  view.second = today.farm.name + " · " + view.second;
  if (around.book.is_demo()) {
    view.demo = words("today.demo"_w);
    view.leave_demo = words("today.leave_demo"_w);
  }

  for (const RunningBrew& brew : today.brews) view.brews.push_back(brew_card(brew, states->places, around));
  if (today.open_pass) {
    view.pass = open_card(today, around);
  } else if (today.next) {
    view.pass = next_card(*today.next, around);
  }
  constexpr std::size_t kMostPlanned = 4;  // The rest stands in the Brew tab.
  for (const PlannedWork& plan : today.planned)
    if (view.planned.size() < kMostPlanned) view.planned.push_back(plan_card(plan, around));
  view.plan_brew = words("plan.title"_w);
  for (const AskedFact& ask : today.asked)
    view.asks.push_back({ask.record,
                         words("asking.asks_you"_w, {first_name(around, ask.by), record_title(around, ask.record)}),
                         asked_text(around, ask)});
  if (today.questions.to_settle > 0) {
    view.questions = words.count("today.to_settle"_w, today.questions.to_settle);
    view.questions_detail = words("today.to_settle_why"_w);
  }
  view.due_head = words.count("today.beds_due"_w, static_cast<long long>(today.due.size()));
  view.all_beds = words("today.all_beds"_w);
  for (const BedState* bed : today.due) view.due.push_back(strip_of_bed(*bed, around));
  if (view.brews.empty() && !view.pass && view.due.empty() && view.planned.empty()) {
    view.nothing = words("today.nothing"_w);
    view.nothing_why = words("plan.nothing_why"_w);
    view.nothing_button = view.plan_brew;
  }
  return view;
}

namespace {

std::optional<Ask> draw_brew(Pen& pen, const TodayView::BrewCard& brew) {
  Card card(pen, {.id = "brew",
                  .head = brew.head,
                  .note = brew.vessel,
                  .edge = brew.figure.past_use_by ? CardEdge::Due : CardEdge::Grey});
  std::optional<Ask> ask;
  draw_brew_numbers(card.pen, brew.figure);
  card.pen.space(4);
  draw_brew_ribbon(card.pen, brew.figure);
  card.pen.space(10);
  const ButtonSpec add{.id = "add", .text = brew.add, .icon = Icon::Plus, .spoken = brew.spoken};
  const float width = button_width(add);
  const bool beside = card.pen.width() - width - 12 >= std::max(text_width(TextStyle::Strong, brew.reading), 120.0f);
  Pen words = beside ? card.pen.column({-1, width}, 0, 12) : card.pen;
  const float top = words.y;
  paragraph_in(words, brew.reading, TextStyle::Strong, colors().ink);
  if (!brew.reading_detail.empty()) {
    paragraph_in(words, brew.reading_detail, brew.reading_due ? TextStyle::LabelStrong : TextStyle::Label,
                 brew.reading_due ? colors().duetext : colors().ink2);
  }
  if (beside) {
    Pen at_right = card.pen.column({-1, width}, 1, 12);
    at_right.y = top;
    if (button(at_right, add)) ask = Go{{"brew-page", brew.brew, brew.brew}};
    card.pen.below(words);
    card.pen.below(at_right);
  } else {
    card.pen.below(words);
    card.pen.space(size::kGrid);
    if (button(card.pen, add)) ask = Go{{"brew-page", brew.brew, brew.brew}};
  }
  return ask;
}

std::optional<Ask> draw_pass(Pen& pen, const TodayView::PassCard& pass) {
  Card card(
      pen,
      {.id = "pass", .head = pass.head, .note = pass.note, .note_icon = pass.note.empty() ? Icon::None : Icon::Wind});
  if (!pass.beds_number.empty()) {
    std::vector<NumberGroup> groups{{.number = pass.beds_number, .unit = pass.beds_word}};
    if (!pass.spray_number.empty()) groups.push_back({.number = pass.spray_number, .unit = pass.spray_word});
    number_groups(card.pen, groups);
  }
  if (!pass.detail.empty())
    paragraph_in(card.pen, pass.detail, pass.late ? TextStyle::LabelStrong : TextStyle::Label,
                 pass.late ? colors().duetext : colors().ink2);
  card.pen.space(10);
  if (button(card.pen, {.id = "start",
                        .text = pass.button,
                        .icon = Icon::Spray,
                        .kind = ButtonKind::Primary,
                        .spoken = pass.button_spoken})) {
    if (pass.open_pass) return Go{{"spraying", *pass.open_pass}};
    return Go{{"start-pass", pass.plan}};
  }
  if (!pass.open_plan.empty() &&
      button(card.pen,
             {.id = "open-plan", .text = pass.open_plan, .icon_after = Icon::ChevronRight, .kind = ButtonKind::Quiet}))
    return Go{{"planned", pass.plan}};
  return std::nullopt;
}

std::optional<Ask> draw_planned(Pen& pen, const TodayView::PlanCard& plan) {
  Card card(pen, {.id = "planned",
                  .head = plan.head,
                  .note = plan.note,
                  .edge = plan.late ? CardEdge::Due : CardEdge::Dashed,
                  .press_whole = true,
                  .spoken = plan.spoken});
  if (!plan.number.empty()) {
    const std::array<NumberGroup, 1> groups{NumberGroup{.number = plan.number, .unit = plan.word}};
    number_groups(card.pen, groups);
  }
  if (!plan.detail.empty()) paragraph_in(card.pen, plan.detail, TextStyle::LabelStrong, colors().duetext);
  if (!plan.water.empty())
    paragraph_in(card.pen, plan.water, plan.water_due ? TextStyle::LabelStrong : TextStyle::Label,
                 plan.water_due ? colors().duetext : colors().ink2);
  if (card.pressed()) return Go{{"planned", plan.plan}};
  return std::nullopt;
}

std::optional<Ask> draw_due(Pen& pen, const TodayView& view) {
  std::optional<Ask> ask;
  if (heading_with_link(pen, view.due_head, "all-beds", view.all_beds)) ask = Go{{"beds", {}}};
  pen.space(6);
  if (view.due.empty()) return ask;
  const float row = bed_strip_height(pen.width(), view.due.front().strip());
  const auto name_id = [&](std::size_t i) {
    IdScope scope("due", static_cast<std::int64_t>(i));
    return item_id("strip");
  };
  LongList list;
  list.count = view.due.size();
  list.row_height = row + 8;
  list.role = Role::Row;
  list.id = name_id;
  list.name = [&](std::size_t i) { return view.due[i].spoken; };
  list.draw = [&](std::size_t i, const Box& box) {
    IdScope scope("due", static_cast<std::int64_t>(i));
    Pen at(box);
    if (bed_strip(at, "strip", view.due[i].strip(), view.due[i].spoken)) ask = Go{{"bed", view.due[i].bed}};
  };
  long_list(pen, list);
  return ask;
}

/// Brews and the next pass; on wide screens they stand beside the list of beds.
std::optional<Ask> draw_work(Pen& pen, const TodayView& view) {
  std::optional<Ask> ask;
  if (!view.demo.empty()) {
    const std::string spoken = view.demo + " " + view.leave_demo;
    Card card(pen, {.id = "demo", .press_whole = true, .spoken = spoken});
    paragraph_in(card.pen, view.demo, TextStyle::LabelStrong, colors().duetext);
    paragraph_in(card.pen, view.leave_demo, TextStyle::Label, colors().ink2);
    if (card.pressed()) ask = Go{{"leave-demo", {}}};
  }
  for (std::size_t i = 0; i < view.asks.size(); ++i) {
    const IdScope scope("ask", static_cast<std::int64_t>(i));
    const auto& one = view.asks[i];
    Card card(pen, {.id = "ask",
                    .head = one.head,
                    .sign = Icon::Question,
                    .press_whole = true,
                    .spoken = one.head + ". " + one.text});
    paragraph_in(card.pen, one.text, TextStyle::Label, colors().ink2);
    if (card.pressed()) ask = Go{{"settle", one.record}};
  }
  if (!view.questions.empty()) {
    Card card(pen, {.id = "questions",
                    .head = view.questions,
                    .sign = Icon::Question,
                    .press_whole = true,
                    .spoken = view.questions});
    paragraph_in(card.pen, view.questions_detail, TextStyle::Label, colors().ink2);
    if (card.pressed()) ask = Go{{"merge", {}}};
  }
  for (std::size_t i = 0; i < view.brews.size(); ++i) {
    IdScope scope("brew", static_cast<std::int64_t>(i));
    if (auto asked = draw_brew(pen, view.brews[i])) ask = asked;
  }
  if (view.pass) {
    if (auto asked = draw_pass(pen, *view.pass)) ask = asked;
  }
  for (std::size_t i = 0; i < view.planned.size(); ++i) {
    IdScope scope("planned", static_cast<std::int64_t>(i));
    if (auto asked = draw_planned(pen, view.planned[i])) ask = asked;
  }
  if (view.nothing.empty() && !view.plan_brew.empty() &&
      button(pen, {.id = "plan", .text = view.plan_brew, .icon = Icon::Calendar}))
    ask = Go{{"plan", {}}};
  if (!view.nothing.empty() && empty_state(pen, {.id = "nothing",
                                                 .first = view.nothing,
                                                 .why = view.nothing_why,
                                                 .button = view.nothing_button,
                                                 .icon = Icon::Brew})) {
    ask = Go{{"plan", {}}};
  }
  return ask;
}

}  // namespace

std::optional<Ask> draw_today(const TodayView& view, TodayInput&, const Furniture& furniture) {
  Screen screen(furniture.tab("today", view.title, view.second));
  ScreenPart main = screen.main();
  Pen& pen = main.pen();
  std::optional<Ask> ask;
  const bool beside = pen.width() >= 760 && !view.due.empty();
  if (beside) {
    Pen left = pen.column({-1, -1}, 0, 24), right = pen.column({-1, -1}, 1, 24);
    ask = draw_work(left, view);
    if (auto asked = draw_due(right, view)) ask = asked;
    pen.below(left);
    pen.below(right);
  } else {
    Pen column = reading_column(pen, 760);
    ask = draw_work(column, view);
    if (view.nothing.empty()) {
      column.space(6);
      if (auto asked = draw_due(column, view)) ask = asked;
    }
    pen.below(column);
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
