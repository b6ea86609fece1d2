#include "screens/work_known.h"

#include <algorithm>
#include <map>

#include "base/text.h"
#include "book/pass_start.h"
#include "book/things.h"
#include "book/work.h"
#include "screens/work_form.h"

namespace steep {
namespace {

/// Puts what is known into the form, each under the name of its input; names the calculation lacks are left out.
class Filling {
 public:
  Filling(const Surroundings& around, const Calculation& calculation) : around_(around), calculation_(calculation) {}

  bool wants(std::string_view name) const { return find(name) != nullptr; }
  void add(std::string_view name, const std::string& normal) {
    const InputSpec* spec = find(name);
    if (!spec || normal.empty()) return;
    put_input(form, *spec, items_[spec->name]++, normal, around_.units, around_.words);
  }
  template <class Q>
  void add(std::string_view name, const Taken<Q>& quantity, const Unit& in) {
    if (quantity) add(name, write_quantity(*quantity, in).text);
  }
  DraftFields form;

 private:
  const InputSpec* find(std::string_view name) const {
    for (const InputSpec& spec : calculation_.inputs)
      if (spec.name == name) return &spec;
    return nullptr;
  }
  const Surroundings& around_;
  const Calculation& calculation_;
  std::map<std::string_view, std::size_t> items_;
};

std::string local_text(const Surroundings& around, Moment at) {
  std::string text = stamp_text(around.zone.stamp(at)).substr(0, 16);
  text[10] = ' ';
  return text;
}

Result<void> fill_farm(Filling& known, const Surroundings& around) {
  if (!around.zone.name().empty()) known.add("zone", around.zone.name());
  known.add("today", date_text(around.today));
  known.add("date", date_text(around.today));
  known.add("now", local_text(around, around.now));
  if (around.farm.is_nil()) return {};
  if (!known.wants("elevation") && !known.wants("latitude")) return {};
  TRY_ASSIGN(const std::vector<Farm>& all, farms(around.book));
  for (const Farm& farm : all) {
    if (farm.id != around.farm) continue;
    known.add("elevation", farm.elevation, unit(around.units.system == System::Metric ? "m" : "ft"));
    // Four places are some 10 m, and never look like thousands.
    if (farm.latitude) known.add("latitude", fixed(*farm.latitude, 4));
    if (farm.longitude) known.add("longitude", fixed(*farm.longitude, 4));
  }
  return {};
}

Result<void> fill_brew(Filling& known, const Surroundings& around, const Id& brew) {
  TRY_ASSIGN(const BrewSheet& sheet, read_brew_sheet(around.book, brew));
  const Unit& volume = unit(around.units.system == System::Metric ? "L" : "gal");
  known.add("volume", sheet.brew.fill, volume);
  if (sheet.brew.met_water) known.add("met-water", local_text(around, sheet.brew.met_water->at));
  if (known.wants("met-water")) known.add("finish", local_text(around, around.now));
  if (sheet.brew.air_on) known.add("air-on", local_text(around, sheet.brew.air_on->at));
  std::string temperature, oxygen;
  for (const Reading& reading : sheet.readings) {
    if (reading.is_struck() || reading.not_taken || !reading.value) continue;
    if (reading.quantity == "oxygen") oxygen = reading.value->text;
    if (reading.quantity != "temperature") continue;
    temperature = reading.value->text;
    if (reading.at && known.wants("air-on"))
      known.add("temperature", local_text(around, reading.at->at) + "; " + temperature);
  }
  if (!known.wants("air-on")) known.add("temperature", temperature);
  known.add("oxygen", oxygen);
  if (!sheet.brew.recipe.is_nil()) {
    TRY_ASSIGN(const BrewRecipe& recipe, read_recipe(around.book, sheet.brew.recipe));
    known.add("brew-time", recipe.time, unit("h"));
    known.add("brew-temperature", recipe.temperature, unit(around.units.system == System::Metric ? "degC" : "degF"));
  }
  if (sheet.brew.vessel.is_nil() || !known.wants("depth")) return {};
  TRY_ASSIGN(const Vessel& vessel, read_vessel(around.book, sheet.brew.vessel));
  known.add("depth", vessel.depth, unit(around.units.system == System::Metric ? "m" : "ft"));
  known.add("rated-flow", vessel.pump_flow, unit("L/min"));
  known.add("rated-pressure", vessel.pump_pressure, unit(around.units.system == System::Metric ? "kPa" : "psi"));
  return {};
}

void fill_rig(Filling& known, const Surroundings& around, const Rig& rig) {
  const bool metric = around.units.system == System::Metric;
  if (rig.tank_typed) known.add("tank", rig.tank_typed->text);
  known.add("dead-volume", rig.dead, unit(metric ? "L" : "gal"));
  known.add("swath", rig.swath, unit(metric ? "cm" : "in"));
}

/// The beds that are next, as the sheet of a new pass proposes them: equal ones in one row.
Result<void> fill_beds(Filling& known, const Surroundings& around) {
  StartChoices choices;
  choices.farm = around.farm;
  choices.person = around.person;
  TRY_ASSIGN(const StartSheet& sheet, start_sheet(around.book, choices, around.now));
  const bool metric = around.units.system == System::Metric;
  std::vector<std::pair<std::string, int>> sizes;
  for (const Bed& bed : sheet.beds) {
    if (!bed.length || !bed.width) continue;
    const std::string size = write_quantity(*bed.length, unit(metric ? "m" : "ft")).text + "; " +
                             write_quantity(*bed.width, unit(metric ? "cm" : "in")).text;
    const auto same = std::find_if(sizes.begin(), sizes.end(), [&](const auto& one) { return one.first == size; });
    if (same == sizes.end())
      sizes.emplace_back(size, 1);
    else
      ++same->second;
  }
  for (const auto& [size, count] : sizes) known.add("bed", size + "; " + std::to_string(count));
  if (sheet.chosen.tea_rate) known.add("tea-rate", sheet.chosen.tea_rate->text);
  if (sheet.chosen.spray_rate) known.add("spray-rate", sheet.chosen.spray_rate->text);
  if (sheet.rig) fill_rig(known, around, *sheet.rig);
  return {};
}

}  // namespace

Result<DraftFields> known_inputs(const Surroundings& around, const Calculation& calculation) {
  Filling known(around, calculation);
  TRY(fill_farm(known, around));
  if (!around.record.is_nil()) {
    TRY_ASSIGN(const auto& record, around.book.record(around.record));
    if (record && record->kind == "brew") TRY(fill_brew(known, around, around.record));
    if (record && record->kind == "rig") {
      TRY_ASSIGN(const Rig& rig, read_rig(around.book, around.record));
      fill_rig(known, around, rig);
    }
  }
  // A place for beds and for what goes on them: the pass that is next.
  if (known.wants("bed") && known.wants("spray-rate") && !around.farm.is_nil()) TRY(fill_beds(known, around));
  return known.form;
}

}  // namespace steep
