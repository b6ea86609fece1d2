#include "trade/share.h"

#include <algorithm>
#include <cmath>

namespace steep {
namespace {

constexpr double kNoticed_L = 0.001;  ///< Less than this is rounding of what people wrote.

std::optional<double> usable(std::optional<Volume> volume) {
  if (!volume) return std::nullopt;
  const double liters = volume->liters();
  if (!std::isfinite(liters) || liters < 0) return std::nullopt;
  return liters;
}

double usable(Area area) {
  const double m2 = area.square_meters();
  return std::isfinite(m2) && m2 > 0 ? m2 : 0;
}

std::optional<double> fraction_by_rates(const LoadVolumes& load) {
  if (!load.spray_rate || !load.tea_rate) return std::nullopt;
  const double spray = load.spray_rate->liters_per_square_meter();
  const double tea = load.tea_rate->liters_per_square_meter();
  if (!(spray > 0) || !(tea >= 0) || tea > spray) return std::nullopt;
  return tea / spray;
}

}  // namespace

std::optional<double> tea_fraction(Volume tea, Volume water) {
  const double sum = tea.liters() + water.liters();
  if (!(sum > 0) || tea.liters() < 0 || water.liters() < 0) return std::nullopt;
  return tea.liters() / sum;
}

LoadShares share_load(const LoadVolumes& load, std::span<const DoseShare> doses) {
  LoadShares result;
  const auto tea = usable(load.tea), water = usable(load.water), left = usable(load.left);
  if (tea && water) {
    result.held = Volume::from_liters(*tea + *water);
    result.tea_fraction = tea_fraction(*load.tea, *load.water);
  } else {
    result.tea_fraction = tea && *tea == 0 ? 0 : fraction_by_rates(load);
  }
  if (load.closed && result.held && left) result.gave = Volume::from_liters(result.held->liters() - *left);

  double measured = 0, area_to_share = 0;
  bool all_measured = true;
  for (const DoseShare& dose : doses) {
    if (dose.skipped) continue;
    if (const auto liters = usable(dose.measured)) {
      measured += *liters;
    } else {
      area_to_share += usable(dose.area);
      all_measured = false;
    }
  }

  std::optional<double> pool;  // What the doses not measured share.
  if (result.held && left.value_or(0) + measured > result.held->liters() + kNoticed_L) result.overdrawn = true;
  if (result.gave) {
    const double rest = result.gave->liters() - measured;
    if (all_measured) result.unaccounted = Volume::from_liters(rest);
    if (!result.overdrawn) pool = std::max(0.0, rest);
  }

  for (const DoseShare& dose : doses) {
    ShownVolume shown;
    std::optional<double> spray;
    if (dose.skipped) {
      shown.how = HowKnown::Skipped;
      spray = 0;
    } else if (const auto liters = usable(dose.measured)) {
      shown.how = HowKnown::Measured;
      spray = liters;
    } else if (const double area = usable(dose.area); area > 0 && pool) {
      shown.how = HowKnown::Share;
      spray = *pool * (area / area_to_share);
    } else if (area > 0 && load.spray_rate && load.spray_rate->liters_per_square_meter() > 0) {
      shown.how = HowKnown::Rate;
      spray = load.spray_rate->liters_per_square_meter() * area;
    }
    if (spray) {
      shown.spray = Volume::from_liters(*spray);
      if (result.tea_fraction) shown.tea = Volume::from_liters(*spray * *result.tea_fraction);
    }
    result.doses.push_back(shown);
  }
  return result;
}

}  // namespace steep
