#include <algorithm>

#include "base/text.h"
#include "quantity/home_amount.h"
#include "quantity/time_shown.h"
#include "screens/form_text.h"
#include "screens/plan_teller.h"
#include "trade/ratio.h"

namespace steep {
namespace {

using Line = PlanPageView::Line;

std::string parts_words(double fraction, const Words& words) {
  const auto parts = small_parts(fraction);
  if (!parts) return words("plan.tea"_w);
  const auto count = [](double n) { return static_cast<long long>(n); };
  if (parts->water == 0) return words("plan.undiluted"_w);
  return words.count("plan.parts"_w, count(parts->tea), {std::to_string(count(parts->water))});
}

Line beds_line(const PlanTeller& tell) {
  const Words& words = tell.words;
  const PlanSheet& sheet = tell.sheet;
  const LoadPlan& loads = sheet.plan->loads;
  const VolumePerArea rate = sheet.input->spray.spray_rate;
  Line line{.id = "beds", .number = tell.number(loads.on_beds.spray()), .unit = tell.of_spray()};
  line.words = words.count("plan.beds"_w, static_cast<long long>(sheet.pass.beds.size()),
                           {along_text(sheet.pass.length, tell.around.units, words)});
  line.detail = words(tell.metric() ? "plan.spray_rate_metric"_w : "plan.spray_rate_us"_w, {tell.rate_number(rate)});
  line.formula = words("plan.formula_spray"_w);
  line.numbers = words("plan.numbers_rate"_w, {tell.rate(rate), tell.area(loads.area),
                                               words("spray.unit_spray"_w, {tell.volume(loads.on_beds.spray())})});
  if (sheet.pass.calibration) {
    const Date day = sheet.pass.calibration->date.value_or(tell.around.today);
    line.note = words("plan.note_calibration"_w, {show_day(day, tell.around.today, words)});
  }
  line.changes = {{"beds", words("plan.change_beds"_w)}, {"rates", words("plan.change_rates"_w)}};
  return line;
}

Line tea_line(const PlanTeller& tell) {
  const Words& words = tell.words;
  const LoadPlan& loads = tell.sheet.plan->loads;
  const VolumePerArea rate = tell.sheet.input->spray.tea_rate;
  Line line{.id = "tea", .number = tell.number(loads.on_beds.tea), .unit = tell.of_tea()};
  line.words = parts_words(loads.tea_fraction, words);
  line.detail = words(tell.metric() ? "plan.tea_rate_metric"_w : "plan.tea_rate_us"_w, {tell.rate_number(rate)});
  line.formula = words("plan.formula_tea"_w);
  line.numbers = words("plan.numbers_rate"_w, {tell.rate(rate), tell.area(loads.area), tell.tea(loads.on_beds.tea)});
  line.changes = {{"rates", words("plan.change_rates"_w)}};
  return line;
}

Line left_line(const PlanTeller& tell) {
  const Words& words = tell.words;
  const LoadPlan& loads = tell.sheet.plan->loads;
  Line line{.id = "left", .number = tell.number(loads.left.tea), .unit = tell.of_tea()};
  line.words = words("plan.left_in"_w, {tell.sheet.pass.rig->name});
  line.formula = words("plan.formula_left"_w);
  line.numbers =
      words("plan.numbers_left"_w,
            {tell.volume(tell.sheet.input->spray.dead),
             show(Share::from_percent(loads.tea_fraction * 100), tell.around.units, words), tell.tea(loads.left.tea)});
  line.changes = {{"rig", words("plan.change_rig"_w)}};
  return line;
}

Line reserve_line(const PlanTeller& tell) {
  const Words& words = tell.words;
  const Plan& plan = *tell.sheet.plan;
  const std::string share = show(tell.sheet.input->reserve, tell.around.units, words);
  Line line{.id = "reserve", .number = tell.number(plan.reserve), .unit = tell.of_tea()};
  line.words = words("plan.reserve_of"_w, {share});
  line.formula = words("plan.formula_reserve"_w);
  line.numbers = words("plan.numbers_rate"_w, {share, tell.tea(plan.loads.total.tea), tell.tea(plan.reserve)});
  if (!tell.sheet.chosen.reserve) line.note = tell.figure("reserve");
  line.changes = {{"reserve", words("plan.change_reserve"_w)}, {"limits", words("limits.from_plan"_w)}};
  return line;
}

Line spare_line(const PlanTeller& tell) {
  const Words& words = tell.words;
  const Plan& plan = *tell.sheet.plan;
  Line line{.id = "spare", .number = tell.number(plan.spare), .unit = tell.of_tea()};
  line.words = words("plan.spare"_w, {tell.volume(plan.brewed)});
  line.formula = words("plan.formula_spare"_w);
  line.numbers = words("plan.numbers_spare"_w, {tell.tea(plan.brewed), tell.tea(plan.tea), tell.tea(plan.spare)});
  line.changes = {{"volume", words("plan.change_volume"_w)}};
  return line;
}

Line brew_line(const PlanTeller& tell) {
  const Words& words = tell.words;
  const Plan& plan = *tell.sheet.plan;
  Line line{.id = "volume", .number = tell.number(plan.brewed), .unit = tell.of_tea(), .total = true};
  line.words = words("plan.brew"_w);
  line.formula = words("plan.formula_brew"_w);
  line.numbers = words("plan.numbers_brew"_w, {tell.tea(plan.loads.on_beds.tea), tell.tea(plan.loads.left.tea),
                                               tell.tea(plan.reserve), tell.tea(plan.spare), tell.tea(plan.brewed)});
  line.changes = {{"volume", words("plan.change_volume"_w)}};
  return line;
}

/// From the beds to the volume to brew, each line what adds to it.
void say_tea(PlanPageView& view, const PlanTeller& tell) {
  const bool metric = tell.metric(), swath = tell.sheet.chosen.rate_area == RateArea::Swath;
  view.rates_of = tell.words(swath    ? metric ? "plan.rates_swath_ha"_w : "plan.rates_swath_acre"_w
                             : metric ? "plan.rates_top_ha"_w
                                      : "plan.rates_top_acre"_w);
  view.tea = {beds_line(tell), tea_line(tell), left_line(tell), reserve_line(tell)};
  if (tell.sheet.plan->spare.si() > 0) view.tea.push_back(spare_line(tell));
  view.tea.push_back(brew_line(tell));
}

Line load_line(const PlanTeller& tell, std::size_t place) {
  const Words& words = tell.words;
  const PlanSheet& sheet = tell.sheet;
  const LoadPlan::Load& load = sheet.plan->loads.loads[place];
  const std::string number = std::to_string(place + 1);
  const std::string& last_bed = sheet.pass.beds[load.last_bed].name;
  const std::string end = load.ends_within_bed
                              ? words("plan.load_to"_w, {along_text(load.ends_at, tell.around.units, words), last_bed})
                              : words("plan.load_through"_w, {last_bed});
  Line line{.id = "load" + number, .number = tell.number(load.to_add.spray()), .unit = tell.of_spray()};
  line.words = words("plan.load"_w, {number});
  line.detail = words("plan.load_detail"_w, {tell.number(load.to_add.tea), tell.number(load.to_add.water), end});
  line.formula = words("plan.formula_load"_w);
  line.numbers =
      words("plan.numbers_load"_w, {tell.volume(sheet.input->spray.tank), tell.volume(sheet.input->spray.dead),
                                    tell.volume(load.can_spray), tell.area(load.area)});
  line.note = tell.figure("load-time");
  line.changes = {{"rig", words("plan.change_rig"_w)}};
  return line;
}

void say_loads(PlanPageView& view, const PlanTeller& tell) {
  const std::size_t loads = tell.sheet.plan->loads.loads.size();
  view.loads_head = tell.words.count("plan.loads"_w, static_cast<long long>(loads), {tell.sheet.pass.rig->name});
  for (std::size_t i = 0; i < loads; ++i) view.loads.push_back(load_line(tell, i));
}

std::string amount_text(const RecipeStock& stock, AmountRange amount, const Surroundings& around) {
  return show_home_range(amount.low, amount.high, *stock.unit, around.units, around.words);
}

void say_recipe(PlanPageView& view, const PlanTeller& tell, const PlanPageInput& input) {
  const Words& words = tell.words;
  const PlanSheet& sheet = tell.sheet;
  view.recipe = sheet.recipe ? sheet.recipe->name : words("plan.no_recipe"_w);
  if (sheet.recipe && sheet.recipe->reference)
    view.recipe_note =
        words("plan.per"_w,
              {show_in(tank_unit(tell.around.units), sheet.recipe->reference->si(), tell.around.units, words).text()});
  view.recipe_change = words("plan.change_recipe"_w);
  for (std::size_t i = 0; i < sheet.stock.size(); ++i) {
    const RecipeStock& stock = sheet.stock[i];
    const PlannedLine& line = sheet.plan->lines[i];
    const auto& chosen = sheet.input->recipe[i].chosen;
    PlanPageView::Ingredient one;
    one.id = stock.material.id.text();
    one.name = stock.material.name;
    one.chosen = chosen.has_value();
    one.written = form_amount(input.form, "line:" + one.id);
    if (!one.written && line.is_known) {
      const double amount = chosen.value_or(line.amount.low);
      one.written = home_amount(amount, *stock.unit, home_unit(amount, *stock.unit, tell.around.units));
    }
    one.unit_word = one.written ? one.written->unit->word : stock.unit->word;
    const Shown shown = one.written ? show_parts(*one.written, tell.around.units, words)
                                    : Shown{"—", unit_label(*stock.unit, 2, words), {}, false};
    one.value = shown.number;
    one.unit = shown.unit;
    one.spoken = one.name + " " + shown.speech();
    std::vector<std::string> parts;
    if (line.is_known && (one.chosen || line.amount.low != line.amount.high))
      parts.push_back(words("plan.recipe_says"_w, {amount_text(stock, line.amount, tell.around)}));
    const Lot* lot = stock.lot_for(chosen.value_or(line.amount.low));
    if (lot && !lot->code.empty()) parts.push_back(words("plan.lot"_w, {lot->code}));
    if (line.short_by.value_or(0) > 0)
      parts.push_back(words("plan.short_by"_w,
                            {show_home_range(*line.short_by, *line.short_by, *stock.unit, tell.around.units, words)}));
    else if (!line.short_by)
      parts.push_back(words("plan.stock_unknown"_w));
    one.second = join(parts, " · ");
    one.due = line.short_by.value_or(1) > 0 || line.above_recipe;
    view.ingredients.push_back(std::move(one));
  }
  if (!sheet.status) return;
  const Farm& farm = sheet.pass.places.farm;
  view.rule_head = words("plan.record_shows"_w);
  view.rules.push_back(words(sheet.status->nosb_reason));
  view.rules.push_back(words(sheet.status->psr_reason));
  view.rules.push_back(farm.tea_wait_days ? words.count("plan.farm_rule"_w, *farm.tea_wait_days, {farm.tea_wait_by})
                                          : words("plan.farm_rule_undecided"_w));
}

void say_things(PlanPageView& view, const PlanTeller& tell) {
  const Words& words = tell.words;
  const PlanSheet& sheet = tell.sheet;
  const auto row = [&](const char* id, std::string first, std::string second, std::string value, bool due) {
    // What is asked is spoken as it stands.
    std::string spoken =
        due && value.empty() ? first : words("start.change_rates"_w, {first + (value.empty() ? "" : ", " + value)});
    view.things.push_back({id, std::move(first), std::move(second), std::move(value), std::move(spoken), due});
  };
  for (std::size_t i = 0; i < sheet.plan->vessels.size(); ++i) {
    const PlannedVessel& vessel = sheet.plan->vessels[i];
    const PlanVessel& with = *std::find_if(sheet.input->vessels.begin(), sheet.input->vessels.end(),
                                           [&](const PlanVessel& v) { return v.key == vessel.key; });
    const std::string needed = tell.air(*vessel.air_needed);
    row("vessels", sheet.vessel(vessel.key)->name,
        with.air ? words("plan.air_gives"_w, {needed, tell.air(*with.air)}) : words("plan.air_unknown"_w, {needed}),
        tell.tea(vessel.fill), !vessel.enough_air.value_or(false));
  }
  const PlanInput& input = *sheet.input;
  const std::string water = !sheet.water ? words("plan.no_water"_w) : sheet.water->name;
  const std::string treat = !input.is_chlorinated ? words("plan.water_as_is"_w)
                            : input.disinfectant == Disinfectant::Chloramine
                                ? words("plan.water_chloramine"_w)
                                : words("plan.water_stands"_w, {show_duration(input.standing.stand, words)});
  row("water", water, treat, {}, !sheet.water);
  if (input.temperatures.empty())
    row("temperature", words("plan.no_temperature"_w), words("plan.no_temperature_why"_w), {}, true);
  else
    row("temperature", words("plan.temperature"_w),
        sheet.temperature_code.empty() ? words("plan.temperature_typed"_w)
                                       : words("plan.temperature_as"_w, {sheet.temperature_code}),
        show_in(unit(tell.around.units.system == System::Metric ? "degC" : "degF"),
                input.temperatures.front().temperature.si(), tell.around.units, words, 0)
            .text(),
        false);
}

std::string missing_word(PlanMissing missing, const Words& words) {
  switch (missing) {
    case PlanMissing::Beds: return words("start.missing_beds"_w);
    case PlanMissing::Rig: return words("start.missing_rig"_w);
    case PlanMissing::Rates: return words("start.missing_rates"_w);
    case PlanMissing::Vessel: return words("plan.missing_vessel"_w);
  }
  return {};
}

/// What is still missing stands as a row that leads to it.
void say_missing(PlanPageView& view, const PlanSheet& sheet, const Words& words) {
  std::vector<std::string> fields;
  for (const PlanMissing missing : sheet.missing) {
    fields.push_back(missing_word(missing, words));
    const auto ask = [&](const char* id, WordId question, WordId why) {
      view.things.push_back({id, words(question), words(why), {}, words(question), true});
    };
    switch (missing) {
      case PlanMissing::Beds: ask("beds", "start.ask_beds"_w, "start.ask_beds_why"_w); break;
      case PlanMissing::Rig: ask("rig", "start.ask_rig"_w, "start.ask_rig_why"_w); break;
      case PlanMissing::Rates: ask("rates", "start.ask_rates"_w, "start.ask_rates_why"_w); break;
      case PlanMissing::Vessel: ask("vessels", "brew.ask_vessel"_w, "brew.ask_vessel_why"_w); break;
    }
  }
  if (!fields.empty())
    view.missing = words.count("start.missing"_w, static_cast<long long>(fields.size()), {join(fields, ", ")});
}

}  // namespace

Result<PlanPageView> plan_page_view(const Surroundings& around, const PlanPageInput& input) {
  const Words& words = around.words;
  PlanPageView view;
  view.units = around.units;
  view.zone = around.zone;
  view.title = words(around.record.is_nil() ? "plan.title"_w : "plan.title_for_pass"_w);
  if (around.farm.is_nil()) {
    view.second = words("today.no_farm"_w);
    view.missing = words("today.no_farm"_w);
    return view;
  }
  TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
  PlanChoices choices = plan_choices(input.form, around);
  if (form_has(input.form, "air-now")) choices.air_on = around.now;
  TRY_ASSIGN(const PlanSheet& sheet, plan_sheet(around.book, *states, choices, around.now));
  view.choices = sheet.chosen;
  // The temperature proposed is that of the last brew: said so, not stored as chosen.
  view.second = around.when(*sheet.chosen.spray_from) + (sheet.pass.place.empty() ? "" : " · " + sheet.pass.place);
  say_missing(view, sheet, words);
  if (sheet.problem) view.missing = around.sentence(*sheet.problem);
  if (sheet.plan) {
    const PlanTeller tell(around, sheet);
    say_tea(view, tell);
    say_loads(view, tell);
    say_recipe(view, tell, input);
    say_things(view, tell);
    say_plan_times(view, tell, input);
    for (const Caution& doubt : sheet.doubts) view.doubts.push_back(around.sentence(doubt));
    view.doubts_head = words.count("plan.doubts"_w, static_cast<long long>(view.doubts.size()));
    view.estimate = words("window.senses-decide"_w);
    view.write = words("plan.write"_w, {tell.tea(sheet.plan->brewed)});
  } else {
    view.write = words("plan.write_it"_w);
  }
  view.can_write = sheet.can_write();
  if (input.problem) view.problem = around.sentence(*input.problem);
  view.done = words("start.done"_w);
  say_plan_sheet(view, sheet, input, around);
  return view;
}

}  // namespace steep
