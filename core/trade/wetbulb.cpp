#include "trade/wetbulb.h"

#include <cmath>

namespace steep {

Result<Temperature> wet_bulb(Temperature air, Share humidity) {
  const double T = air.celsius(), RH = humidity.percent();
  constexpr double kRounding = 1e-9;
  if (!(T >= -20 - kRounding && T <= 50 + kRounding))
    return refuse(Trouble::OutOfRange, "wet-bulb.temperature"_w, {}, "temperature");
  if (!(RH >= 5 - kRounding && RH <= 99 + kRounding))
    return refuse(Trouble::OutOfRange, "wet-bulb.humidity"_w, {}, "humidity");
  if (T < -2.33 * RH + 28.33) return refuse(Trouble::OutOfRange, "wet-bulb.cold-and-dry"_w, {}, "humidity");
  const double Tw = T * std::atan(0.151977 * std::sqrt(RH + 8.313659)) + std::atan(T + RH) - std::atan(RH - 1.676331) +
                    0.00391838 * std::pow(RH, 1.5) * std::atan(0.023101 * RH) - 4.686035;
  return Temperature::from_celsius(Tw);
}

bool is_rough_wet_bulb(Temperature air, Share humidity, Temperature wet) {
  return humidity.percent() < 10 || air.celsius() > 40 || wet.celsius() < 0;
}

Result<TemperatureDifference> delta_t(Temperature air, Share humidity) {
  TRY_ASSIGN(const Temperature wet, wet_bulb(air, humidity));
  return air - wet;
}

DeltaTBand delta_t_band(TemperatureDifference delta, const DeltaTLimits& limits) {
  if (delta < limits.low) return DeltaTBand::Low;
  if (delta <= limits.high) return DeltaTBand::Preferred;
  return delta <= limits.top ? DeltaTBand::Marginal : DeltaTBand::High;
}

}  // namespace steep
