#include "trade/sun.h"

#include <cmath>

namespace steep {
namespace {

constexpr double kPi = 3.14159265358979323846, kDegree = kPi / 180;
constexpr double kZenith = 90.833;

struct Sun {
  double declination;       ///< Degrees.
  double equation_of_time;  ///< Minutes.
};

/// The calculator's equations for one moment. Letters as there: L0 mean longitude, M anomaly, e eccentricity.
Sun sun_at(double moment_ms) {
  const double T = (moment_ms / 86400000.0 + 2440587.5 - 2451545.0) / 36525;
  const double L0 = std::fmod(280.46646 + T * (36000.76983 + T * 0.0003032), 360);
  const double M = (357.52911 + T * (35999.05029 - 0.0001537 * T)) * kDegree;
  const double e = 0.016708634 - T * (0.000042037 + 0.0000001267 * T);
  const double C = std::sin(M) * (1.914602 - T * (0.004817 + 0.000014 * T)) +
                   std::sin(2 * M) * (0.019993 - 0.000101 * T) + std::sin(3 * M) * 0.000289;
  const double omega = (125.04 - 1934.136 * T) * kDegree;
  const double lambda = (L0 + C - 0.00569 - 0.00478 * std::sin(omega)) * kDegree;
  const double mean_obliquity = 23 + (26 + (21.448 - T * (46.815 + T * (0.00059 - T * 0.001813))) / 60) / 60;
  const double epsilon = (mean_obliquity + 0.00256 * std::cos(omega)) * kDegree;
  const double y = std::pow(std::tan(epsilon / 2), 2), L = L0 * kDegree;
  const double E = y * std::sin(2 * L) - 2 * e * std::sin(M) + 4 * e * y * std::sin(M) * std::cos(2 * L) -
                   0.5 * y * y * std::sin(4 * L) - 1.25 * e * e * std::sin(2 * M);
  return {std::asin(std::sin(epsilon) * std::sin(lambda)) / kDegree, 4 * E / kDegree};
}

/// Cosine of the hour angle at rise and set.
double rise_cosine(double latitude, double declination) {
  const double phi = latitude * kDegree, delta = declination * kDegree;
  return std::cos(kZenith * kDegree) / (std::cos(phi) * std::cos(delta)) - std::tan(phi) * std::tan(delta);
}

Result<void> check(Place place) {
  if (!(std::abs(place.latitude) <= 90)) return refuse(Trouble::OutOfRange, "sun.latitude"_w, {}, "latitude");
  if (!(std::abs(place.longitude) <= 180)) return refuse(Trouble::OutOfRange, "sun.longitude"_w, {}, "longitude");
  return {};
}

Result<void> check_year(int year) {
  if (year < 1900 || year > 2100) return refuse(Trouble::OutOfRange, "sun.year"_w, {}, "date");
  return {};
}

Moment moment_of(double ms) { return {std::llround(ms)}; }

}  // namespace

Result<SunDay> sun_day(Place place, Date date) {
  TRY(check(place));
  TRY(check_year(date.year));
  const double midnight = static_cast<double>(day_number(date)) * 86400000.0;
  constexpr double kMinute_ms = 60000;
  double noon = midnight + (720 - 4 * place.longitude) * kMinute_ms;
  const double mean_noon = noon;
  for (int i = 0; i < 3; ++i) noon = mean_noon - sun_at(noon).equation_of_time * kMinute_ms;

  SunDay day;
  day.noon = moment_of(noon);
  const double declination = sun_at(noon).declination;
  day.noon_elevation = 90 - std::abs(place.latitude - declination);
  const double at_noon = rise_cosine(place.latitude, declination);
  if (!(std::abs(at_noon) < 1)) {
    day.kind = at_noon < 0 ? SunDay::Kind::PolarDay : SunDay::Kind::PolarNight;
    return day;
  }
  for (const int side : {-1, 1}) {
    double event = noon;
    for (int i = 0; i < 4; ++i) {
      const Sun sun = sun_at(event);
      const double cosine = rise_cosine(place.latitude, sun.declination);
      if (!(std::abs(cosine) < 1)) {
        day.kind = cosine < 0 ? SunDay::Kind::PolarDay : SunDay::Kind::PolarNight;
        day.rise.reset();
        day.set.reset();
        return day;
      }
      event = mean_noon + (side * 4 * std::acos(cosine) / kDegree - sun.equation_of_time) * kMinute_ms;
    }
    (side < 0 ? day.rise : day.set) = moment_of(event);
  }
  return day;
}

Result<double> sun_elevation(Place place, Moment at) {
  TRY(check(place));
  TRY(check_year(date_from_day_number(at.ms / kDay).year));
  const Sun sun = sun_at(static_cast<double>(at.ms));
  const double minutes = static_cast<double>(((at.ms % kDay) + kDay) % kDay) / 60000;
  const double hour_angle = ((minutes + sun.equation_of_time + 4 * place.longitude) / 4 - 180) * kDegree;
  const double phi = place.latitude * kDegree, delta = sun.declination * kDegree;
  return std::asin(std::sin(phi) * std::sin(delta) + std::cos(phi) * std::cos(delta) * std::cos(hour_angle)) / kDegree;
}

}  // namespace steep
