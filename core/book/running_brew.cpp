#include "book/running_brew.h"

#include "book/limit_kinds.h"
#include "book/plan_parts.h"
#include "book/things.h"

namespace steep {
namespace {

/// Air went off longer ago, and nobody poured the rest out: it is over all the same.
constexpr std::int64_t kKeptAfterAir = 2 * kDay;

std::optional<Moment> end_of(const BrewSheet& sheet, Moment now) {
  const Brew& facts = sheet.brew;
  const bool used_up = sheet.balance.left && *sheet.balance.left <= Volume::from_milliliters(10);
  const bool off_long = facts.air_off && now - facts.air_off->at > kKeptAfterAir;
  if (!used_up && !off_long && facts.verdict != "do-not-use") return std::nullopt;
  Moment last = facts.made.at;
  const auto note = [&](const Taken<Stamp>& at) {
    if (at && at->at <= now) last = std::max(last, at->at);
  };
  for (const Taken<Stamp>& at : {facts.met_water, facts.air_on, facts.air_off, facts.verdict_at}) note(at);
  for (const Reading& reading : sheet.readings) note(reading.at);
  for (const BrewEvent& event : sheet.events) note(event.at);
  return last;
}

void add_readings(RunningBrew& brew) {
  for (const Reading& reading : brew.sheet.readings) {
    reading.not_taken ? ++brew.readings_not_taken : ++brew.readings_taken;
    if (reading.not_taken) continue;
    if (reading.quantity == "oxygen") brew.last_oxygen = reading;
    if (reading.quantity == "temperature") brew.last_temperature = reading;
  }
}

void add_oxygen_floor(RunningBrew& brew, const Places& places) {
  const FarmLimit* floor = places.limit("oxygen");
  const auto written = floor ? limit_written(*floor) : std::nullopt;
  if (!written) return;
  brew.oxygen_floor = si(*written).to_double();
  brew.oxygen_floor_typed = written->text;
  if (brew.last_oxygen && brew.last_oxygen->value && brew.last_oxygen->value->dimension() == Dimension::MassPerVolume)
    brew.oxygen_under = si(*brew.last_oxygen->value).to_double() < *brew.oxygen_floor * (1 - 1e-9);
}

Result<void> add_outlook(const Book& book, RunningBrew& brew, Moment now) {
  const Brew& facts = brew.sheet.brew;
  if (!facts.air_on || facts.air_on->at > now || facts.air_off || !facts.verdict.empty() || facts.recipe.is_nil())
    return {};
  const std::vector<TemperatureAt> series = temperatures_of(brew.sheet.readings);
  const auto recipe = read_recipe(book, facts.recipe);
  if (series.empty() || !recipe || !recipe->time) return {};
  BrewPace pace;
  pace.recipe_time = *recipe->time;
  if (recipe->temperature) pace.recipe_temperature = *recipe->temperature;
  TRY_ASSIGN(const std::vector<PastBrew>& past, past_brews(book, facts.recipe));
  if (const auto window = brew_window(facts.air_on->at, now, series, pace, past))
    brew.outlook = BrewOutlook{*window, static_cast<int>(series.size())};
  return {};
}

}  // namespace

std::vector<TemperatureAt> temperatures_of(std::span<const Reading> readings) {
  std::vector<TemperatureAt> series;
  for (const Reading& reading : readings)
    if (reading.quantity == "temperature" && reading.value && reading.at &&
        reading.value->dimension() == Dimension::Temperature)
      series.push_back({reading.at->at, as<Temperature>(*reading.value)});
  return series;
}

Duration elapsed(Moment from, Moment to) { return Duration::from_milliseconds(static_cast<double>(to - from)); }

Result<RunningBrew> running_brew(const Book& book, const Places* places, const Id& id, Moment now) {
  RunningBrew brew;
  TRY_ASSIGN(brew.sheet, read_brew_sheet(book, id));
  const Brew& facts = brew.sheet.brew;
  const Taken<Stamp> begun = facts.air_on ? facts.air_on : facts.met_water;
  if (begun && begun->at <= now) brew.age = elapsed(begun->at, now);
  if (facts.air_off && facts.air_off->at <= now) brew.off_air = elapsed(facts.air_off->at, now);
  brew.over = end_of(brew.sheet, now);
  add_readings(brew);
  if (places) add_oxygen_floor(brew, *places);
  TRY(add_outlook(book, brew, now));
  return brew;
}

Result<std::vector<RunningBrew>> running_brews(const Book& book, const Places& places, Moment now) {
  std::vector<RunningBrew> running;
  TRY_ASSIGN(const std::vector<Brew>& usable, usable_brews(book, now));
  for (const Brew& brew : usable) {
    if (brew.air_off && now - brew.air_off->at > kKeptAfterAir) continue;
    TRY_ASSIGN(RunningBrew one, running_brew(book, &places, brew.id, now));
    running.push_back(std::move(one));
  }
  return running;
}

}  // namespace steep
