#include "screens/brews.h"

#include <algorithm>

#include "base/text.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/rows.h"
#include "quantity/time_shown.h"
#include "screens/amounts.h"
#include "screens/parts.h"
#include "screens/planned.h"

namespace steep {
namespace {

constexpr std::size_t kMostPast = 40;

BrewsView::Past past_of(const BrewSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  BrewsView::Past past;
  past.brew = sheet.brew.id;
  past.first = brew_title(sheet, words);
  std::vector<std::string> parts;
  const Moment at = sheet.brew.met_water ? sheet.brew.met_water->at : sheet.brew.made.at;
  parts.push_back(show_day(around.zone.local(at).date, around.today, words));
  if (!sheet.vessel_name.empty()) parts.push_back(sheet.vessel_name);
  if (!sheet.brew.verdict.empty())
    parts.push_back(words.stored("brew.verdict." + sheet.brew.verdict, sheet.brew.verdict));
  past.second = join(parts, " · ");
  if (sheet.balance.filled) past.value = tank_text(*sheet.balance.filled, around.units, words);
  return past;
}

}  // namespace

Result<RunningBrew> brew_now(const Surroundings& around, const Id& brew) {
  if (around.farm.is_nil()) return running_brew(around.book, nullptr, brew, around.now);
  TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
  return running_brew(around.book, &states->places, brew, around.now);
}

Result<BrewsView> brews_view(const Surroundings& around, const BrewsInput&) {
  const Words& words = around.words;
  BrewsView view;
  view.title = words("app.tab_brew"_w);
  view.second = show_day(around.today, around.today, words);
  view.past_head = words("brew.past"_w);
  view.start = words("today.start_brew"_w);
  view.plan = words("plan.title"_w);
  view.planned_head = words("plan.planned"_w);
  TRY_ASSIGN(const std::vector<PlannedWork>& planned, open_brew_plans(around.book));
  for (const PlannedWork& plan : planned) {
    std::vector<std::string> when;
    if (plan.at) when.push_back(around.when(plan.at->at));
    if (plan.water_from) when.push_back(water_text(plan, around));
    view.planned.push_back(
        {plan.id, planned_title(plan, around), join(when, " · "),
         plan.volume ? words("brew.unit_tea"_w, {tank_text(*plan.volume, around.units, words)}) : std::string()});
  }
  view.empty = words("brew.none"_w);
  view.empty_why = words("brew.none_why"_w);
  std::vector<Id> shown;
  if (!around.farm.is_nil()) {
    TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
    TRY_ASSIGN(const Today& today, read_today(around.book, *states, around.person, around.now));
    for (const RunningBrew& brew : today.brews) {
      BrewsView::Running card;
      card.brew = brew.sheet.brew.id;
      card.head = brew_title(brew.sheet, words);
      card.vessel = brew.sheet.vessel_name;
      card.figure = brew_figure(brew, states->places, around);
      card.spoken = card.head + ", " + card.figure.headline();
      if (brew.last_oxygen)
        card.reading = reading_text(*brew.last_oxygen, around) + " · " + around.when(reading_time(*brew.last_oxygen));
      shown.push_back(card.brew);
      view.running.push_back(std::move(card));
    }
  }
  TRY_ASSIGN(const std::vector<Brew>& all, brews(around.book));
  for (const Brew& brew : all) {
    if (view.past.size() >= kMostPast) break;
    if (std::find(shown.begin(), shown.end(), brew.id) != shown.end()) continue;
    TRY_ASSIGN(const BrewSheet& sheet, read_brew_sheet(around.book, brew.id));
    view.past.push_back(past_of(sheet, around));
  }
  return view;
}

namespace {

std::optional<Ask> draw_running(Pen& pen, const BrewsView& view) {
  std::optional<Ask> ask;
  for (std::size_t i = 0; i < view.running.size(); ++i) {
    const BrewsView::Running& brew = view.running[i];
    IdScope scope("running", static_cast<std::int64_t>(i));
    Card card(pen, {.id = "brew", .head = brew.head, .note = brew.vessel, .press_whole = true, .spoken = brew.spoken});
    draw_brew_numbers(card.pen, brew.figure);
    card.pen.space(4);
    draw_brew_ribbon(card.pen, brew.figure);
    if (!brew.reading.empty()) paragraph(card.pen, brew.reading, TextStyle::Strong);
    if (card.pressed()) ask = Go{{"brew-page", brew.brew}};
  }
  return ask;
}

std::optional<Ask> draw_planned(Pen& pen, const BrewsView& view) {
  std::optional<Ask> ask;
  if (view.planned.empty()) return ask;
  heading(pen, view.planned_head);
  Card card(pen, {.id = "planned"});
  for (std::size_t i = 0; i < view.planned.size(); ++i) {
    const BrewsView::Planned& plan = view.planned[i];
    IdScope scope("planned", static_cast<std::int64_t>(i));
    if (list_row(card.pen, {.id = "row",
                            .icon = Icon::Calendar,
                            .first = plan.first,
                            .second = plan.second,
                            .value = plan.value,
                            .line_above = i > 0}))
      ask = Go{{"planned", plan.plan}};
  }
  return ask;
}

std::optional<Ask> draw_past(Pen& pen, const BrewsView& view) {
  std::optional<Ask> ask;
  if (view.past.empty()) return ask;
  heading(pen, view.past_head);
  Card card(pen, {.id = "past"});
  for (std::size_t i = 0; i < view.past.size(); ++i) {
    const BrewsView::Past& past = view.past[i];
    IdScope scope("past", static_cast<std::int64_t>(i));
    if (list_row(card.pen, {.id = "row",
                            .icon = Icon::Brew,
                            .first = past.first,
                            .second = past.second,
                            .value = past.value,
                            .line_above = i > 0}))
      ask = Go{{"brew-page", past.brew}};
  }
  return ask;
}

}  // namespace

std::optional<Ask> draw_brews(const BrewsView& view, BrewsInput&, const Furniture& furniture) {
  Screen screen(furniture.tab("brew", view.title, view.second));
  std::optional<Ask> ask;
  const auto answer = [&](std::optional<Ask> of_part) {
    if (of_part) ask = std::move(of_part);
  };
  {
    ScreenPart main = screen.main();
    in_two_parts(
        main.pen(),
        [&](Pen& pen) {
          if (view.running.empty() && view.past.empty() && view.planned.empty()) {
            paragraph(pen, view.empty, TextStyle::Strong);
            paragraph(pen, view.empty_why);
          }
          answer(draw_running(pen, view));
          answer(draw_planned(pen, view));
        },
        [&](Pen& pen) { answer(draw_past(pen, view)); });
  }
  {
    ScreenPart actions = screen.actions(760);
    Pen& pen = actions.pen();
    const int pressed = buttons(pen,
                                {{.id = "plan", .text = view.plan, .icon = Icon::Calendar},
                                 {.id = "start", .text = view.start, .icon = Icon::Plus, .kind = ButtonKind::Primary}},
                                {2, 3});
    if (pressed == 0) ask = Go{{"plan"}};
    if (pressed == 1) ask = Go{{"start-brew"}};
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
