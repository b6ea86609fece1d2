#include "screens/planned.h"

#include "base/text.h"
#include "book/plan_commands.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/numbers.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "screens/amounts.h"
#include "screens/parts.h"
#include "screens/start_pass.h"

namespace steep {
namespace {

template <class T>
std::string name_of(const Result<T>& found) {
  return found ? found->name : std::string();
}

std::string bed_names(const PlannedWork& plan, const Places& places) {
  std::vector<std::string> names;
  for (const Id& id : plan.beds)
    if (const Bed* bed = places.any_bed(id)) names.push_back(bed->name);
  return join(names, ", ");
}

void brew_rows(PlannedView& view, const PlannedWork& plan, const Surroundings& around) {
  const Words& words = around.words;
  if (plan.volume) {
    view.number = tank_number(*plan.volume, around.units, words);
    view.unit = words("brew.unit_tea"_w, {unit_label(tank_unit(around.units), 2, words)});
  }
  const auto row = [&](WordId word, std::string value) {
    if (!value.empty()) view.rows.push_back({words(word), std::move(value)});
  };
  if (plan.water_from) row("plan.water_from"_w, around.when(plan.water_from->at));
  if (plan.at) row("brew.air_on"_w, around.when(plan.at->at));
  row("brew.recipe"_w, name_of(read_recipe(around.book, plan.recipe)));
  row("brew.vessel"_w, name_of(read_vessel(around.book, plan.vessel)));
  row("start.water"_w, name_of(read_water_source(around.book, plan.water)));
  for (const PlannedAmount& line : plan.lines) {
    std::string name = name_of(read_material(around.book, line.of));
    if (const auto lot = read_lot(around.book, line.of)) name = lot->name();
    if (!name.empty()) view.rows.push_back({name, show(line.amount, around.units, words)});
  }
}

Result<void> pass_rows(PlannedView& view, const PlannedWork& plan, const Places& places, const Surroundings& around) {
  const Words& words = around.words;
  view.number = show_count(static_cast<long long>(plan.beds.size()), around.units);
  view.unit = words(plan.beds.size() == 1 ? "today.bed"_w : "today.beds"_w);
  if (plan.at) view.rows.push_back({words("plan.first_bed"_w), around.when(plan.at->at)});
  if (plan.spray_rate)
    view.rows.push_back({words("start.rates_title"_w),
                         rates_words(plan.spray_rate.maybe(), plan.tea_rate.maybe(), around.units, words)});
  if (const std::string rig = name_of(read_rig(around.book, plan.rig)); !rig.empty())
    view.rows.push_back({words("start.rig_title"_w), rig});
  if (const std::string beds = bed_names(plan, places); !beds.empty())
    view.rows.push_back({words("start.beds_title"_w), beds});
  for (const Id& id : plan.brews) {
    const auto brew = read_plan(around.book, id);
    if (!brew || brew->is_struck()) continue;
    view.brews.push_back({id, planned_title(*brew, around), brew->at ? around.when(brew->at->at) : std::string()});
  }
  view.brews_head = words("plan.its_brews"_w);
  return {};
}

}  // namespace

std::string water_text(const PlannedWork& plan, const Surroundings& around) {
  if (!plan.water_from) return {};
  const bool begun = plan.water_from->at <= around.now;
  return around.words(begun ? "plan.water_since"_w : "plan.stand_water"_w, {around.when(plan.water_from->at)});
}

std::string planned_title(const PlannedWork& plan, const Surroundings& around) {
  const Words& words = around.words;
  if (plan.what == "brew") {
    const std::string recipe = plan.recipe.is_nil() ? std::string() : name_of(read_recipe(around.book, plan.recipe));
    return recipe.empty() ? words("plan.planned_brew"_w) : words("plan.planned_brew_of"_w, {recipe});
  }
  const auto states = around.beds.get(around.book, around.farm, around.now);
  std::string place;
  if (states && !plan.beds.empty()) {
    if (const Bed* bed = (*states)->places.any_bed(plan.beds.front())) place = bed->block_name;
  }
  return place.empty() ? words("plan.planned_pass"_w) : words("plan.planned_pass_on"_w, {place});
}

Result<PlannedView> planned_view(const Surroundings& around, const PlannedInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(const PlannedWork& plan, read_plan(around.book, around.record));
  PlannedView view;
  view.plan = plan.id;
  view.is_brew = plan.what == "brew";
  view.is_open = plan.is_open();
  view.title = planned_title(plan, around);
  if (plan.at) view.second = around.when(plan.at->at);
  if (view.is_brew) {
    brew_rows(view, plan, around);
  } else {
    TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
    TRY(pass_rows(view, plan, states->places, around));
  }
  if (plan.is_struck())
    view.closed = words("plan.struck"_w, {plan.struck});
  else if (!plan.not_done.empty())
    view.closed = words("plan.was_not_done"_w, {words.stored("plan.reason." + plan.not_done, plan.not_done)});
  else if (!plan.became.is_nil())
    view.closed = words("plan.was_done"_w);
  view.begin = words(view.is_brew ? "today.start_brew"_w : "today.start_pass"_w);
  view.plan_brew = words("plan.title_for_pass"_w);
  view.not_done = words("plan.not_done"_w);
  view.history = words("plan.history"_w);
  view.why_label = words("plan.why"_w);
  view.go = words("plan.write_not_done"_w);
  view.safe = words("plan.keep"_w);
  view.missing = words("record.reason-asked"_w);
  for (const char* reason : {"rain", "wind", "no time", "not ready"})
    view.reasons.push_back(words.stored(std::string("plan.reason.") + reason, reason));
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

namespace {

Do not_done(const Id& plan, std::string why) {
  Do ask;
  ask.what = [plan, why = std::move(why)](Book& book, const Going& going) {
    return plan_not_done(book, plan, why, going);
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  return ask;
}

std::optional<Ask> not_done_sheet(const PlannedView& view, PlannedInput& input) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "not-done", .title = view.not_done});
  std::vector<Choice> reasons;
  for (const std::string& reason : view.reasons) reasons.push_back({.text = reason});
  const bool can = !trim(input.why).empty();
  const int pressed = confirm(sheet.pen(),
                              {.id = "why",
                               .text = view.title,
                               .reason_label = view.why_label,
                               .reasons = reasons,
                               .go = view.go,
                               .safe = view.safe,
                               .can_go = can,
                               .why_not = view.missing},
                              input.why);
  if (pressed == 1 && can) ask = not_done(view.plan, input.why);
  if (pressed >= 0 || sheet.closed()) input.sheet.clear();
  return ask;
}

}  // namespace

