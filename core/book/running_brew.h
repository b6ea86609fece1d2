#pragma once
/// A brew as it stands now: its age, its last readings, and when it may be ready by the temperatures so far.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/places.h"
#include "book/work.h"
#include "trade/window.h"

namespace steep {

/// When a brew may be ready, by the recipe's time and temperature and what was read so far. An estimate: smell and
/// oxygen decide.
struct BrewOutlook {
  BrewWindow window;
  int temperatures = 0;  ///< Readings it rests on.
};

struct RunningBrew {
  BrewSheet sheet;
  std::optional<Duration> age;      ///< Since air on (or compost met water).
  std::optional<Duration> off_air;  ///< Since air off.
  /// It is over: nothing left, not to be used, or off air for two days. Its last entry.
  std::optional<Moment> over;
  std::optional<Reading> last_oxygen, last_temperature;
  int readings_taken = 0, readings_not_taken = 0;
  std::optional<double> oxygen_floor;  ///< The farm's, SI.
  std::string oxygen_floor_typed;      ///< '6 mg/L'.
  bool oxygen_under = false;           ///< The last one is under it.
  /// None: air not on or off again, a verdict given, no temperature read, a recipe without a brewing time, or
  /// temperatures at which nothing can be said.
  std::optional<BrewOutlook> outlook;
};

/// One brew, whatever has become of it. `places` brings the farm's oxygen floor; nullptr = no farm.
Result<RunningBrew> running_brew(const Book& book, const Places* places, const Id& brew, Moment now);
/// Those that brew, or are ready and not used up; newest first.
Result<std::vector<RunningBrew>> running_brews(const Book& book, const Places& places, Moment now);

/// Of the readings those that are temperatures with a time.
std::vector<TemperatureAt> temperatures_of(std::span<const Reading> readings);

/// Real hours, whatever the clock faces showed.
Duration elapsed(Moment from, Moment to);

}  // namespace steep
