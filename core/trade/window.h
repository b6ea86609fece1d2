#pragma once
/// When will a brew be ready, and until when is it worth using? An estimate with an interval; smell and oxygen decide.
///
/// Two ways: from the recipe's brewing time at its temperature, carried to other temperatures by a Q10; or, once the farm
/// has five or more finished brews, from those.
///
/// Source:   [Q10] the Q10 rule (textbook); the Q10 of 2 and the spread of a quarter are common practice, no source, and
///           settings of the farm. Regression: ordinary least squares with its prediction interval, [NIST-HB] 4.1.
/// Formula:  ready when ∫ rate dt = 1; rate = Q10^((T − Tref)/10) / hours_ref, or exp(−(a + b T)) from ln(hours) = a + b T
/// Changes:  temperature runs in straight lines between readings, and the integral of each piece is exact.
/// Limits:   brews of 1 h to 14 days, 0–40 °C; Q10 1–5. Own brews: at least 5, not all at one temperature, faster when warmer;
///           else the recipe's way is taken and the answer says so.
/// Accuracy: ± a quarter at best; hours deserve to be shown, minutes do not. Never narrower than an hour either way, however
///           alike the own brews: nobody looks oftener (common practice, no source).

#include <optional>
#include <span>
#include <vector>

#include "base/moment.h"
#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

struct BrewPace {
  Duration recipe_time = Duration::from_hours(24);  ///< At `recipe_temperature`.
  Temperature recipe_temperature = Temperature::from_fahrenheit(70);
  double q10 = 2;
  double spread = 0.25;  ///< Of the recipe's time, either way.
};

/// A finished brew of the farm: its mean temperature and its hours until a person called it ready.
struct PastBrew {
  Temperature mean;
  Duration until_ready;
};

struct TemperatureAt {
  Moment at;
  Temperature temperature;
};

struct BrewWindow {
  Moment earliest, expected, latest;  ///< Of being ready.
  double done = 0;                    ///< Part of the way at `now`; may exceed 1.
  Temperature mean;                   ///< Mean temperature from start to `expected`.
  bool from_own_brews = false;
  int own_brews = 0;
  /// Why the farm's own brews were not used though there are 5: they do not get faster when warmer.
  bool own_brews_unusable = false;
  bool outside_own_range = false;  ///< Mean temperature more than 3 °C outside that of the own brews.
};

/// `temperatures`: readings since the start and expected ones ahead, any order, one at least; before the first and after the
/// last it stays as there. Trouble: BadInput  none given, pace outside its limits; OutOfRange  a temperature outside 0–40 °C,
/// or not ready within 30 days.
Result<BrewWindow> brew_window(Moment start, Moment now, std::span<const TemperatureAt> temperatures,
                               const BrewPace& pace, std::span<const PastBrew> past = {});

/// Mean temperature between two moments of such a series. `from` < `to`.
Temperature mean_temperature(std::span<const TemperatureAt> temperatures, Moment from, Moment to);

}  // namespace steep
