#include "trade/spraytime.h"

#include <algorithm>

#include "base/sorting.h"

namespace steep {
namespace {

constexpr std::int64_t kFresh = kHour;  ///< A sample speaks for at most this long.
constexpr Speed kCalm = Speed::from_kilometers_per_hour(3);

/// What is known of the weather at one moment: each value from the last sample that has it.
struct Weather {
  std::optional<Speed> wind;
  std::optional<Temperature> air;
  std::optional<Share> humidity;
};

Weather weather_at(Moment at, std::span<const WeatherSample> samples) {
  Weather now;
  for (const WeatherSample& sample : samples) {
    if (sample.at > at || at - sample.at > kFresh) continue;
    if (sample.wind) now.wind = sample.wind;
    if (sample.air) now.air = sample.air;
    if (sample.humidity) now.humidity = sample.humidity;
  }
  return now;
}

class Checks {
 public:
  /// `value` against a limit that may be unset; `keeps` is asked only when both are known.
  template <class Q, class Keeps>
  void hold(SprayCheck check, const std::optional<Q>& value, const std::optional<Q>& limit, Keeps keeps) {
    if (!limit) return;
    if (!value)
      unknown |= bit(check);
    else if (!keeps(*value, *limit))
      outside |= bit(check);
  }
  static std::uint8_t bit(SprayCheck check) { return static_cast<std::uint8_t>(1 << static_cast<int>(check)); }
  std::uint8_t outside = 0, unknown = 0;
};

bool in_hours(const SprayLimits& limits, int minute) {
  if (limits.hours.empty()) return true;
  return std::any_of(limits.hours.begin(), limits.hours.end(), [&](const SprayLimits::Hours& h) {
    return h.from_minute < h.to_minute ? minute >= h.from_minute && minute < h.to_minute
                                       : minute >= h.from_minute || minute < h.to_minute;
  });
}

bool is_inversion_hour(Moment at, const SunDay& sun) {
  if (!sun.rise || !sun.set) return false;
  return at < *sun.rise + kHour || at >= *sun.set - 2 * kHour;
}

}  // namespace

Result<std::vector<SpraySpan>> spray_times(Place place, Date date, const Zone& zone, const SprayLimits& limits,
                                           std::span<const WeatherSample> weather) {
  TRY_ASSIGN(const SunDay& sun, sun_day(place, date));
  std::vector<WeatherSample> samples(weather.begin(), weather.end());
  sort_list(samples, [](const auto& a, const auto& b) { return a.at < b.at; });
  const auto at_least = [](auto value, auto limit) { return value >= limit; };
  const auto at_most = [](auto value, auto limit) { return value <= limit; };

  std::vector<SpraySpan> spans;
  const Moment end = zone.start_of(date + 1);
  for (Moment at = zone.start_of(date); at < end; at = at + kMinute) {
    const Weather now = weather_at(at, samples);
    std::optional<TemperatureDifference> delta;
    if (now.air && now.humidity)
      if (const auto computed = delta_t(*now.air, *now.humidity)) delta = *computed;
    Checks checks;
    checks.hold(SprayCheck::LeastWind, now.wind, limits.least_wind, at_least);
    checks.hold(SprayCheck::MostWind, now.wind, limits.most_wind, at_most);
    checks.hold(SprayCheck::LeastAir, now.air, limits.least_air, at_least);
    checks.hold(SprayCheck::MostAir, now.air, limits.most_air, at_most);
    checks.hold(SprayCheck::LeastDeltaT, delta, limits.least_delta_t, at_least);
    checks.hold(SprayCheck::MostDeltaT, delta, limits.most_delta_t, at_most);
    if (limits.highest_sun) {
      TRY_ASSIGN(const double elevation, sun_elevation(place, at));
      checks.hold(SprayCheck::Sun, std::optional<double>(elevation), limits.highest_sun, at_most);
    }
    const LocalTime local = zone.local(at);
    if (!in_hours(limits, local.hour * 60 + local.minute)) checks.outside |= Checks::bit(SprayCheck::Hours);
    const bool calm = !now.wind || *now.wind < kCalm;
    const SpraySpan span{at, at + kMinute, checks.outside, checks.unknown, calm && is_inversion_hour(at, sun)};
    if (!spans.empty() && spans.back().outside == span.outside && spans.back().unknown == span.unknown &&
        spans.back().inversion_signs == span.inversion_signs)
      spans.back().to = span.to;
    else
      spans.push_back(span);
  }
  return spans;
}

}  // namespace steep
