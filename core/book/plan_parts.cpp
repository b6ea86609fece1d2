#include "book/plan_parts.h"

#include <algorithm>

#include "base/text.h"
#include "book/checks.h"
#include "book/codes.h"
#include "book/doubts.h"
#include "book/limit_kinds.h"
#include "book/running_brew.h"
#include "book/spelled.h"
#include "book/wait_rules.h"

namespace steep {
namespace {

/// Those that a plan takes; the first six have a stand-in.
constexpr std::string_view kFigures[] = {"reserve",     "air-target",   "load-time", "loading-time",
                                         "water-stand", "water-aerate", "air-off",   "brew-age"};

Result<void> vessel_doubts(const Book& book, PlanSheet& sheet) {
  TRY_ASSIGN(const std::vector<PlannedWork>& others, open_brew_plans(book));
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  const Plan& plan = *sheet.plan;
  const Moment from = plan.air_on.value_or(plan.air_off);
  for (const PlannedVessel& planned : plan.vessels) {
    const Vessel& vessel = *sheet.vessel(planned.key);
    const auto doubt = [&](WordId word, std::vector<std::string> values) {
      sheet.doubts.push_back({word, std::move(values), "vessel", vessel.id});
    };
    if (!vessel.working) doubt("plan.doubt-brim"_w, {vessel.name});
    TRY_ASSIGN(const TankHistory& history, vessel_history(book, vessel.id, from));
    if (!history.is_clean())
      doubt("plan.doubt-vessel-held"_w, {vessel.name, code_value_text("brew", codes.text(history.held_brew))});
    if (is_vessel_planned(others, vessel.id, plan.spraying_from, plan.spraying_from - from))
      doubt("plan.doubt-vessel-taken"_w, {vessel.name});
  }
  return {};
}

/// Which lot each line takes, and what the book knows against it.
Result<void> lot_doubts(const Book& book, PlanSheet& sheet) {
  for (std::size_t i = 0; i < sheet.stock.size(); ++i) {
    const PlannedLine& line = sheet.plan->lines[i];
    const Lot* lot = sheet.stock[i].lot_for(sheet.input->recipe[i].chosen.value_or(line.amount.low));
    if (!lot) continue;
    TRY_ASSIGN(const std::vector<Caution>& more,
               lot_cautions(book, &sheet.pass.places.farm, lot->id, std::nullopt, sheet.plan->spraying_from));
    sheet.doubts.insert(sheet.doubts.end(), more.begin(), more.end());
  }
  return {};
}

/// Beds that are closed then, and pickings that fall into the wait which this spray starts.
Result<void> bed_doubts(const Book& book, const BedStates& states, PlanSheet& sheet) {
  const Plan& plan = *sheet.plan;
  const Farm& farm = states.places.farm;
  for (const Bed& bed : sheet.pass.beds) {
    const BedState* state = states.bed(bed.id);
    if (!state || !state->holds_entry(plan.spraying_from)) continue;
    if (state->entry.hold.until)
      sheet.doubts.push_back(
          {"plan.doubt-entry"_w, {bed.name, moment_value_text(*state->entry.hold.until)}, "beds", bed.id});
    else
      sheet.doubts.push_back({"plan.doubt-entry-unknown"_w, {bed.name}, "beds", bed.id});
  }
  const Aim aim = sheet.chosen.aim.value_or(Aim::Leaf);
  if (!farm.tea_wait_days && aim == Aim::Leaf)
    sheet.doubts.push_back({"check.tea-rule-undecided"_w, {farm.name}, "aim", farm.id});
  TRY_ASSIGN(const std::vector<PlannedWork>& picks, planned_picks(book, states.places.same, farm.id));
  TRY_ASSIGN(const Doubts& doubts, Doubts::read(book));
  std::optional<WaitRules> rules;
  for (const PlannedWork& pick : picks) {
    if (pick.at->at < plan.spraying_from) continue;
    for (const Bed& bed : sheet.pass.beds) {
      if (!pick.is_on(states.places.same.same(bed.id))) continue;
      if (!rules) {
        TRY_ASSIGN(rules, WaitRules::read(book, farm, doubts, states.places.same,
                                          pick.id));  // No tankful of the past is asked for.
      }
      const bool shared = states.places.same.is_shared(bed.id);
      TankFacts tank;
      tank.known = tank.has_tea = true;
      tank.aims = {aim};
      Treatment treatment;
      treatment.finishes = {plan.spraying_to};
      treatment.harvest = rules->harvest(tank, {}, shared);
      if (rules->harvest_hold({treatment}, shared).holds_at(pick.at->at))
        sheet.doubts.push_back({"check.pick-planned"_w, {bed.name, moment_value_text(pick.at->at)}, "beds", bed.id});
    }
  }
  return {};
}

/// Beds that another plan sprays the same day: the same plan made twice, maybe on two copies.
Result<void> twice_doubts(const Book& book, PlanSheet& sheet) {
  const Places& places = sheet.pass.places;
  const Date day = places.farm.day(sheet.plan->spraying_from);
  TRY_ASSIGN(const std::vector<PlannedWork>& others, open_plans(book, places.farm.id));
  for (const PlannedWork& other : others) {
    if (other.what != "pass" || other.id == sheet.chosen.pass_plan || !other.at || places.farm.day(other.at->at) != day)
      continue;
    std::vector<std::string> names;
    for (const Bed& bed : sheet.pass.beds)
      if (other.is_on(places.same.same(bed.id))) names.push_back(bed.name);
    if (!names.empty())
      sheet.doubts.push_back(
          {"plan.doubt-planned"_w, {join(names, ", "), moment_value_text(other.at->at)}, "beds", other.id});
  }
  return {};
}

}  // namespace

std::vector<PlanFigure> plan_figures(std::span<const FarmLimit> limits) {
  std::vector<PlanFigure> figures;
  for (const std::string_view which : kFigures) {
    std::optional<PlanFigure> figure;
    for (const FarmLimit& limit : limits) {
      if (limit.which != which) continue;
      if (auto value = limit_written(limit)) figure = PlanFigure{limit.which, *value, limit.by};
    }
    const std::string_view standard = find_limit_kind(which)->standard;
    if (!figure && !standard.empty()) figure = PlanFigure{std::string(which), *parse_written(standard), {}};
    if (figure) figures.push_back(std::move(*figure));
  }
  return figures;
}

Result<ExpectedTemperature> expected_temperature(const Book& book, Moment now) {
  ExpectedTemperature expected;
  TRY_ASSIGN(const std::vector<Brew>& all, brews(book));
  for (const Brew& brew : all) {
    const Taken<Stamp> begun = brew.air_on ? brew.air_on : brew.met_water;
    if (!begun || now - begun->at > 14 * kDay) continue;
    TRY_ASSIGN(const std::vector<Reading>& taken, readings(book, brew.id));
    const std::vector<TemperatureAt> series = temperatures_of(taken);
    if (series.empty()) continue;
    double sum = 0;
    for (const TemperatureAt& one : series) sum += one.temperature.celsius();
    expected.temperatures = {{now, Temperature::from_celsius(sum / static_cast<double>(series.size()))}};
    TRY_ASSIGN(const Codes& codes, Codes::read(book));
    expected.code = codes.text(brew.id);
    break;
  }
  return expected;
}

Result<std::vector<PastBrew>> past_brews(const Book& book, const Id& recipe) {
  std::vector<PastBrew> past;
  TRY_ASSIGN(const std::vector<Brew>& found, ready_brews(book, recipe));
  for (const Brew& brew : found) {
    const Moment from = brew.air_on->at, to = brew.verdict_at->at;
    TRY_ASSIGN(const std::vector<Reading>& taken, readings(book, brew.id));
    std::vector<TemperatureAt> series = temperatures_of(taken);
    series.erase(std::remove_if(series.begin(), series.end(), [&](const TemperatureAt& one) { return one.at > to; }),
                 series.end());
    if (series.empty()) continue;
    past.push_back({mean_temperature(series, from, to), Duration::from_milliseconds(static_cast<double>(to - from))});
  }
  return past;
}

bool is_vessel_planned(std::span<const PlannedWork> others, const Id& vessel, Moment spray_from,
                       std::int64_t brewing_ms) {
  return std::any_of(others.begin(), others.end(), [&](const PlannedWork& other) {
    return other.vessel == vessel && other.at && other.at->at < spray_from &&
           other.at->at + brewing_ms > spray_from - brewing_ms;
  });
}

Result<void> add_book_doubts(const Book& book, const BedStates& states, Moment now, PlanSheet& sheet) {
  const Plan& plan = *sheet.plan;
  const Farm& farm = states.places.farm;
  const auto doubt = [&](WordId word, std::vector<std::string> values = {}) {
    sheet.doubts.push_back({word, std::move(values), {}, {}});
  };
  const auto add = [&](std::vector<Caution> more) {
    sheet.doubts.insert(sheet.doubts.end(), more.begin(), more.end());
  };
  if (!sheet.recipe) doubt("plan.doubt-no-recipe"_w);
  if (!sheet.water)
    doubt("plan.doubt-no-water"_w);
  else if (sheet.input->is_chlorinated && sheet.water->disinfectant != "chlorine" &&
           sheet.water->disinfectant != "chloramine")
    doubt("plan.doubt-water-unknown"_w, {sheet.water->name});
  const auto start = plan.water_from ? plan.water_from : plan.air_on;
  if (plan.spraying_from < now)
    doubt("plan.doubt-past-spray"_w, {moment_value_text(plan.spraying_from)});
  else if (start && *start < now)
    doubt(plan.water_from ? "plan.doubt-past-water"_w : "plan.doubt-past"_w, {moment_value_text(*start)});
  TRY(vessel_doubts(book, sheet));
  TRY(lot_doubts(book, sheet));
  TRY(bed_doubts(book, states, sheet));
  TRY(twice_doubts(book, sheet));
  add(weather_cautions(farm, states.places.limits, std::nullopt, std::nullopt, plan.spraying_from));
  if (sheet.doubts.empty() || sheet.doubts.back().word != "check.outside-hours"_w)
    add(weather_cautions(farm, states.places.limits, std::nullopt, std::nullopt, plan.spraying_to));
  TRY_ASSIGN(std::vector<Caution> age,
             calibration_cautions(book, farm, states.places.limits, sheet.chosen.rig, plan.spraying_from));
  add(std::move(age));
  return {};
}

TeaFacts planned_tea(const PlanSheet& sheet) {
  TeaFacts facts;
  bool compost = false, all_plant = true;
  for (const RecipeStock& stock : sheet.stock) {
    const Material& material = stock.material;
    if (material.additive.is_there()) facts.has_additive = facts.has_additive.value_or(false) || *material.additive;
    if (!material.is_compost()) {
      facts.additive_of_animal_origin = facts.additive_of_animal_origin || material.animal.value_or(false);
      continue;
    }
    compost = true;
    all_plant = all_plant && material.animal.is_there() && !*material.animal;
    if (material.animal.value_or(false)) facts.compost = CompostSource::WithAnimal;
  }
  if (compost && all_plant) facts.compost = CompostSource::PlantOnly;
  const Plan& plan = *sheet.plan;
  if (plan.air_on) facts.minutes_in_water = (plan.spraying_to - *plan.air_on) / kMinute;
  if (!sheet.water) return facts;
  const std::string& kind = sheet.water->kind;
  facts.water = kind == "well"      ? WaterKind::Well
                : kind == "rain"    ? WaterKind::Rain
                : kind == "mains"   ? WaterKind::Municipal
                : kind == "surface" ? WaterKind::Surface
                                    : WaterKind::NotKnown;
  if (sheet.water->test_e_coli)
    facts.e_coli_detected = sheet.water->test_e_coli->find('<') == std::string::npos &&
                            parse_decimal(*sheet.water->test_e_coli).value_or(1) > 0;
  return facts;
}

void add_season_doubts(PlanSheet& sheet) {
  for (std::size_t i = 0; i < sheet.stock.size(); ++i) {
    const auto& rounds = sheet.season->rounds;
    const auto first = std::find_if(rounds.begin(), rounds.end(),
                                    [&](const Plan& round) { return round.lines[i].short_by.value_or(0) > 0; });
    if (first == rounds.end() || first == rounds.begin()) continue;  // Of the first round it is said already.
    const Material& material = sheet.stock[i].material;
    sheet.doubts.push_back(
        {"plan.doubt-season-stock"_w, {material.name, moment_value_text(first->spraying_from)}, "recipe", material.id});
  }
}

}  // namespace steep
