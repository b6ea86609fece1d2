#include "book/plan_sheet.h"

#include <algorithm>

#include "book/checks.h"
#include "book/codes.h"
#include "book/plan_parts.h"
#include "book/spelled.h"
#include "trade/air.h"

namespace steep {
namespace {

/// By the recipe's own time, where it has one.
std::int64_t brewing_ms(const PlanSheet& sheet) {
  const Duration time = sheet.recipe ? sheet.recipe->time.value_or(Duration::from_hours(24)) : Duration::from_hours(24);
  return static_cast<std::int64_t>(time.milliseconds());
}

std::int64_t figure_ms(const PlanSheet& sheet, std::string_view which) {
  const PlanFigure* figure = sheet.figure(which);
  return figure ? static_cast<std::int64_t>(as<Duration>(figure->value).milliseconds()) : 0;
}

Result<void> choose_things(const Book& book, PlanSheet& sheet) {
  PlanChoices& chosen = sheet.chosen;
  TRY_ASSIGN(sheet.recipes, recipes(book));
  TRY_ASSIGN(sheet.vessels, vessels(book));
  TRY_ASSIGN(sheet.waters, water_sources(book));
  TRY_ASSIGN(const std::vector<Brew>& all, brews(book));
  // As in the last brew, unless there is only one to choose.
  if (chosen.recipe.is_nil() && sheet.recipes.size() == 1) chosen.recipe = sheet.recipes.front().id;
  if (chosen.water_source.is_nil() && sheet.waters.size() == 1) chosen.water_source = sheet.waters.front().id;
  for (const Brew& brew : all) {
    if (chosen.recipe.is_nil()) chosen.recipe = brew.recipe;
    if (chosen.water_source.is_nil()) chosen.water_source = brew.water;
  }
  for (const BrewRecipe& recipe : sheet.recipes)
    if (recipe.id == chosen.recipe) sheet.recipe = recipe;
  for (const WaterSource& water : sheet.waters)
    if (water.id == chosen.water_source) sheet.water = water;
  return {};
}

/// The clock of the last pass with tea, on the first day on which water and brew can be ready by then.
Result<Moment> propose_time(const Book& book, const PlanSheet& sheet, const Farm& farm, Moment now) {
  const Date today = farm.day(now);
  TRY_ASSIGN(const std::vector<Pass>& before, passes(book, farm.id, today + -60, today));
  LocalTime clock{today, 6, 30, 0};
  for (const Pass& pass : before)
    if (pass.tea_rate && pass.tea_rate->si() > 0) clock = farm.zone.local(pass.start.at);
  clock.date = today;
  clock.minute -= clock.minute % 5;
  clock.second = 0;
  const Moment earliest = now + brewing_ms(sheet) + figure_ms(sheet, "loading-time");
  for (int day = 0; day < 30; ++day, clock.date = clock.date + 1) {
    const auto moments = farm.zone.instants(clock);
    if (!moments.empty() && moments.front() >= earliest) return moments.front();
  }
  return earliest;
}

/// Beds due by the day of the spraying, of the block with most of them; without any, the first block.
std::vector<Id> propose_beds(const BedStates& states, Date day) {
  std::map<Id, int> due;
  const auto is_due_by = [&](const BedState& state) {
    return state.due_first() && states.today + state.days_left() <= day;
  };
  Id best;
  for (const BedState& state : states.beds)
    if (is_due_by(state) && (++due[state.bed.block], best.is_nil() || due[state.bed.block] > due[best]))
      best = state.bed.block;
  std::vector<Id> beds;
  for (const BedState& state : states.beds)
    if (best.is_nil() ? state.bed.block == states.beds.front().bed.block : state.bed.block == best && is_due_by(state))
      beds.push_back(state.bed.id);
  return beds;
}

Result<void> choose_pass(const Book& book, const BedStates& states, PlanSheet& sheet, Moment now) {
  PlanChoices& chosen = sheet.chosen;
  StartChoices pass;
  pass.farm = chosen.farm;
  pass.person = chosen.person;
  pass.plan = chosen.pass_plan;
  pass.no_plan = chosen.pass_plan.is_nil();
  if (!pass.no_plan) {
    TRY_ASSIGN(const PlannedWork& intended, read_plan(book, chosen.pass_plan));
    if (intended.what != "pass" || !intended.is_open())
      return refuse(Trouble::BadInput, "plan.not-a-pass"_w, {}, "pass");
    if (!chosen.spray_from && intended.at) chosen.spray_from = intended.at->at;
  }
  if (!chosen.spray_from) {
    TRY_ASSIGN(chosen.spray_from, propose_time(book, sheet, states.places.farm, now));
  }
  pass.beds = chosen.beds;
  if (pass.beds.empty() && pass.no_plan) pass.beds = propose_beds(states, states.places.farm.day(*chosen.spray_from));
  pass.rig = chosen.rig;
  pass.aim = chosen.aim;
  pass.tea_rate = chosen.tea_rate;
  pass.spray_rate = chosen.spray_rate;
  pass.rate_area = chosen.rate_area;
  TRY_ASSIGN(sheet.pass, start_sheet(book, pass, now));
  const StartChoices& found = sheet.pass.chosen;
  chosen.beds = found.beds;
  chosen.rig = found.rig;
  chosen.aim = found.aim;
  chosen.tea_rate = found.tea_rate;
  chosen.spray_rate = found.spray_rate;
  chosen.rate_area = found.rate_area;
  return {};
}

/// All vessels that no other plan needs about then.
Result<void> choose_vessels(const Book& book, PlanSheet& sheet) {
  if (!sheet.chosen.vessels.empty()) return {};
  TRY_ASSIGN(const std::vector<PlannedWork>& others, open_brew_plans(book));
  for (const Vessel& vessel : sheet.vessels)
    if (!is_vessel_planned(others, vessel.id, *sheet.chosen.spray_from, brewing_ms(sheet)))
      sheet.chosen.vessels.push_back(vessel.id);
  // All are planned for something: then any, and the doubt says so.
  if (sheet.chosen.vessels.empty())
    for (const Vessel& vessel : sheet.vessels) sheet.chosen.vessels.push_back(vessel.id);
  return {};
}

void find_missing(PlanSheet& sheet) {
  const StartSheet& pass = sheet.pass;
  const auto missing = [&](PlanMissing what, bool is) {
    if (is) sheet.missing.push_back(what);
  };
  missing(PlanMissing::Beds, pass.beds.empty() || !pass.area);
  missing(PlanMissing::Rig, !pass.rig || !pass.rig->tank);
  missing(PlanMissing::Rates, pass.chosen.rates_unknown || !pass.chosen.spray_rate || !pass.chosen.tea_rate);
  missing(PlanMissing::Vessel, std::none_of(sheet.vessels.begin(), sheet.vessels.end(), [&](const Vessel& vessel) {
            return (vessel.working || vessel.nominal) &&
                   std::find(sheet.chosen.vessels.begin(), sheet.chosen.vessels.end(), vessel.id) !=
                       sheet.chosen.vessels.end();
          }));
}

/// What the pump gives at the depth of the outlets; nullopt when pump or depth is not on record.
std::optional<Flow> air_of(const Vessel& vessel) {
  if (!vessel.pump_flow || !vessel.pump_pressure || !vessel.depth) return std::nullopt;
  const auto curve = straight_curve(*vessel.pump_flow, *vessel.pump_pressure);
  const auto pressure = hydrostatic_pressure(*vessel.depth);
  if (!curve || !pressure) return std::nullopt;
  const auto flow = delivered_flow(*curve, *pressure);
  return flow ? flow->flow : Flow{};  // Deeper than the pump can press: no air at all.
}

std::optional<double> chosen_amount(const PlanChoices& chosen, const RecipeStock& stock) {
  for (const PlannedAmount& one : chosen.amounts) {
    const bool is_its = one.of == stock.material.id || std::any_of(stock.lots.begin(), stock.lots.end(),
                                                                   [&](const Lot& lot) { return lot.id == one.of; });
    if (is_its && stock.unit) return in_unit_of(one.amount, *stock.unit, stock.material);
  }
  return std::nullopt;
}

void set_water(const PlanSheet& sheet, PlanInput& input) {
  const std::string said = sheet.water ? sheet.water->disinfectant : std::string();
  const bool natural =
      sheet.water && (sheet.water->kind == "well" || sheet.water->kind == "rain" || sheet.water->kind == "surface");
  input.is_chlorinated = said == "chlorine" || said == "chloramine" || (said != "none" && !natural);
  input.disinfectant = said == "chloramine" ? Disinfectant::Chloramine : Disinfectant::FreeChlorine;
}

void set_vessels(const PlanSheet& sheet, PlanInput& input) {
  const auto& chosen = sheet.chosen.vessels;
  for (const Vessel& vessel : sheet.vessels) {
    if (std::find(chosen.begin(), chosen.end(), vessel.id) == chosen.end() || !(vessel.working || vessel.nominal))
      continue;
    input.vessels.push_back(
        {vessel.id.text(), vessel.working ? *vessel.working : *vessel.nominal, Volume{}, air_of(vessel)});
  }
}

void set_figures(const PlanSheet& sheet, PlanInput& input) {
  input.reserve = as<Share>(sheet.chosen.reserve ? *sheet.chosen.reserve : sheet.figure("reserve")->value);
  input.air_target = as<FlowPerVolume>(sheet.figure("air-target")->value);
  input.per_load = as<Duration>(sheet.figure("load-time")->value);
  input.loading = as<Duration>(sheet.figure("loading-time")->value);
  input.standing = {as<Duration>(sheet.figure("water-stand")->value),
                    as<Duration>(sheet.figure("water-aerate")->value)};
  const auto limit = [&](std::string_view which) -> std::optional<Duration> {
    const PlanFigure* figure = sheet.figure(which);
    return figure ? std::optional(as<Duration>(figure->value)) : std::nullopt;
  };
  input.use_within = limit("air-off");
  input.greatest_age = limit("brew-age");
}

/// The recipe's lines that can be scaled; a doubt for each that cannot.
Result<void> set_recipe(const Book& book, PlanSheet& sheet, PlanInput& input) {
  const Date day = sheet.pass.places.farm.day(input.spraying_from);
  TRY_ASSIGN(std::vector<RecipeStock> stock, recipe_stock(book, sheet.recipe->id, day));
  for (RecipeStock& one : stock) {
    // Without a volume that the recipe is written for, or an amount, a line cannot be scaled.
    if (!one.unit || (one.table.empty() && !sheet.recipe->reference)) {
      sheet.doubts.push_back({"plan.doubt-not-scaled"_w, {one.material.name}, "recipe", sheet.recipe->id});
      continue;
    }
    input.recipe.push_back({one.material.id.text(), sheet.recipe->reference.value_or(Volume{}), one.amount, one.table,
                            one.in_stock(), chosen_amount(sheet.chosen, one)});
    sheet.stock.push_back(std::move(one));
  }
  return {};
}

Result<PlanInput> plan_input(const Book& book, PlanSheet& sheet, Moment now) {
  PlanInput input;
  input.spray = *sheet.pass.loading;
  if (sheet.chosen.volume) input.volume = as<Volume>(*sheet.chosen.volume);
  input.spraying_from = *sheet.chosen.spray_from;
  input.air_on = sheet.chosen.air_on;
  set_vessels(sheet, input);
  set_figures(sheet, input);
  set_water(sheet, input);
  if (sheet.chosen.temperatures.empty()) {
    TRY_ASSIGN(const ExpectedTemperature& expected, expected_temperature(book, now));
    sheet.chosen.temperatures = expected.temperatures;
    sheet.temperature_code = expected.code;
  }
  input.temperatures = sheet.chosen.temperatures;
  input.pace.reset();
  if (sheet.recipe && sheet.recipe->time) {
    input.pace = BrewPace{};
    input.pace->recipe_time = *sheet.recipe->time;
    if (sheet.recipe->temperature) input.pace->recipe_temperature = *sheet.recipe->temperature;
    TRY_ASSIGN(input.past, past_brews(book, sheet.recipe->id));
  }
  if (sheet.recipe) TRY(set_recipe(book, sheet, input));
  return input;
}

/// Trade's doubts name vessels and materials by id.
void add_doubts(PlanSheet& sheet, const std::vector<Doubt>& doubts) {
  for (const Doubt& doubt : doubts) {
    Caution caution{doubt.word, doubt.values, {}, {}};
    for (std::string& value : caution.values) {
      if (const Vessel* vessel = sheet.vessel(value)) {
        caution.record = vessel->id;
        value = vessel->name;
      }
      for (const RecipeStock& stock : sheet.stock) {
        if (stock.material.id.text() != value) continue;
        caution.record = stock.material.id;
        value = stock.material.name;
        break;
      }
    }
    sheet.doubts.push_back(std::move(caution));
  }
}

}  // namespace

const PlanFigure* PlanSheet::figure(std::string_view which) const {
  for (const PlanFigure& figure : figures)
    if (figure.which == which) return &figure;
  return nullptr;
}

const Vessel* PlanSheet::vessel(std::string_view key) const {
  for (const Vessel& vessel : vessels)
    if (vessel.id.text() == key) return &vessel;
  return nullptr;
}

Result<PlanSheet> plan_sheet(const Book& book, const BedStates& states, const PlanChoices& choices, Moment now) {
  PlanSheet sheet;
  sheet.chosen = choices;
  sheet.figures = plan_figures(states.places.limits);
  TRY(choose_things(book, sheet));
  TRY(choose_pass(book, states, sheet, now));
  TRY(choose_vessels(book, sheet));
  find_missing(sheet);
  if (!sheet.missing.empty() || !sheet.pass.loading) return sheet;
  TRY_ASSIGN(sheet.input, plan_input(book, sheet, now));
  const Zone& zone = states.places.farm.zone;
  auto plan = make_plan(*sheet.input, zone);
  if (!plan) {
    sheet.problem = plan.error();
    return sheet;
  }
  sheet.plan = std::move(*plan);
  add_doubts(sheet, sheet.plan->doubts);
  sheet.status = tea_status(planned_tea(sheet));
  TRY(add_book_doubts(book, states, now, sheet));
  if (choices.every_days > 0 && choices.until) {
    TRY_ASSIGN(sheet.season, make_season_plan(*sheet.input, choices.every_days, *choices.until, zone));
    add_season_doubts(sheet);
  }
  return sheet;
}

}  // namespace steep
