#pragma once
/// In which minutes of a day do wind, Delta T, temperature, sun and the farm's own hours stand within the farm's limits?
///
/// Says nothing about whether it is right to spray: labels, local rules and the person in the field decide, and what was
/// not known is said. Signs of an inversion are listed, since calm air near sunset and sunrise is the usual one.
///
/// Source:   limits of the farm (common practice; labels win); inversion hours [GRDC-10.8], from 1–2 h before sunset to about
///           1 h after sunrise; signs [CANOLA-9205]: wind under 3 km/h, cloud of a quarter or less at night.
/// Formula:  each minute of the farm's civil day is held against each limit that was set
/// Changes:  of the signs only calm air is asked, cloud is not. Weather is taken from the sample last before, up to an
///           hour old; older = not known.
/// Limits:   weather samples in any order; without a sample, or without the one value, that limit is 'not known'.
/// Accuracy: minutes; a forecast or a distant station is not the field.

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "base/moment.h"
#include "base/result.h"
#include "base/zone.h"
#include "quantity/quantities.h"
#include "trade/sun.h"
#include "trade/wetbulb.h"

namespace steep {

struct WeatherSample {
  Moment at;
  std::optional<Speed> wind;
  std::optional<Temperature> air;
  std::optional<Share> humidity;
};

/// Only what is set is asked of the weather.
struct SprayLimits {
  std::optional<Speed> least_wind, most_wind;
  std::optional<Temperature> least_air, most_air;
  std::optional<TemperatureDifference> least_delta_t, most_delta_t;
  std::optional<double> highest_sun;  ///< Degrees of elevation: 'not in strong sun'.
  struct Hours {
    int from_minute = 0, to_minute = 1440;
  };                         ///< Of the farm's clock; to ≤ from spans midnight.
  std::vector<Hours> hours;  ///< None: any hour.
};

enum class SprayCheck : std::uint8_t { LeastWind, MostWind, LeastAir, MostAir, LeastDeltaT, MostDeltaT, Sun, Hours };
constexpr int kSprayChecks = 8;

/// Bit sets over SprayCheck.
struct SpraySpan {
  Moment from, to;               ///< Half open.
  std::uint8_t outside = 0;      ///< Limits not kept.
  std::uint8_t unknown = 0;      ///< Limits that could not be held against anything.
  bool inversion_signs = false;  ///< Near sunset or sunrise, with calm air or nothing known of the wind.
  bool is_outside(SprayCheck check) const { return outside >> static_cast<int>(check) & 1; }
  bool is_unknown(SprayCheck check) const { return unknown >> static_cast<int>(check) & 1; }
  bool within_all() const { return outside == 0 && unknown == 0; }
};

/// The farm's civil day `date` (23 or 25 h on days of clock change) in spans of equal answers, in order.
/// Trouble: OutOfRange  as sun_day.
Result<std::vector<SpraySpan>> spray_times(Place place, Date date, const Zone& zone, const SprayLimits& limits,
                                           std::span<const WeatherSample> weather);

}  // namespace steep
