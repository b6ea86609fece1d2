#pragma once
/// When does the sun rise and set, and how high does it stand?
///
/// Source:   [NOAA-SUN] NOAA solar calculator equations, after [MEEUS] Astronomical Algorithms (read in documents that
///           print them).
/// Formula:  mean longitude, anomaly, equation of center, declination and equation of time of the calculator; the sun rises
///           when its center stands at 90.833° from the zenith (34' refraction, 16' radius), on a level horizon at sea level
/// Changes:  declination and equation of time are taken at the event itself, by repeating three times, not at noon.
/// Limits:   1900–2100. Above the polar circles there are days without rise or set: said, not guessed.
/// Accuracy: 5 s against an ephemeris below 60° latitude. Hills, height and weather move it by minutes.

#include <optional>

#include "base/moment.h"
#include "base/result.h"

namespace steep {

/// WGS 84 degrees, north and east positive.
struct Place {
  double latitude = 0, longitude = 0;
};

struct SunDay {
  enum class Kind { Usual, PolarDay, PolarNight };
  Kind kind = Kind::Usual;
  std::optional<Moment> rise, set;  ///< nullopt on polar days and nights.
  Moment noon;                      ///< Sun in the south (north), highest.
  double noon_elevation = 0;        ///< Degrees above the horizon, without refraction.
};

/// Of the local solar day `date`: rise before, set after the noon of that date at that longitude.
/// Trouble: OutOfRange  latitude or longitude outside ±90, ±180; year outside 1900–2100.
Result<SunDay> sun_day(Place place, Date date);

/// Elevation in degrees, without refraction. Trouble: OutOfRange as above.
Result<double> sun_elevation(Place place, Moment at);

}  // namespace steep
