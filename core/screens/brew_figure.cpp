#include "screens/brew_figure.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "book/limit_kinds.h"
#include "quantity/time_shown.h"
#include "trade/sun.h"

namespace steep {
namespace {

/// Hours on the axis of this farm's clock, whose zero is the local midnight before `zero`.
double hours_from(Moment zero, Moment at) { return static_cast<double>(at - zero) / static_cast<double>(kHour); }

std::optional<Moment> started(const Brew& brew) {
  if (brew.air_on) return brew.air_on->at;
  if (brew.met_water) return brew.met_water->at;
  return std::nullopt;
}

/// The farm's own limit on the brew's age (or on the time off air once the air is off); no stand-in without one.
std::optional<Moment> use_by(const Brew& brew, const Places& places, Moment start) {
  std::optional<Moment> until;
  const auto limit_ms = [&](std::string_view which) -> std::optional<std::int64_t> {
    const auto seconds = limit_si(places.limits, which);
    return seconds ? std::optional(static_cast<std::int64_t>(*seconds * 1000)) : std::nullopt;
  };
  if (const auto age = limit_ms("brew-age")) until = start + *age;
  if (const auto off = limit_ms("air-off"); off && brew.air_off) {
    const Moment by_air = brew.air_off->at + *off;
    until = until ? std::min(*until, by_air) : by_air;
  }
  return until;
}

void add_suns(BrewFigure& figure, const Farm& farm, Moment zero, const Zone& zone) {
  if (!farm.latitude || !farm.longitude) return;
  const Place place{*farm.latitude, *farm.longitude};
  const Date first = zone.local(zero).date;
  const int days = static_cast<int>(figure.to_h / 24) + 1;
  for (int day = -1; day <= days; ++day) {
    const auto sun = sun_day(place, first + day);
    if (sun && sun->rise && sun->set)
      figure.suns.emplace_back(hours_from(zero, *sun->rise), hours_from(zero, *sun->set));
  }
  if (const auto height = sun_elevation(place, zero + static_cast<std::int64_t>(figure.from_h * kHour)))
    figure.night_at_start = *height < 0;
}

void add_ticks(BrewFigure& figure, const Surroundings& around) {
  const double span = figure.to_h - figure.from_h;
  const int step = span > 60 ? 24 : span > 30 ? 12 : 6;
  for (int hour = 0; hour <= static_cast<int>(figure.to_h); hour += step) {
    if (hour < figure.from_h + span * 0.03 || hour > figure.to_h - span * 0.03) continue;
    const int of_day = hour % 24;
    const std::string text = of_day == 0    ? around.words("brew.midnight"_w)
                             : of_day == 12 ? around.words("brew.noon"_w)
                             : around.units.clock == Clock::Hours24
                                 ? show_clock({Date{}, of_day, 0, 0}, Clock::Hours24, around.words)
                                 : around.words(of_day < 12 ? "brew.am"_w : "brew.pm"_w, {std::to_string(of_day % 12)});
    figure.ticks.emplace_back(hour, text);
  }
}

void add_marks(BrewFigure& figure, const RunningBrew& brew, Moment zero) {
  for (const Reading& reading : brew.sheet.readings) {
    RibbonPoint point = reading.not_taken ? RibbonPoint::NotTaken : RibbonPoint::Reading;
    if (reading.quantity == "oxygen" && reading.value && brew.oxygen_floor &&
        si(*reading.value).to_double() < *brew.oxygen_floor) {
      point = RibbonPoint::UnderFloor;
    }
    figure.readings.emplace_back(hours_from(zero, reading_time(reading)), static_cast<int>(point));
  }
  for (const BrewEvent& event : brew.sheet.events) {
    if (event.at)
      figure.events.emplace_back(hours_from(zero, event.at->at), event.what != "fed" && event.what != "topped-up");
  }
}

void add_verdict(BrewFigure& figure, const BrewSheet& sheet, const Words& words) {
  if (sheet.brew.verdict.empty()) return;
  const std::string word = words.stored("brew.verdict." + sheet.brew.verdict, sheet.brew.verdict);
  figure.verdict = sheet.verdict_by_name.empty() ? word : word + ", " + sheet.verdict_by_name;
  figure.verdict_bad = sheet.brew.verdict != "ready";
}

/// '24' large, 'h 16 min' beside it.
void say_duration(BrewFigure& figure, Duration duration, const Words& words) {
  const std::string text = show_duration(duration, words);
  const auto space = text.find(' ');
  figure.number = text.substr(0, space);
  if (space != std::string::npos) figure.unit = text.substr(space + 1);
}

/// Hours deserve to be shown, minutes don't: '20 min', '1½ h', '7 h'.
void say_about(BrewFigure& figure, std::int64_t ms, const Words& words) {
  const double hours = static_cast<double>(ms) / kHour;
  if (hours < 0.75) {
    const auto tens = std::max<std::int64_t>(1, std::llround(hours * 6));
    say_duration(figure, Duration::from_hours(static_cast<double>(tens) / 6), words);
    return;
  }
  const auto halves = hours < 3 ? std::llround(hours * 2) : 2 * std::llround(hours);
  figure.number = std::to_string(halves / 2) + (halves % 2 != 0 ? "½" : "");
  figure.unit = words("brew.hours_unit"_w);
}

Moment to_half_hour(Moment at) { return Moment{(at.ms + kHour / 4) / (kHour / 2) * (kHour / 2)}; }

void say_outlook(BrewFigure& figure, const RunningBrew& brew, Moment zero, const Surroundings& around) {
  if (!brew.outlook) return;
  const Words& words = around.words;
  const BrewWindow& window = brew.outlook->window;
  figure.ready_from_h = hours_from(zero, window.earliest);
  figure.ready_to_h = hours_from(zero, window.latest);
  figure.note = words("window.senses-decide"_w);
  const Moment from = to_half_hour(window.earliest), to = to_half_hour(window.latest);
  const LocalTime first = around.zone.local(from), last = around.zone.local(to);
  const bool today = first.date == around.today && last.date == around.today;
  figure.ready = words("brew.ready_at"_w, {today ? show_clock_span(first, last, around.units.clock, words)
                                                 : around.when(from) + " – " + around.when(to)});
  if (around.now >= window.expected) {  // The age says more now.
    if (around.now <= window.latest) figure.detail = words("brew.may_be_ready"_w);
    return;
  }
  figure.before = words("brew.about"_w);
  say_about(figure, window.expected - around.now, words);
  const auto hours = [&](Moment at, bool up) {
    const double left = std::max(0.0, hours_from(around.now, at));
    return std::to_string(static_cast<int>(up ? std::ceil(left) : std::floor(left)));
  };
  figure.words = words("brew.until_ready"_w, {hours(window.earliest, false), hours(window.latest, true)});
  figure.detail = window.from_own_brews ? words.count("brew.estimate_own"_w, window.own_brews)
                                        : words.count("brew.estimate_temperatures"_w, brew.outlook->temperatures);
}

void say_age(BrewFigure& figure, const RunningBrew& brew, const std::optional<Moment>& until,
             const Surroundings& around) {
  const Words& words = around.words;
  const auto start = started(brew.sheet.brew);
  if (brew.over && start) {
    const Taken<Stamp>& off = brew.sheet.brew.air_off;
    say_duration(figure, elapsed(*start, off ? off->at : *brew.over), words);
    figure.words = words(off ? "brew.until_air_off"_w : "brew.until_last_entry"_w);
    figure.detail = words.count("brew.readings_taken"_w, brew.readings_taken);
  } else if (brew.off_air) {
    // Once the air is off that clock is the one that runs.
    say_duration(figure, *brew.off_air, words);
    figure.words = words("brew.since_air_off"_w);
    if (brew.age) figure.detail = words("brew.age_in_all"_w, {show_duration(*brew.age, words)});
  } else if (brew.age) {
    say_duration(figure, *brew.age, words);
    figure.words = words(brew.sheet.brew.air_on ? "brew.since_air_on"_w : "brew.since_water"_w);
    figure.detail = words.count("brew.readings_taken"_w, brew.readings_taken);
  } else {
    figure.words = words("brew.not_started"_w);
  }
  if (!until) return;
  figure.past_use_by = !brew.over && around.now > *until;
  figure.use_by = words(figure.past_use_by ? "brew.past_use_by"_w : "brew.use_by"_w, {around.when(*until)});
}

}  // namespace

Moment reading_time(const Reading& reading) { return reading.at ? reading.at->at : reading.made.at; }

std::string brew_title(const BrewSheet& sheet, const Words& words) {
  const std::string code = words("brew.code"_w, {sheet.code});
  return sheet.recipe_name.empty() ? code : code + " · " + sheet.recipe_name;
}

std::string reading_value(const Reading& reading, const Surroundings& around) {
  if (reading.not_taken) return around.words("brew.not_taken"_w);
  if (reading.value) return show(*reading.value, around.units, around.words);
  if (reading.number) return show_number(*reading.number, around.units);
  return around.words.stored("brew.word." + reading.word, reading.word);
}

std::string reading_text(const Reading& reading, const Surroundings& around) {
  return around.words.stored("brew.quantity." + reading.quantity, reading.quantity) + " " +
         reading_value(reading, around);
}

std::string BrewFigure::headline() const {
  std::vector<std::string> known;
  for (const std::string* part : {&before, &number, &unit, &words})
    if (!part->empty()) known.push_back(*part);
  return join(known, " ");
}

BrewFigure brew_figure(const RunningBrew& brew, const Places& places, const Surroundings& around) {
  BrewFigure figure;
  const auto start = started(brew.sheet.brew);
  std::optional<Moment> until;
  if (start) until = use_by(brew.sheet.brew, places, *start);
  say_age(figure, brew, until, around);
  add_verdict(figure, brew.sheet, around.words);
  if (!start) return figure;

  const Moment zero = around.zone.start_of(around.zone.local(*start).date);
  figure.has_ribbon = true;
  say_outlook(figure, brew, zero, around);
  figure.start_h = hours_from(zero, *start);
  figure.now_h = hours_from(zero, around.now);
  if (until) figure.use_by_h = hours_from(zero, *until);
  const double end =
      std::max({brew.over ? hours_from(zero, *brew.over) : figure.now_h, figure.use_by_h, figure.ready_to_h});
  const double span = std::max(end - figure.start_h, 12.0);
  figure.from_h = figure.start_h - span * 0.04;
  figure.to_h = figure.start_h + span * 1.05;
  add_suns(figure, places.farm, zero, around.zone);
  add_ticks(figure, around);
  add_marks(figure, brew, zero);
  figure.above_left = around.words("brew.start_at"_w, {around.when(*start)});
  figure.spoken = figure.above_left + ", " + figure.headline();
  if (!figure.ready.empty()) figure.spoken += ", " + figure.ready;
  if (!figure.use_by.empty()) figure.spoken += ", " + figure.use_by;
  return figure;
}

BrewFigure planned_figure(Moment air_on, const std::optional<BrewWindow>& ready, Moment until, const Farm& farm,
                          const Surroundings& around) {
  BrewFigure figure;
  const Moment zero = around.zone.start_of(around.zone.local(air_on).date);
  figure.has_ribbon = figure.planned = true;
  figure.start_h = hours_from(zero, air_on);
  figure.now_h = hours_from(zero, around.now);
  figure.use_by_h = hours_from(zero, until);
  if (ready) {
    figure.ready_from_h = hours_from(zero, ready->earliest);
    figure.ready_to_h = std::max(hours_from(zero, ready->latest), figure.ready_from_h + 0.5);
  }
  const double span = std::max(std::max(figure.use_by_h, figure.ready_to_h) - figure.start_h, 6.0);
  figure.from_h = figure.start_h - span * 0.04;
  figure.to_h = figure.start_h + span * 1.05;
  add_suns(figure, farm, zero, around.zone);
  add_ticks(figure, around);
  figure.spoken = around.words("plan.start_at"_w, {around.when(air_on)});
  if (ready) figure.spoken += ", " + around.words("plan.ready_about"_w, {around.when(to_half_hour(ready->expected))});
  return figure;
}

void draw_brew_numbers(Pen& pen, const BrewFigure& figure) {
  big_number(pen, {.before = figure.before,
                   .number = figure.number,
                   .unit = figure.unit,
                   .words = figure.words,
                   .detail = figure.detail});
}

void draw_brew_ribbon(Pen& pen, const BrewFigure& figure) {
  if (!figure.has_ribbon) return;
  std::vector<RibbonAxis::Sun> suns;
  for (const auto& [rise, set] : figure.suns) suns.push_back({rise, set});
  std::vector<RibbonAxis::TickMark> ticks;
  for (const auto& [at, text] : figure.ticks) ticks.push_back({at, text, false});
  std::vector<RibbonReading> readings;
  for (const auto& [at, kind] : figure.readings) readings.push_back({at, static_cast<RibbonPoint>(kind)});
  std::vector<RibbonEvent> events;
  for (const auto& [at, hollow] : figure.events) events.push_back({at, hollow});
  RibbonFigure drawn;
  drawn.axis.from_h = figure.from_h;
  drawn.axis.to_h = figure.to_h;
  drawn.axis.days = suns;
  drawn.axis.night_at_start = figure.night_at_start;
  drawn.axis.ticks = ticks;
  drawn.axis.now_h = figure.now_h;
  drawn.ribbon.start_h = figure.start_h;
  drawn.ribbon.use_by_h = figure.use_by_h;
  drawn.ribbon.ready_from_h = figure.ready_from_h;
  drawn.ribbon.ready_to_h = figure.ready_to_h;
  drawn.ribbon.planned = figure.planned;
  drawn.ribbon.readings = readings;
  drawn.ribbon.events = events;
  drawn.ribbon.verdict = figure.verdict;
  drawn.ribbon.verdict_bad = figure.verdict_bad;
  // Above there is room for one of the two; when it began is on the ribbon itself.
  (figure.ready.empty() ? drawn.above_left : drawn.above_right) =
      figure.ready.empty() ? figure.above_left : figure.ready;
  drawn.below_right = figure.use_by;
  drawn.spoken = figure.spoken;
  ribbon_figure(pen, drawn);
}

}  // namespace steep
