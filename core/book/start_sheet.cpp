// The start of a pass before it is written: what is proposed, what is missing, what speaks against it.
#include <algorithm>

#include "book/bed_states.h"
#include "book/checks.h"
#include "book/codes.h"
#include "book/pass_parts.h"
#include "book/pass_start.h"
#include "book/rows.h"

namespace steep {
namespace {

constexpr std::int64_t kWeatherKeeps =
    2 * kHour;  // The morning's wind is not the evening's. Common practice, no source.

/// The last pass of this farm that was not struck, with its texts as typed.
struct LastPass {
  Pass pass;
  std::optional<Written> tea_rate, spray_rate;
  bool rates_unknown = false, walk_known = false;
  std::optional<Load> load;
};

/// A pass with tea is started like the last one with tea, not like a spray of something else in between.
Result<std::optional<LastPass>> last_pass(const Book& book, const Id& farm, bool with_tea) {
  // '+': by start, where the last ones are found at once; by farm all of its passes would be sorted.
  Rows rows(book, "pass",
            "WHERE +farm = ? AND struck IS NULL AND start IS NOT NULL ORDER BY start DESC, uid DESC LIMIT 50");
  rows.query().bind(1, farm);
  std::optional<LastPass> found;
  Id id;
  while (rows.next()) {
    const Taken<Written> tea = rows.written("rates.tea"), spray = rows.written("rates.spray");
    if (found && !(with_tea && tea.is_there())) continue;
    LastPass pass;
    pass.tea_rate = tea.maybe();
    pass.spray_rate = spray.maybe();
    pass.rates_unknown = tea.is_not_taken() && spray.is_not_taken();
    pass.walk_known = !rows.text("walk.way").empty();
    found = std::move(pass);
    id = rows.id();
    if (!with_tea || tea.is_there() || found->rates_unknown) break;
  }
  if (!found) {
    TRY(rows.done());
    return std::optional<LastPass>{};
  }
  LastPass last = std::move(*found);
  TRY_ASSIGN(last.pass, read_pass(book, id));
  TRY_ASSIGN(const std::vector<Load>& of, loads(book, id));
  if (!of.empty()) last.load = of.back();
  return std::optional<LastPass>(std::move(last));
}

/// The beds due of the block that has most of them; without any due, of the block of the first bed.
Result<std::vector<Id>> propose_beds(const Book& book, const Id& farm, Moment now) {
  TRY_ASSIGN(const BedStates& states, bed_states(book, farm, now));
  std::map<Id, int> due;
  Id best;
  for (const BedState& state : states.beds) {
    if (!state.is_due()) continue;
    if (const int count = ++due[state.bed.block]; best.is_nil() || count > due[best]) best = state.bed.block;
  }
  std::vector<Id> beds;
  for (const BedState& state : states.beds)
    if (best.is_nil() ? state.bed.block == states.beds.front().bed.block : state.bed.block == best && state.is_due())
      beds.push_back(state.bed.id);
  return beds;
}

bool shares_bed(const PlannedWork& plan, const std::vector<Id>& beds) {
  return std::any_of(plan.beds.begin(), plan.beds.end(),
                     [&](const Id& bed) { return std::find(beds.begin(), beds.end(), bed) != beds.end(); });
}

/// The plan asked for, else the one nearest to now within a day that shares a bed with those chosen.
Result<void> choose_plan(const Book& book, StartSheet& sheet, Moment now) {
  StartChoices& chosen = sheet.chosen;
  if (chosen.no_plan) return {};
  TRY_ASSIGN(const std::vector<PlannedWork>& plans, open_plans(book, chosen.farm));
  for (const PlannedWork& plan : plans) {
    if (plan.what != "pass" || (!chosen.plan.is_nil() && plan.id != chosen.plan)) continue;
    if (chosen.plan.is_nil()) {
      if (!plan.at || std::abs(plan.at->at - now) > kDay) continue;
      if (!chosen.beds.empty() && !shares_bed(plan, chosen.beds)) continue;
      if (sheet.planned && std::abs(sheet.planned->at->at - now) <= std::abs(plan.at->at - now)) continue;
    }
    sheet.planned = plan;
  }
  chosen.plan = sheet.planned ? sheet.planned->id : Id{};
  if (!sheet.planned) return {};
  const PlannedWork& plan = *sheet.planned;
  if (chosen.beds.empty()) chosen.beds = plan.beds;
  if (chosen.rig.is_nil()) chosen.rig = plan.rig;
  if (!chosen.aim) chosen.aim = plan.aim;
  if (!chosen.rates_unknown) {
    if (!chosen.tea_rate && !chosen.no_tea) chosen.tea_rate = plan.tea_rate_typed.maybe();
    if (!chosen.spray_rate) chosen.spray_rate = plan.spray_rate_typed.maybe();
    if (!chosen.rate_area && (plan.tea_rate || plan.spray_rate)) chosen.rate_area = plan.rate_area;
  }
  if (!chosen.brew.is_nil() || chosen.no_tea) return {};
  // The tea that was brewed for it.
  TRY_ASSIGN(const std::vector<Brew>& usable, usable_brews(book, now));
  for (const Id& id : plan.brews) {
    const auto brewed = read_plan(book, id);
    const auto found =
        !brewed ? usable.end()
                : std::find_if(usable.begin(), usable.end(), [&](const Brew& b) { return b.id == brewed->became; });
    if (found == usable.end() || found->verdict == "hold") continue;
    chosen.brew = found->id;
    break;
  }
  return {};
}

void sort_beds(StartSheet& sheet) {
  // In walking order, whatever the order of the taps.
  for (const Bed& bed : sheet.places.beds) {
    const auto& wanted = sheet.chosen.beds;
    const bool chosen = std::any_of(wanted.begin(), wanted.end(), [&](const Id& id) {
      const Bed* shown = sheet.places.bed(id);
      return shown && shown->id == bed.id;
    });
    if (chosen) sheet.beds.push_back(bed);
  }
  sheet.chosen.beds.clear();
  std::vector<std::string> blocks;
  for (const Bed& bed : sheet.beds) {
    sheet.chosen.beds.push_back(bed.id);
    sheet.length += bed.length.value_or(Length{});
    blocks.push_back(bed.block_name);
  }
  sheet.place = place_names(blocks);
}

Result<void> choose_rig(const Book& book, const std::optional<LastPass>& last, Moment now, StartSheet& sheet) {
  if (sheet.chosen.rig.is_nil()) {
    if (last && !last->pass.rig.is_nil()) {
      sheet.chosen.rig = last->pass.rig;
    } else {
      TRY_ASSIGN(const std::vector<Rig>& all, rigs(book));
      if (all.size() == 1) sheet.chosen.rig = all.front().id;
    }
  }
  if (sheet.chosen.rig.is_nil()) return {};
  if (auto rig = read_rig(book, sheet.chosen.rig)) sheet.rig = std::move(*rig);
  TRY_ASSIGN(sheet.calibration, calibration_in_force(book, sheet.chosen.rig));
  TRY_ASSIGN(sheet.rest, tank_rest(book, sheet.chosen.rig, now));
  if (!sheet.rest) return {};
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  sheet.rest_code = codes.text(sheet.rest->pass);
  return {};
}

Result<void> choose_brew(const Book& book, StartSheet& sheet, Moment now) {
  StartChoices& chosen = sheet.chosen;
  if (chosen.brew.is_nil() && !chosen.no_tea) {
    TRY_ASSIGN(const std::vector<Brew>& usable, usable_brews(book, now));
    // One that a person found ready first, else the newest that is not on hold.
    for (const Brew& brew : usable)
      if (chosen.brew.is_nil() && brew.verdict == "ready") chosen.brew = brew.id;
    for (const Brew& brew : usable)
      if (chosen.brew.is_nil() && brew.verdict != "hold") chosen.brew = brew.id;
  }
  if (chosen.brew.is_nil()) return {};
  TRY_ASSIGN(sheet.brew, read_brew(book, chosen.brew));
  TRY_ASSIGN(sheet.brew_balance, read_brew_balance(book, chosen.brew));
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  sheet.brew_code = codes.text(chosen.brew);
  return {};
}

void choose_rates(const std::optional<LastPass>& last, StartSheet& sheet) {
  StartChoices& chosen = sheet.chosen;
  if (chosen.rates_unknown) return;
  const bool like_last = last && (!last->pass.rig.is_nil() && last->pass.rig == chosen.rig);
  if (!chosen.tea_rate && last && !chosen.no_tea) chosen.tea_rate = last->tea_rate;
  if (!chosen.spray_rate) {
    // The calibration in force says what this rig puts out today.
    if (sheet.calibration && sheet.calibration->rate) {
      const System system = sheet.places.farm.units;
      chosen.spray_rate =
          write_quantity(*sheet.calibration->rate, unit(system == System::Metric ? "L/ha" : "gal/acre"), 2);
      if (!chosen.rate_area) chosen.rate_area = sheet.calibration->area;
    } else if (like_last) {
      chosen.spray_rate = last->spray_rate;
    }
  }
  if (!chosen.rate_area && last) chosen.rate_area = last->pass.rate_area;
  if (!chosen.rate_area) chosen.rate_area = RateArea::BedTop;
  if (!chosen.tea_rate && !chosen.spray_rate && last && last->rates_unknown) chosen.rates_unknown = true;
}

/// Area of one bed in the sense of the rates.
std::optional<Area> rated_area(const StartSheet& sheet, const Bed& bed) {
  if (sheet.chosen.rate_area == RateArea::Swath) {
    std::optional<Length> swath;
    if (sheet.calibration && sheet.calibration->swath) swath = sheet.calibration->swath.maybe();
    if (!swath && sheet.rig) swath = sheet.rig->swath.maybe();
    if (!swath || !bed.length) return std::nullopt;
    return *bed.length * *swath;
  }
  return bed.area();
}

void plan(StartSheet& sheet) {
  LoadPlanInput input;
  Area area;
  bool known = !sheet.beds.empty();
  for (const Bed& bed : sheet.beds) {
    const auto one = rated_area(sheet, bed);
    known = known && one;
    if (!one) continue;
    input.beds.push_back({bed.whole(), *one});
    area += *one;
  }
  if (!known) return;
  sheet.area = area;
  const StartChoices& chosen = sheet.chosen;
  if (chosen.rates_unknown || !chosen.spray_rate || (!chosen.tea_rate && !chosen.no_tea)) return;
  input.spray_rate = as<VolumePerArea>(*chosen.spray_rate);
  if (!chosen.no_tea) input.tea_rate = as<VolumePerArea>(*chosen.tea_rate);
  sheet.on_beds = Mix{input.tea_rate * area, input.spray_rate * area - input.tea_rate * area};
  if (!sheet.rig || !sheet.rig->tank) return;
  input.tank = *sheet.rig->tank;
  input.dead = sheet.rig->dead.value_or(Volume{});
  input.split = LoadSplit::FullAndRest;
  input.walk = chosen.walk.value_or(Walk::SameEnd);
  sheet.loading = input;
  auto planned = plan_loads(input);
  if (planned) sheet.plan = std::move(*planned);
}

void propose_load(StartSheet& sheet) {
  StartChoices& chosen = sheet.chosen;
  if (chosen.volumes_not_taken) return;
  if (sheet.plan && !sheet.plan->loads.empty()) {
    // What is in the tank already need not be filled in.
    const Volume spray = std::max(Volume{}, sheet.plan->loads.front().to_add.spray() - sheet.stays());
    const Volume tea = spray * sheet.plan->tea_fraction;
    if (!chosen.tea && !chosen.no_tea) chosen.tea = write_quantity(tea, volume_unit(sheet), 2);
    if (!chosen.water) {
      // Both rounded: the water fills up to the mark that the plan means.
      const Volume water = spray - (chosen.tea ? as<Volume>(*chosen.tea) : Volume{});
      if (water.si() >= 0) chosen.water = write_quantity(water, volume_unit(sheet), 2);
    }
  }
  if (!chosen.water && (!chosen.tea || !sheet.plan)) return;
  const Volume spray = (chosen.tea ? as<Volume>(*chosen.tea) : Volume{}) +
                       (chosen.water ? as<Volume>(*chosen.water) : Volume{}) + sheet.stays();
  sheet.load_spray = spray;
  const Volume dead = sheet.rig ? sheet.rig->dead.value_or(Volume{}) : Volume{};
  if (sheet.rig && sheet.rig->tank) sheet.load_is_full = spray.si() >= sheet.rig->tank->si() * 0.995;
  if (!chosen.spray_rate || !sheet.area || sheet.beds.empty()) return;
  std::vector<LoadBed> beds;
  for (const Bed& bed : sheet.beds) beds.push_back({bed.whole(), rated_area(sheet, bed).value_or(Area{})});
  const VolumePerArea rate = as<VolumePerArea>(*chosen.spray_rate);
  if (rate.si() <= 0) return;
  const Area reach = std::max(Volume{}, spray - dead) / rate;
  sheet.load_lasts = reach.si() >= sheet.area->si() * (1 - 1e-3);
  const PlaceInWalk end = place_after(reach, beds, chosen.walk.value_or(Walk::SameEnd));
  sheet.load_ends_bed = sheet.beds[end.bed].name;
  sheet.load_ends_at = end.at;
}

/// Of earlier today, as long as it may still be so.
Result<std::optional<WeatherGiven>> last_weather(const Book& book, const Farm& farm, Moment now) {
  TRY_ASSIGN(const std::vector<Pass>& of_today, passes(book, farm.id, farm.day(now), farm.day(now)));
  std::optional<WeatherGiven> found;
  for (const Pass& pass : of_today)
    for (const std::string_view group : {"weather_start", "weather_finish"}) {
      const Stamp taken = group == "weather_start" ? pass.start : pass.finish.value_or(pass.start);
      if (now - taken.at > kWeatherKeeps) continue;
      Rows rows(book, "pass", "WHERE uid = ?");
      rows.query().bind(1, pass.id);
      if (rows.next()) {
        const auto key = [&](std::string_view field) { return std::string(group) + '.' + std::string(field); };
        WeatherGiven weather;
        weather.wind = rows.written(key("wind")).maybe();
        weather.temperature = rows.written(key("temperature")).maybe();
        weather.direction = rows.text(key("direction"));
        weather.sky = rows.text(key("sky"));
        weather.where = rows.text(key("where"));
        if (weather.is_answered()) found = std::move(weather);
      }
      TRY(rows.done());
    }
  return found;
}

void find_missing(StartSheet& sheet) {
  const StartChoices& chosen = sheet.chosen;
  const auto missing = [&](StartMissing what, bool is) {
    if (is) sheet.missing.push_back(what);
  };
  missing(StartMissing::Person, chosen.person.is_nil());
  missing(StartMissing::Rig, chosen.rig.is_nil());
  missing(StartMissing::Beds, sheet.beds.empty());
  missing(StartMissing::Aim, !chosen.aim);
  missing(StartMissing::Brew, chosen.brew.is_nil() && (!chosen.no_tea || chosen.products.empty()));
  missing(StartMissing::Rates, !chosen.rates_unknown && (!chosen.spray_rate || (!chosen.tea_rate && !chosen.no_tea)));
  missing(StartMissing::Load, !chosen.volumes_not_taken && ((!chosen.tea && !chosen.no_tea) || !chosen.water));
  missing(StartMissing::Walk, !chosen.walk || !chosen.from_far_end);
  missing(StartMissing::Weather, !chosen.weather.is_answered());
}

Result<void> check(const Book& book, StartSheet& sheet, Moment now) {
  const StartChoices& chosen = sheet.chosen;
  const Farm& farm = sheet.places.farm;
  const auto add = [&](std::vector<Caution> more) {
    sheet.cautions.insert(sheet.cautions.end(), more.begin(), more.end());
  };
  std::vector<Id> lots;
  for (const ProductGiven& product : chosen.products) lots.push_back(product.lot);
  TRY_ASSIGN(sheet.stops, label_stops(book, std::move(lots), sheet.rest, sheet.places, chosen.beds));
  if (!chosen.rig.is_nil()) {
    TRY_ASSIGN(std::vector<Caution> tank_state, tank_cautions(book, chosen.rig, chosen.brew, now, {}));
    add(std::move(tank_state));
    TRY_ASSIGN(std::vector<Caution> age, calibration_cautions(book, farm, sheet.places.limits, chosen.rig, now));
    add(std::move(age));
  }
  if (!chosen.brew.is_nil()) {
    std::optional<Volume> tea;
    if (chosen.tea) tea = as<Volume>(*chosen.tea);
    TRY_ASSIGN(std::vector<Caution> brew, brew_cautions(book, sheet.places.limits, chosen.brew, tea, now));
    add(std::move(brew));
    if (!farm.tea_wait_days && chosen.aim == Aim::Leaf)
      sheet.cautions.push_back({"check.tea-rule-undecided"_w, {farm.name}, "aim", farm.id});
  }
  for (const ProductGiven& product : chosen.products) {
    TRY_ASSIGN(std::vector<Caution> lot, lot_cautions(book, &farm, product.lot, product.amount, now));
    add(std::move(lot));
  }
  std::optional<Speed> wind;
  std::optional<Temperature> temperature;
  if (chosen.weather.wind) wind = as<Speed>(*chosen.weather.wind);
  if (chosen.weather.temperature) temperature = as<Temperature>(*chosen.weather.temperature);
  add(weather_cautions(farm, sheet.places.limits, wind, temperature, now));
  if (sheet.load_spray && sheet.rig && sheet.rig->tank && sheet.load_spray->si() > sheet.rig->tank->si() * 1.001)
    sheet.cautions.push_back({"check.more-than-tank"_w,
                              {amount_value_text(*sheet.load_spray), amount_value_text(*sheet.rig->tank)},
                              "mix.water",
                              sheet.rig->id});
  const int offset = farm.zone.offset_minutes(now);
  if (farm.zone_known && offset != book.now().offset_minutes)
    sheet.cautions.push_back({"check.zone-differs"_w, {farm.zone.name()}, "start", farm.id});
  return {};
}

}  // namespace

const Unit& volume_unit(const StartSheet& sheet) {
  if (sheet.rig && sheet.rig->tank_typed) return *sheet.rig->tank_typed->unit;
  return unit(sheet.places.farm.units == System::Metric ? "L" : "gal");
}

Result<StartSheet> start_sheet(const Book& book, const StartChoices& choices, Moment now) {
  StartSheet sheet;
  sheet.chosen = choices;
  TRY_ASSIGN(const Farm& farm, read_farm(book, choices.farm));
  TRY_ASSIGN(const auto& places, kept_places(book, farm.id, farm.day(now)));
  sheet.places = *places;
  TRY(choose_plan(book, sheet, now));
  if (sheet.chosen.beds.empty()) {
    TRY_ASSIGN(sheet.chosen.beds, propose_beds(book, choices.farm, now));
  }
  sort_beds(sheet);
  TRY_ASSIGN(const std::optional<LastPass>& last, last_pass(book, choices.farm, !choices.no_tea));
  TRY(choose_rig(book, last, now, sheet));
  StartChoices& chosen = sheet.chosen;
  if (!chosen.aim && last) chosen.aim = last->pass.aim;
  if (!chosen.walk && last && last->walk_known) chosen.walk = last->pass.walk;
  if (!chosen.from_far_end && last && last->walk_known) chosen.from_far_end = last->pass.from_far_end;
  if (chosen.water_source.is_nil()) {
    if (last && last->load && !last->load->water_source.is_nil()) chosen.water_source = last->load->water_source;
    if (chosen.water_source.is_nil()) {
      TRY_ASSIGN(const std::vector<WaterSource>& sources, water_sources(book));
      if (sources.size() == 1) chosen.water_source = sources.front().id;
    }
  }
  if (auto source = read_water_source(book, chosen.water_source); !chosen.water_source.is_nil() && source)
    sheet.water = std::move(*source);
  TRY(choose_brew(book, sheet, now));
  choose_rates(last, sheet);
  plan(sheet);
  propose_load(sheet);
  TRY_ASSIGN(sheet.last_weather, last_weather(book, sheet.places.farm, now));
  sheet.person_name = person_name(book, chosen.person);
  sheet.people_ids.push_back(chosen.person.text());
  for (const Id& other : chosen.others) {
    sheet.other_names.push_back(person_name(book, other));
    sheet.people_ids.push_back(other.text());
  }
  find_missing(sheet);
  TRY(check(book, sheet, now));
  return sheet;
}

}  // namespace steep
