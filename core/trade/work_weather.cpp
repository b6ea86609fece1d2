// The calculations 'wet-bulb', 'delta-t', 'sun', 'spray-time'.
#include "base/zone.h"
#include "trade/spraytime.h"
#include "trade/sun.h"
#include "trade/wetbulb.h"
#include "trade/work_lists.h"
#include "trade/work_times.h"

namespace steep {
namespace {

constexpr std::string_view kStull = "R. Stull 2011, J. Appl. Meteor. Climatol. 50, 2267";

// wet-bulb and delta-t

constexpr InputSpec kAirInputs[] = {
    quantity_input("temperature", Dimension::Temperature, "work-input.air-temperature"_w),
    quantity_input("humidity", Dimension::Share, "work-input.humidity"_w),
};
constexpr OutputSpec kWetBulbOutputs[] = {{"wet-bulb", OutputKind::Quantity, "degC", 1, "work-result.wet-bulb"_w}};
const extern Calculation kWetBulb;

void explain_wet_bulb(Answer& answer, Temperature air, Share humidity, Temperature wet) {
  answer.step("wet-bulb",
              "Tw = T·atan(0.151977(RH + 8.313659)^½) + atan(T + RH) − atan(RH − 1.676331) + "
              "0.00391838·RH^1.5·atan(0.023101·RH) − 4.686035",
              "T = " + figure(air.celsius(), 5) + " °C, RH = " + figure(humidity.percent()) + " % → " +
                  figure(wet.celsius(), 5) + " °C");
}

Result<Answer> run_wet_bulb(const Inputs& in) {
  const Temperature air = in.get<Temperature>("temperature");
  const Share humidity = in.get<Share>("humidity");
  TRY_ASSIGN(const Temperature wet, wet_bulb(air, humidity));
  Answer answer(kWetBulb);
  answer.quantity("wet-bulb", wet);
  explain_wet_bulb(answer, air, humidity, wet);
  answer.note("wet-bulb.accuracy"_w);
  if (is_rough_wet_bulb(air, humidity, wet)) answer.note("wet-bulb.edge"_w);
  return answer;
}

const Calculation kWetBulb{"wet-bulb",
                           "weather",
                           "work.wet-bulb"_w,
                           kAirInputs,
                           kWetBulbOutputs,
                           kStull,
                           "--temperature \"20 C\" --humidity 50%",
                           run_wet_bulb};

constexpr OutputSpec kDeltaTOutputs[] = {
    {"delta-t", OutputKind::Quantity, "degC diff", 1, "work-result.delta-t"_w},
    {"wet-bulb", OutputKind::Quantity, "degC", 1, "work-result.wet-bulb"_w},
    {"band", OutputKind::Word, "", 0, "work-result.delta-t-band"_w},
};
const extern Calculation kDeltaT;

const char* band_word(DeltaTBand band) {
  switch (band) {
    case DeltaTBand::Low: return "delta-t-low";
    case DeltaTBand::Preferred: return "delta-t-preferred";
    case DeltaTBand::Marginal: return "delta-t-marginal";
    case DeltaTBand::High: return "delta-t-high";
  }
  return "";
}

Result<Answer> run_delta_t(const Inputs& in) {
  const Temperature air = in.get<Temperature>("temperature");
  const Share humidity = in.get<Share>("humidity");
  TRY_ASSIGN(const Temperature wet, wet_bulb(air, humidity));
  const TemperatureDifference delta = air - wet;
  Answer answer(kDeltaT);
  answer.quantity("delta-t", delta);
  answer.quantity("wet-bulb", wet);
  answer.text("band", band_word(delta_t_band(delta)));
  explain_wet_bulb(answer, air, humidity, wet);
  answer.step("band", "2 … 8 … 10 °C", figure(delta.si(), 5) + " °C");
  answer.step("delta-t", "ΔT = T − Tw",
              figure(air.celsius(), 5) + " − " + figure(wet.celsius(), 5) + " = " + figure(delta.si(), 5));
  answer.note("delta-t.thresholds"_w);
  if (is_rough_wet_bulb(air, humidity, wet)) answer.note("wet-bulb.edge"_w);
  return answer;
}

const Calculation kDeltaT{
    "delta-t",
    "weather",
    "work.delta-t"_w,
    kAirInputs,
    kDeltaTOutputs,
    "R. Stull 2011; bands 2, 8, 10 °C: common thresholds of the Australian weather bureau as quoted by others",
    "--temperature \"77 F\" --humidity 30%",
    run_delta_t};

// sun

constexpr InputSpec kSunInputs[] = {
    plain_input("latitude", InputKind::Number, "work-input.latitude"_w),
    plain_input("longitude", InputKind::Number, "work-input.longitude"_w),
    plain_input("date", InputKind::Date, "work-input.date"_w),
    plain_input("zone", InputKind::Text, "work-input.zone"_w).or_standard("UTC"),
};
constexpr OutputSpec kSunOutputs[] = {
    {"sunrise", OutputKind::LocalTime, "", 0, "work-result.sunrise"_w},
    {"noon", OutputKind::LocalTime, "", 0, "work-result.noon"_w},
    {"sunset", OutputKind::LocalTime, "", 0, "work-result.sunset"_w},
    {"noon-elevation", OutputKind::Number, "", 1, "work-result.noon-elevation"_w},
    {"kind", OutputKind::Word, "", 0, "work-result.sun-kind"_w},
};
const extern Calculation kSun;

/// Local time with seconds and offset, '2026-06-20T05:28:02-07:00'.
std::string stamped(const Zone& zone, Moment at) { return stamp_text(zone.stamp({(at.ms + 500) / 1000 * 1000})); }

Result<Zone> zone_of(const Value& value) {
  if (value.text == "UTC") return Zone{};
  return Zone::from_name(value.text);
}

Result<Answer> run_sun(const Inputs& in) {
  TRY_ASSIGN(const Zone& zone, zone_of(in["zone"]));
  const Place place{in["latitude"].number, in["longitude"].number};
  TRY_ASSIGN(const SunDay& day, sun_day(place, in["date"].date));
  Answer answer(kSun);
  if (day.rise) answer.text("sunrise", stamped(zone, *day.rise));
  answer.text("noon", stamped(zone, day.noon));
  if (day.set) answer.text("sunset", stamped(zone, *day.set));
  answer.number("noon-elevation", day.noon_elevation);
  answer.text("kind", day.kind == SunDay::Kind::Usual      ? "sun-usual"
                      : day.kind == SunDay::Kind::PolarDay ? "polar-day"
                                                           : "polar-night");
  answer.step("noon", "noon = 12 h − 4 min · λ − equation of time", "λ = " + figure(place.longitude) + "°");
  answer.step("noon-elevation", "h = 90° − |φ − δ|",
              "φ = " + figure(place.latitude) + "° → " + figure(day.noon_elevation, 5) + "°");
  answer.step("sunrise sunset kind", "cos H = cos 90.833° / (cos φ cos δ) − tan φ tan δ",
              "φ = " + figure(place.latitude) + "°, noon elevation " + figure(day.noon_elevation, 5) + "°");
  answer.note("sun.level-horizon"_w);
  return answer;
}

const Calculation kSun{"sun",
                       "weather",
                       "work.sun"_w,
                       kSunInputs,
                       kSunOutputs,
                       "NOAA solar calculator equations, after Meeus",
                       "--latitude 44.5646 --longitude -123.262 --date 2024-06-20 --zone America/Los_Angeles",
                       run_sun};

// spray-time

constexpr InputSpec kSampleColumns[] = {
    plain_input("at", InputKind::Clock, "work-input.sample-at"_w),
    quantity_input("wind", Dimension::Speed, "work-input.wind"_w).optional(),
    quantity_input("temperature", Dimension::Temperature, "work-input.air-temperature"_w).optional(),
    quantity_input("humidity", Dimension::Share, "work-input.humidity"_w).optional(),
};
constexpr InputSpec kHoursColumns[] = {
    plain_input("from", InputKind::Clock, "work-input.hours-from"_w),
    plain_input("to", InputKind::Clock, "work-input.hours-to"_w),
};
constexpr InputSpec kSprayTimeInputs[] = {
    plain_input("latitude", InputKind::Number, "work-input.latitude"_w),
    plain_input("longitude", InputKind::Number, "work-input.longitude"_w),
    plain_input("date", InputKind::Date, "work-input.date"_w),
    plain_input("zone", InputKind::Text, "work-input.zone"_w),
    row_input("weather", kSampleColumns, "work-input.weather"_w).repeated().optional(),
    row_input("hours", kHoursColumns, "work-input.hours"_w).repeated().optional(),
    quantity_input("wind-least", Dimension::Speed, "work-input.wind-least"_w).optional(),
    quantity_input("wind-most", Dimension::Speed, "work-input.wind-most"_w).optional(),
    quantity_input("temperature-least", Dimension::Temperature, "work-input.temperature-least"_w).optional(),
    quantity_input("temperature-most", Dimension::Temperature, "work-input.temperature-most"_w).optional(),
    quantity_input("delta-t-least", Dimension::TemperatureDifference, "work-input.delta-t-least"_w).optional(),
    quantity_input("delta-t-most", Dimension::TemperatureDifference, "work-input.delta-t-most"_w).optional(),
    plain_input("sun-most", InputKind::Number, "work-input.sun-most"_w).optional(),
};
constexpr OutputSpec kSprayTimeOutputs[] = {
    {"minutes-within", OutputKind::Whole, "", 0, "work-result.minutes-within"_w},
    {"minutes-not-known", OutputKind::Whole, "", 0, "work-result.minutes-not-known"_w},
    {"span-*-from", OutputKind::LocalTime, "", 0, "work-result.span-from"_w},
    {"span-*-to", OutputKind::LocalTime, "", 0, "work-result.span-to"_w},
    {"span-*-outside", OutputKind::Word, "", 0, "work-result.span-outside"_w},
    {"span-*-not-known", OutputKind::Word, "", 0, "work-result.span-not-known"_w},
    {"span-*-inversion-signs", OutputKind::Word, "", 0, "work-result.span-inversion"_w},
};
const extern Calculation kSprayTime;

constexpr std::string_view kCheckNames[kSprayChecks] = {"wind-least",       "wind-most",     "temperature-least",
                                                        "temperature-most", "delta-t-least", "delta-t-most",
                                                        "sun-most",         "hours"};

std::string check_names(std::uint8_t bits) {
  std::string names;
  for (int i = 0; i < kSprayChecks; ++i)
    if (bits >> i & 1) names += (names.empty() ? "" : " ") + std::string(kCheckNames[i]);
  return names;
}

SprayLimits limits_of(const Inputs& in) {
  SprayLimits limits;
  limits.least_wind = in.maybe<Speed>("wind-least");
  limits.most_wind = in.maybe<Speed>("wind-most");
  limits.least_air = in.maybe<Temperature>("temperature-least");
  limits.most_air = in.maybe<Temperature>("temperature-most");
  limits.least_delta_t = in.maybe<TemperatureDifference>("delta-t-least");
  limits.most_delta_t = in.maybe<TemperatureDifference>("delta-t-most");
  if (const Value* sun = in.find("sun-most")) limits.highest_sun = sun->number;
  const auto minutes = [](const LocalTime& t) { return t.hour * 60 + t.minute; };
  for (const Value* row : in.all("hours"))
    limits.hours.push_back({minutes(row->columns[0]->time), minutes(row->columns[1]->time)});
  return limits;
}

Result<std::vector<WeatherSample>> samples_of(const Inputs& in, const Zone& zone) {
  std::vector<WeatherSample> samples;
  for (const Value* row : in.all("weather")) {
    Value clock = *row->columns[0];
    clock.time.date = in["date"].date;
    TRY_ASSIGN(const Moment at, moment_of(zone, clock, "weather"));
    WeatherSample sample{at, {}, {}, {}};
    if (row->columns[1]) sample.wind = row->columns[1]->as<Speed>();
    if (row->columns[2]) sample.air = row->columns[2]->as<Temperature>();
    if (row->columns[3]) sample.humidity = row->columns[3]->as<Share>();
    samples.push_back(sample);
  }
  return samples;
}

Result<Answer> run_spray_time(const Inputs& in) {
  TRY_ASSIGN(const Zone& zone, zone_of(in["zone"]));
  TRY_ASSIGN(const std::vector<WeatherSample>& samples, samples_of(in, zone));
  TRY_ASSIGN(const std::vector<SpraySpan>& spans, spray_times({in["latitude"].number, in["longitude"].number},
                                                              in["date"].date, zone, limits_of(in), samples));
  Answer answer(kSprayTime);
  std::int64_t within = 0, unknown = 0;
  for (const SpraySpan& span : spans) {
    if (span.within_all()) within += (span.to - span.from) / kMinute;
    if (span.outside == 0 && span.unknown != 0) unknown += (span.to - span.from) / kMinute;
  }
  answer.number("minutes-within", static_cast<double>(within));
  answer.number("minutes-not-known", static_cast<double>(unknown));
  answer.step("minutes-within", "Σ within all", std::to_string(within) + " min");
  answer.step("minutes-not-known", "Σ not known", std::to_string(unknown) + " min");
  int number = 0;
  for (const SpraySpan& span : spans) {
    ++number;
    answer.text("span-*-from", stamped(zone, span.from), number);
    answer.text("span-*-to", stamped(zone, span.to), number);
    if (span.outside != 0) answer.text("span-*-outside", check_names(span.outside), number);
    if (span.unknown != 0) answer.text("span-*-not-known", check_names(span.unknown), number);
    answer.step("span-*-from span-*-to span-*-outside span-*-not-known",
                stamped(zone, span.from).substr(11, 5) + " – " + stamped(zone, span.to).substr(11, 5),
                span.within_all()
                    ? "="
                    : check_names(span.outside) + (span.unknown != 0 ? " ? " + check_names(span.unknown) : ""),
                number);
    answer.step("span-*-inversion-signs", "GRDC 10.8", span.inversion_signs ? "yes" : "no", number);
    answer.text("span-*-inversion-signs", span.inversion_signs ? "yes" : "no", number);
  }
  answer.caution("spray-time.label-decides"_w);
  answer.note("spray-time.inversion"_w);
  return answer;
}

const Calculation kSprayTime{
    "spray-time",
    "weather",
    "work.spray-time"_w,
    kSprayTimeInputs,
    kSprayTimeOutputs,
    "the farm's limits; sun: NOAA equations; inversion hours: GRDC spray application manual 10.8",
    "--latitude 40.8 --longitude -81.9 --date 2026-06-03 --zone America/New_York --hours \"5:00; 10:00\" "
    "--wind-most \"8 mph\" --weather \"5:00; 4 mph; 60 F; 80 %\" --weather \"6:00; 5 mph; 62 F; 75 %\"",
    run_spray_time};

const Calculation kAll[] = {kWetBulb, kDeltaT, kSun, kSprayTime};

}  // namespace

std::span<const Calculation> work_weather() { return kAll; }

}  // namespace steep
