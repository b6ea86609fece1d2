#include "screens/start_brew.h"

#include <algorithm>

#include "base/text.h"
#include "book/plan_commands.h"
#include "book/recipe_scaled.h"
#include "quantity/home_amount.h"
#include "screens/amounts.h"
#include "screens/form_text.h"

namespace steep {
namespace {

using Line = StartBrewView::Line;

/// A chosen one, else the only one there is.
template <class T>
const T* chosen_of(const std::vector<T>& all, const Id& id) {
  for (const T& one : all) {
    if (one.id == id) return &one;
  }
  return id.is_nil() && all.size() == 1 ? &all.front() : nullptr;
}

struct Things {
  std::vector<BrewRecipe> recipes;
  std::vector<Vessel> vessels;
  std::vector<WaterSource> waters;
  std::vector<Lot> lots;
  std::vector<PlannedWork> plans;
  std::optional<PlannedWork> plan;  ///< That is begun here.
};
constexpr const char* kNoPlan = "none";
Result<Things> read_things(const Surroundings& around, const StartBrewInput& input) {
  const Book& book = around.book;
  Things things;
  TRY_ASSIGN(things.plans, open_brew_plans(book));
  const std::string said = form_text(input.form, "plan");
  const Id wanted = said.empty() ? around.record : Id::parse(said).value_or(Id{});
  for (const PlannedWork& plan : things.plans)
    if (plan.id == wanted) things.plan = plan;
  if (said.empty() && !things.plan) things.plan = due_brew_plan(things.plans, around.now);
  TRY_ASSIGN(things.recipes, recipes(book));
  TRY_ASSIGN(things.vessels, vessels(book));
  TRY_ASSIGN(things.waters, water_sources(book));
  TRY_ASSIGN(things.lots, lots(book));
  return things;
}

/// '5.0 gal tea, Sat 10:33 am'
std::string plan_text(const PlannedWork& plan, const Surroundings& around) {
  std::vector<std::string> parts;
  if (plan.volume)
    parts.push_back(around.words("brew.unit_tea"_w, {tank_text(*plan.volume, around.units, around.words)}));
  if (plan.at) parts.push_back(around.when(plan.at->at));
  return join(parts, ", ");
}

std::string vessel_size(const Vessel& vessel, const Surroundings& around) {
  const Taken<Volume>& size = vessel.working ? vessel.working : vessel.nominal;
  return size ? tank_text(*size, around.units, around.words) : std::string();
}

void say_lines(StartBrewView& view, const Things& things, const StartBrewInput& input, const Surroundings& around) {
  const Words& words = around.words;
  const auto line = [&](const char* id, const std::string& name, std::string second, WordId ask, WordId why,
                        bool needed) {
    if (!name.empty()) {
      view.lines.push_back({id, name, std::move(second), words("start.change_rates"_w, {name}), false});
    } else {
      view.lines.push_back({id, words(ask), words(why), words(ask), needed});
    }
  };
  // What the person said, else the plan, else the only one there is.
  const auto id_of = [&](const char* key, const Id& planned) {
    const Id id = form_id(input.form, key);
    return id.is_nil() ? planned : id;
  };
  const PlannedWork plan = things.plan.value_or(PlannedWork{});
  const BrewRecipe* recipe = chosen_of(things.recipes, id_of("recipe", plan.recipe));
  const Vessel* vessel = chosen_of(things.vessels, id_of("vessel", plan.vessel));
  const WaterSource* water = chosen_of(things.waters, id_of("water", plan.water));
  view.given.plan = plan.id;
  if (things.plan) {
    const std::string text = plan_text(plan, around);
    view.lines.push_back({"plan", words("brew.from_plan"_w), text,
                          words("start.change_rates"_w, {words("brew.from_plan"_w) + ", " + text}), false});
  } else if (!things.plans.empty()) {
    view.lines.push_back(
        {"plan", words("brew.without_plan"_w), words("brew.without_plan_why"_w), words("brew.without_plan"_w), false});
  }
  line("recipe", recipe ? recipe->name : std::string(), words("brew.recipe"_w), "brew.ask_recipe"_w,
       "brew.ask_recipe_why"_w, false);
  line("vessel", vessel ? vessel->name : std::string(), vessel ? vessel_size(*vessel, around) : std::string(),
       "brew.ask_vessel"_w, "brew.ask_vessel_why"_w, true);
  line("water", water ? water->name : std::string(), words("start.water"_w), "brew.ask_water"_w, "brew.ask_water_why"_w,
       false);
  if (recipe) view.given.recipe = recipe->id;
  if (vessel) view.given.vessel = vessel->id;
  if (water) view.given.water_source = water->id;

  const Unit& unit = tank_unit(around.units);
  view.fill = form_amount(input.form, "fill");
  if (!view.fill && !plan.id.is_nil() && vessel && vessel->id == plan.vessel) view.fill = plan.volume_typed.maybe();
  if (!view.fill && vessel && (vessel->working || vessel->nominal)) {
    view.fill = write_quantity(vessel->working ? *vessel->working : *vessel->nominal, unit, 2);
  }
  if (!view.fill && recipe && recipe->reference) view.fill = write_quantity(*recipe->reference, unit, 2);
  const bool to_the_brim = view.fill && vessel && !vessel->working && vessel->nominal &&
                           as<Volume>(*view.fill).si() >= vessel->nominal->si() * (1 - 1e-9);
  if (to_the_brim) view.fill_note = words("brew.to_the_brim"_w, {vessel->name});
}

void say_fill(StartBrewView& view, const Surroundings& around) {
  const Words& words = around.words;
  view.fill_question = words("brew.fill_question"_w);
  view.fill_label = words("brew.fill"_w);
  if (view.fill) {
    const Shown shown = show_parts(*view.fill, around.units, words);
    view.fill_value = shown.number;
    view.fill_unit = shown.unit;
    view.fill_spoken = view.fill_label + " " + shown.speech();
  } else {
    view.fill_value = "—";
    view.fill_unit = unit_label(tank_unit(around.units), 2, words);
    view.fill_spoken = words("start.not_answered"_w, {view.fill_label});
  }
  view.given.fill = view.fill;
}

/// What recipe and plan propose for one lot.
struct Proposal {
  Id lot, material;
  std::optional<Written> amount;
  std::string detail;
};

std::string range_text(const RecipeStock& line, AmountRange amount, const Surroundings& around) {
  return show_home_range(amount.low, amount.high, *line.unit, around.units, around.words);
}

/// The recipe scaled to the fill, each line from a lot that has enough; a range stays one, its low end is proposed.
Result<std::vector<Proposal>> propose(StartBrewView& view, const Things& things, const Surroundings& around) {
  std::vector<Proposal> proposals;
  if (view.given.recipe.is_nil() || !view.fill) return proposals;
  const Words& words = around.words;
  TRY_ASSIGN(const BrewRecipe& recipe, read_recipe(around.book, view.given.recipe));
  TRY_ASSIGN(const std::vector<RecipeStock>& stock, recipe_stock(around.book, view.given.recipe, around.today));
  for (const RecipeStock& line : stock) {
    const auto scaled = scaled_line(recipe, line, as<Volume>(*view.fill));
    std::optional<Written> amount;
    if (scaled) amount = home_amount(scaled->low, *line.unit, home_unit(scaled->low, *line.unit, around.units));
    Id lot;
    for (const PlannedAmount& planned : things.plan ? things.plan->lines : std::vector<PlannedAmount>{}) {
      const bool its_lot =
          std::any_of(line.lots.begin(), line.lots.end(), [&](const Lot& l) { return l.id == planned.of; });
      if (planned.of != line.material.id && !its_lot) continue;
      amount = planned.amount;
      if (its_lot) lot = planned.of;
    }
    if (lot.is_nil()) {
      const Lot* found = line.lot_for(scaled ? scaled->low : 0);
      if (found) lot = found->id;
    }
    const std::string detail =
        scaled ? words("plan.recipe_says"_w, {range_text(line, *scaled, around)}) : words("brew.not_scaled"_w);
    if (lot.is_nil())
      view.without_lot.push_back(
          words("brew.without_lot"_w, {line.material.name, scaled ? range_text(line, *scaled, around) : "?"}));
    else
      proposals.push_back({lot, line.material.id, amount, detail});
  }
  return proposals;
}

void add_lot(StartBrewView& view, const Lot& lot, const Proposal* proposal, const StartBrewInput& input,
             const Surroundings& around) {
  const Words& words = around.words;
  StartBrewView::Lot shown;
  shown.id = lot.id.text();
  shown.name = lot.material_name.empty() ? lot.name() : lot.material_name;
  shown.unit =
      lot.quantity ? lot.quantity->unit->word : std::string(around.units.system == System::Metric ? "kg" : "lb");
  const bool typed = form_has(input.form, "lot:" + shown.id);
  shown.proposed = proposal && !typed;
  shown.on = typed || (proposal && !form_has(input.form, "off:" + shown.id));
  shown.written = typed ? form_amount(input.form, "lot:" + shown.id) : proposal ? proposal->amount : std::nullopt;
  if (shown.written) shown.unit = shown.written->unit->word;
  std::vector<std::string> details;
  if (!lot.material_name.empty() && !lot.code.empty()) details.push_back(words("plan.lot"_w, {lot.code}));
  if (proposal) details.push_back(proposal->detail);
  shown.detail = join(details, " · ");
  const Shown parts = shown.written ? show_parts(*shown.written, around.units, words)
                                    : Shown{"—", unit_label(unit(shown.unit), 2, words), {}, false};
  shown.value = parts.number;
  shown.shown_unit = parts.unit;
  shown.spoken = shown.name + " " + (shown.written ? parts.speech() : words("brew.not_taken"_w));
  if (shown.on) view.given.lines.push_back({lot.id, shown.written});
  view.lots.push_back(std::move(shown));
}

Result<void> say_lots(StartBrewView& view, const Things& things, const StartBrewInput& input,
                      const Surroundings& around) {
  view.in_head = around.words("brew.what_went_in"_w);
  view.in_why = around.words("brew.what_went_in_why"_w);
  TRY_ASSIGN(std::vector<Proposal> proposals, propose(view, things, around));
  const auto lot_of = [&](const Id& id) {
    return std::find_if(things.lots.begin(), things.lots.end(), [&](const Lot& lot) { return lot.id == id; });
  };
  // Another lot of the same material was taken instead.
  std::erase_if(proposals, [&](const Proposal& one) {
    return std::any_of(things.lots.begin(), things.lots.end(), [&](const Lot& lot) {
      return lot.material == one.material && lot.id != one.lot && form_has(input.form, "lot:" + lot.id.text());
    });
  });
  for (const Proposal& one : proposals)
    if (const auto lot = lot_of(one.lot); lot != things.lots.end()) add_lot(view, *lot, &one, input, around);
  for (const Lot& lot : things.lots) {
    const bool shown =
        std::any_of(proposals.begin(), proposals.end(), [&](const Proposal& one) { return one.lot == lot.id; });
    if (!shown) add_lot(view, lot, nullptr, input, around);
  }
  return {};
}

void say_list(StartBrewView& view, const Things& things, const StartBrewInput& input, const Surroundings& around) {
  const Words& words = around.words;
  if (input.sheet == "plan") {
    view.list_title = words("brew.from_plan"_w);
    for (const PlannedWork& plan : things.plans) {
      std::string recipe;
      for (const BrewRecipe& r : things.recipes)
        if (r.id == plan.recipe) recipe = r.name;
      view.options.push_back({plan.id.text(), plan_text(plan, around), recipe, plan.id == view.given.plan});
    }
    view.options.push_back({kNoPlan, words("brew.without_plan"_w), {}, view.given.plan.is_nil()});
  } else if (input.sheet == "recipe") {
    view.list_title = words("brew.recipe"_w);
    for (const BrewRecipe& r : things.recipes)
      view.options.push_back({r.id.text(), r.name,
                              r.reference ? tank_text(*r.reference, around.units, words) : std::string(),
                              r.id == view.given.recipe});
    if (view.options.empty()) view.list_add = words("brew.no_recipes"_w);
  } else if (input.sheet == "vessel") {
    view.list_title = words("brew.vessel"_w);
    for (const Vessel& v : things.vessels)
      view.options.push_back({v.id.text(), v.name, vessel_size(v, around), v.id == view.given.vessel});
    view.list_add = words("brew.new_vessel"_w);
  } else if (input.sheet == "water") {
    view.list_title = words("start.water"_w);
    for (const WaterSource& w : things.waters)
      view.options.push_back(
          {w.id.text(), w.name, words.stored("brew.water." + w.kind, w.kind), w.id == view.given.water_source});
    for (const char* kind : {"well", "rain", "mains", "surface"}) {
      view.options.push_back({std::string("new:") + kind,
                              words("brew.new_water"_w, {words.stored(std::string("brew.water.") + kind, kind)}),
                              {},
                              false});
    }
  } else if (input.sheet == "new-vessel") {
    view.list_title = words("brew.new_vessel"_w);
    view.vessel_name = words("start.rig_name"_w);
    view.vessel_holds = words("brew.vessel_holds"_w, {unit_label(tank_unit(around.units), 2, words)});
    view.vessel_working = words("brew.vessel_working"_w, {unit_label(tank_unit(around.units), 2, words)});
    view.vessel_save = words("brew.vessel_save"_w);
  }
}

}  // namespace

DraftFields draft_fields(const StartBrewInput& input) {
  DraftFields typed;
  for (const auto& [key, value] : input.form) {
    if (!value.empty()) typed.emplace(key, value);
  }
  return typed;
}
void from_draft(StartBrewInput& input, const DraftFields& fields) { input.form = fields; }

Result<StartBrewView> start_brew_view(const Surroundings& around, const StartBrewInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(const Things& things, read_things(around, input));
  StartBrewView view;
  view.units = around.units;
  view.title = words("today.start_brew"_w);
  view.second = around.when(around.now);
  say_lines(view, things, input, around);
  say_fill(view, around);
  TRY(say_lots(view, things, input, around));
  view.water_check = words("brew.in_water"_w);
  view.air_check = words("brew.air_is_on"_w);
  view.in_water = !form_has(input.form, "no-water");
  view.air_on = !form_has(input.form, "no-air");
  view.links = work_links(words, {"recipe", "water", "standing", "air"});
  view.start = words("brew.start_it"_w);
  if (view.given.vessel.is_nil()) view.missing = words("brew.missing_vessel"_w);
  view.can_start = view.missing.empty();
  view.sheet = input.sheet;
  say_list(view, things, input, around);
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

}  // namespace steep
