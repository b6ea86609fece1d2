#include "trade/transfer.h"

#include <algorithm>
#include <cmath>

#include "trade/oxygen.h"

namespace steep {
namespace {

constexpr double kOxygenInAir = 0.2095;              // Mole fraction in dry air.
constexpr double kOxygen_kg_mol = 31.998e-3;         // [IUPAC-2007]
constexpr double kGasConstant_J_molK = 8.314462618;  // Exact by definition since 2019.
constexpr Temperature kStandard = Temperature::from_celsius(20);

bool is_positive(double x) { return std::isfinite(x) && x > 0; }
bool is_level(Concentration c) { return std::isfinite(c.si()) && c.si() >= 0; }
auto bad(WordId word, const char* place) { return refuse(Trouble::OutOfRange, word, {}, place); }

}  // namespace

Result<Concentration> oxygen_in_air(Temperature air, Pressure pressure) {
  if (!(air.celsius() >= -50 && air.celsius() <= 60)) return bad("transfer.air-temperature"_w, "temperature");
  if (!is_positive(pressure.si())) return bad("oxygen.pressure"_w, "pressure");
  return Concentration::from_si(kOxygenInAir * pressure.pascals() * kOxygen_kg_mol /
                                (kGasConstant_J_molK * air.kelvin()));
}

Result<double> kla20_from_air(Flow air, Share per_meter, Length depth, Volume water) {
  if (!is_positive(air.si())) return bad("transfer.air"_w, "air");
  if (!is_positive(water.si())) return bad("air.volume"_w, "volume");
  if (!is_positive(depth.si()) || depth.meters() > 10) return bad("transfer.depth"_w, "depth");
  const double taken = per_meter.ratio() * depth.meters();
  if (!is_positive(taken) || taken > 1) return bad("transfer.efficiency"_w, "efficiency");
  const Pressure atmosphere = Pressure::from_atmospheres(1);
  TRY_ASSIGN(const Concentration in_air, oxygen_in_air(kStandard, atmosphere));
  TRY_ASSIGN(const Concentration saturation, oxygen_saturation(kStandard, atmosphere));
  const Mass brought = in_air * (air * Duration::from_hours(1)) * taken;
  return brought / (saturation * water);
}

Result<double> kla_at(double kla20_per_h, Temperature water, double alpha, double theta) {
  if (!is_positive(kla20_per_h)) return bad("transfer.kla"_w, "kla-20-per-hour");
  if (!(water.celsius() >= -1e-9 && water.celsius() <= 40 + 1e-9)) return bad("oxygen.temperature"_w, "temperature");
  if (!(alpha >= 0.2 && alpha <= 1)) return bad("transfer.alpha"_w, "alpha");
  if (!(theta >= 1 && theta <= 1.1)) return bad("transfer.theta"_w, "theta");
  return alpha * kla20_per_h * std::pow(theta, (water - kStandard).celsius_degrees());
}

Mass oxygen_brought_per_h(double kla_per_h, Concentration saturation, Concentration oxygen, Volume water) {
  return (saturation - oxygen) * water * kla_per_h;
}

Result<SteadyOxygen> steady_oxygen(double kla_per_h, Concentration saturation, Concentration uptake_per_h) {
  if (!is_positive(kla_per_h)) return bad("transfer.kla"_w, "kla-20-per-hour");
  if (!is_positive(saturation.si())) return bad("transfer.level"_w, "saturation");
  if (!is_level(uptake_per_h)) return bad("transfer.uptake"_w, "uptake-per-hour");
  const Concentration steady = saturation - uptake_per_h / kla_per_h;
  if (steady.si() <= 0) return SteadyOxygen{Concentration{}, true};
  return SteadyOxygen{steady, false};
}

Concentration oxygen_after(Concentration first, double kla_per_h, Concentration saturation, Concentration uptake_per_h,
                           Duration elapsed) {
  if (kla_per_h == 0) return first - uptake_per_h * elapsed.hours();
  const Concentration settles = saturation - uptake_per_h / kla_per_h;
  return settles + (first - settles) * std::exp(-kla_per_h * elapsed.hours());
}

Result<Duration> time_to_floor(Concentration oxygen, Concentration floor, Concentration uptake_per_h) {
  if (!is_positive(uptake_per_h.si())) return bad("transfer.uptake"_w, "uptake-per-hour");
  if (!is_level(oxygen)) return bad("transfer.level"_w, "oxygen");
  if (!is_level(floor)) return bad("transfer.level"_w, "floor");
  return Duration::from_hours(std::max(0.0, (oxygen - floor) / uptake_per_h));
}

}  // namespace steep
