#include "trade/oxygen.h"

#include <cmath>

namespace steep {
namespace {

/// Saturation at 1 atm, mg/L.
double at_one_atmosphere(double T, double S) {
  return std::exp(-139.34411 + 1.575701e5 / T - 6.642308e7 / (T * T) + 1.243800e10 / (T * T * T) -
                  8.621949e11 / (T * T * T * T) - S * (0.017674 - 10.754 / T + 2140.7 / (T * T)));
}

}  // namespace

Pressure vapor_pressure(Temperature water, double salinity) {
  const double r = 373.16 / water.kelvin();
  const double u =
      (1 - 5.370e-4 * salinity) * std::exp(18.1973 * (1 - r) + 3.1813e-7 * (1 - std::exp(26.1205 * (1 - 1 / r))) -
                                           1.8726e-2 * (1 - std::exp(8.03945 * (1 - r))) + 5.02802 * std::log(r));
  return Pressure::from_atmospheres(u);
}

Result<Concentration> oxygen_saturation(Temperature water, Pressure station, double salinity) {
  const double t = water.celsius(), P = station.atmospheres();
  constexpr double kRounding = 1e-9;  // 40 °C typed as 104 °F still counts as 40.
  if (!(t >= -kRounding && t <= 40 + kRounding))
    return refuse(Trouble::OutOfRange, "oxygen.temperature"_w, {}, "temperature");
  if (!(P >= 0.5 && P <= 1.1)) return refuse(Trouble::OutOfRange, "oxygen.pressure"_w, {}, "pressure");
  if (!(salinity >= 0 && salinity <= 40)) return refuse(Trouble::OutOfRange, "oxygen.salinity"_w, {}, "salinity");
  const double u = vapor_pressure(water, salinity).atmospheres();
  const double theta = 0.000975 - 1.426e-5 * t + 6.436e-8 * t * t;
  const double C =
      at_one_atmosphere(water.kelvin(), salinity) * P * ((1 - u / P) * (1 - theta * P)) / ((1 - u) * (1 - theta));
  return Concentration::from_milligrams_per_liter(C);
}

Result<Share> oxygen_share(Concentration reading, Temperature water, Pressure station, double salinity) {
  if (!(reading.si() >= 0) || !std::isfinite(reading.si()))
    return refuse(Trouble::OutOfRange, "oxygen.reading"_w, {}, "oxygen");
  TRY_ASSIGN(const Concentration saturation, oxygen_saturation(water, station, salinity));
  return Share::from_ratio(reading / saturation);
}

Result<Pressure> pressure_at_elevation(Length elevation) {
  const double h = elevation.meters();
  if (!(h >= -500 && h <= 5000)) return refuse(Trouble::OutOfRange, "oxygen.elevation"_w, {}, "elevation");
  return Pressure::from_kilopascals(101.325 * std::pow(1 - 0.0065 * h / 288.15, 5.2559));
}

}  // namespace steep
