#include <algorithm>

#include "quantity/time_shown.h"
#include "screens/amounts.h"
#include "screens/plan.h"

namespace steep {
namespace {

using Amount = PlanPageView::Amount;

void add_amount(PlanPageView& view, std::string key, std::string label, const std::optional<Written>& written,
                const Unit& unit, const Surroundings& around) {
  Amount amount;
  amount.key = std::move(key);
  amount.label = std::move(label);
  amount.written = written;
  amount.unit_word = written ? written->unit->word : unit.word;
  CellShown cell = cell_shown(amount.label, written, unit, around.units, around.words);
  amount.value = std::move(cell.value);
  amount.unit = std::move(cell.unit);
  amount.spoken = std::move(cell.spoken);
  view.amounts.push_back(std::move(amount));
}

/// What the number pad and the steppers may change, whichever sheet is open.
void say_amounts(PlanPageView& view, const PlanSheet& sheet, const Surroundings& around) {
  const Words& words = around.words;
  const bool metric = around.units.system == System::Metric;
  const Unit& rate = unit(metric ? "L/ha" : "gal/acre");
  add_amount(view, "spray-rate", words("start.spray_rate"_w), sheet.chosen.spray_rate, rate, around);
  add_amount(view, "tea-rate", words("start.tea_rate"_w), sheet.chosen.tea_rate, rate, around);
  const PlanFigure* reserve = sheet.figure("reserve");
  add_amount(view, "reserve", words("plan.reserve_name"_w),
             sheet.chosen.reserve ? sheet.chosen.reserve
             : reserve            ? std::optional(reserve->value)
                                  : std::nullopt,
             unit("%"), around);
  std::optional<Written> volume = sheet.chosen.volume;
  if (!volume && sheet.plan) volume = write_quantity(sheet.plan->brewed, tank_unit(around.units), 2);
  add_amount(view, "volume", words("plan.volume"_w), volume, tank_unit(around.units), around);
  std::optional<Written> expected;
  const Unit& degrees = unit(metric ? "degC" : "degF");
  if (!sheet.chosen.temperatures.empty()) {
    const Temperature at = sheet.chosen.temperatures.front().temperature;
    expected = write_quantity(metric ? at.celsius() : at.fahrenheit(), degrees, 0);
  }
  add_amount(view, "temperature", words("plan.temperature"_w), expected, degrees, around);
}

void bed_list(PlanPageView& view, const PlanSheet& sheet, const Surroundings& around) {
  view.sheet_title = around.words("start.beds_title"_w);
  const auto chosen = [&](const Id& id) {
    return std::any_of(sheet.pass.beds.begin(), sheet.pass.beds.end(), [&](const Bed& bed) { return bed.id == id; });
  };
  const Places& places = sheet.pass.places;
  for (const Block& block : places.blocks) {
    bool all = true, any = false;
    for (const Bed& bed : places.beds) {
      if (bed.block != block.id) continue;
      any = true;
      all = all && chosen(bed.id);
    }
    if (any) view.areas.push_back({block.id.text(), around.words("start.all_of"_w, {block.name}), {}, all});
  }
  for (const Bed& bed : places.beds)
    view.options.push_back({bed.id.text(), bed.name, places.crop_names(bed.id), chosen(bed.id)});
}

/// Beds of each block, for the buttons that choose all of it.
std::string beds_of_block(const PlanSheet& sheet, const std::string& block) {
  std::string ids;
  for (const Bed& bed : sheet.pass.places.beds)
    if (bed.block.text() == block) ids += (ids.empty() ? "" : " ") + bed.id.text();
  return ids;
}

Result<void> rig_list(PlanPageView& view, const PlanSheet& sheet, const Surroundings& around) {
  view.sheet_title = around.words("start.rig_title"_w);
  TRY_ASSIGN(const std::vector<Rig>& all, rigs(around.book));
  for (const Rig& rig : all)
    view.options.push_back(
        {rig.id.text(), rig.name,
         rig.tank_typed ? show(*rig.tank_typed, around.units, around.words) : around.words("start.tank_not_known"_w),
         rig.id == sheet.chosen.rig});
  if (all.empty()) view.sheet_note = around.words("start.ask_rig_why"_w);
  return {};
}

void house_list(PlanPageView& view, const PlanSheet& sheet, const std::string& open, const Surroundings& around) {
  const Words& words = around.words;
  if (open == "recipe") {
    view.sheet_title = words("brew.recipe"_w);
    for (const BrewRecipe& r : sheet.recipes)
      view.options.push_back({r.id.text(), r.name,
                              r.reference ? tank_text(*r.reference, around.units, words) : std::string(),
                              r.id == sheet.chosen.recipe});
    if (view.options.empty()) view.sheet_note = words("brew.no_recipes"_w);
  } else if (open == "water") {
    view.sheet_title = words("start.water"_w);
    for (const WaterSource& w : sheet.waters)
      view.options.push_back(
          {w.id.text(), w.name, words.stored("brew.water." + w.kind, w.kind), w.id == sheet.chosen.water_source});
    if (view.options.empty()) view.sheet_note = words("plan.no_waters"_w);
  } else if (open == "vessels") {
    view.sheet_title = words("plan.vessels"_w);
    view.sheet_note = sheet.vessels.empty() ? words("plan.no_vessels"_w) : words("plan.vessels_note"_w);
    const auto& chosen = sheet.chosen.vessels;
    for (const Vessel& v : sheet.vessels)
      view.options.push_back({v.id.text(), v.name,
                              v.working   ? words("plan.working"_w, {tank_text(*v.working, around.units, words)})
                              : v.nominal ? words("plan.to_the_brim"_w, {tank_text(*v.nominal, around.units, words)})
                                          : words("start.tank_not_known"_w),
                              std::find(chosen.begin(), chosen.end(), v.id) != chosen.end()});
  }
}

void time_sheet(PlanPageView& view, const PlanSheet& sheet, bool air_on, const Surroundings& around) {
  const Words& words = around.words;
  view.sheet_title = words(air_on ? "brew.air_on"_w : "plan.first_bed"_w);
  view.time = air_on
                  ? (sheet.plan && sheet.plan->air_on ? *sheet.plan->air_on : sheet.chosen.air_on.value_or(around.now))
                  : *sheet.chosen.spray_from;
  view.day_label = words("plan.day"_w);
  view.clock_label = words("plan.clock"_w);
  view.day = show_day(around.zone.local(view.time).date, around.today, words);
  view.clock = around.clock(view.time);
}

}  // namespace

void say_plan_sheet(PlanPageView& view, const PlanSheet& sheet, const PlanPageInput& input,
                    const Surroundings& around) {
  view.sheet = input.sheet;
  say_amounts(view, sheet, around);
  if (input.sheet == "beds") {
    bed_list(view, sheet, around);
    for (PlanPageView::Option& area : view.areas) area.key = beds_of_block(sheet, area.key);
  } else if (input.sheet == "rates") {
    view.sheet_title = around.words("start.rates_title"_w);
    const RateArea of = sheet.chosen.rate_area.value_or(RateArea::BedTop);
    view.areas = {{"bed-top", around.words("start.bed_top"_w), {}, of == RateArea::BedTop},
                  {"swath", around.words("start.swath"_w), {}, of == RateArea::Swath}};
  } else if (input.sheet == "rig") {
    if (const auto listed = rig_list(view, sheet, around); !listed) view.sheet_note = around.sentence(listed.error());
  } else if (input.sheet == "time" || input.sheet == "air-on") {
    time_sheet(view, sheet, input.sheet == "air-on", around);
  } else {
    house_list(view, sheet, input.sheet, around);
  }
}

}  // namespace steep