std::optional<Ask> draw_planned_page(const PlannedView& view, PlannedInput& input, const Furniture& furniture) {
  Screen screen(furniture.inner("planned", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen(), 760);
    problem_line(pen, view.problem);
    {
      Card card(pen, {.id = "facts", .edge = view.is_open ? CardEdge::Dashed : CardEdge::Grey});
      if (!view.closed.empty()) paragraph_in(card.pen, view.closed, TextStyle::Strong, colors().ink);
      if (!view.number.empty()) big_number(card.pen, {.number = view.number, .unit = view.unit});
      for (const auto& row : view.rows) pair_line(card.pen, row.word, row.value);
    }
    if (!view.brews.empty()) {
      heading(pen, view.brews_head);
      Card card(pen, {.id = "brews"});
      for (std::size_t i = 0; i < view.brews.size(); ++i) {
        IdScope scope("brew", static_cast<std::int64_t>(i));
        if (list_row(card.pen, {.id = "row",
                                .icon = Icon::Brew,
                                .first = view.brews[i].first,
                                .second = view.brews[i].second,
                                .line_above = i > 0}))
          ask = Go{{"planned", view.brews[i].plan}};
      }
    }
    if (view.is_open && !view.is_brew && button(pen, {.id = "plan-brew", .text = view.plan_brew, .icon = Icon::Brew}))
      ask = Go{{"plan", view.plan}};
    if (button(pen, {.id = "history", .text = view.history, .icon = Icon::History, .kind = ButtonKind::Quiet}))
      ask = Go{{"record", view.plan}};
    main.pen().below(pen);
  }
  if (view.is_open) {
    ScreenPart actions = screen.actions(760);
    Pen& pen = actions.pen();
    const int pressed = buttons(pen,
                                {{.id = "not-done", .text = view.not_done},
                                 {.id = "begin",
                                  .text = view.begin,
                                  .icon = view.is_brew ? Icon::Brew : Icon::Spray,
                                  .kind = ButtonKind::Primary}},
                                {2, 3});
    if (pressed == 0) input.sheet = "not-done";
    if (pressed == 1) ask = Go{{view.is_brew ? "start-brew" : "start-pass", view.plan}, true};
  }
  if (!furniture.covered && input.sheet == "not-done") {
    if (auto asked = not_done_sheet(view, input)) ask = asked;
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
