#include "trade/plates.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace steep {
namespace {

/// Of the original sample on a plate.
double sample_ml(const Plate& plate) { return plate.plated.milliliters() / plate.dilution; }

Result<void> check_plate(const Plate& plate, std::int64_t least) {
  const double ml = plate.plated.milliliters();
  if (!(plate.dilution >= 1 && plate.dilution <= 1e12))
    return refuse(Trouble::OutOfRange, "plates.dilution"_w, {}, "plate");
  if (!(ml >= 0.001 * (1 - 1e-9) && ml <= 10 * (1 + 1e-9)))
    return refuse(Trouble::OutOfRange, "plates.plated"_w, {}, "plated");
  if (plate.colonies && (*plate.colonies < 0 || *plate.colonies > 1'000'000))
    return refuse(Trouble::OutOfRange, "plates.colonies"_w, {}, "plate");
  if (!plate.colonies && plate.state == PlateState::Counted)
    return refuse(Trouble::BadInput, "plates.no-number"_w, {}, "plate");
  // A plate said to be too numerous, with a number under the range, contradicts itself.
  if (plate.state == PlateState::TooMany && plate.colonies && *plate.colonies < least)
    return refuse(Trouble::BadInput, "plates.not-too-many"_w, {}, "plate");
  return {};
}

/// N, its limits and scatter from the plates used.
Result<PlateCount> counted_on(const std::vector<Plate>& used, PlateCount::Kind kind, double confidence) {
  PlateCount count;
  count.kind = kind;
  std::vector<std::int64_t> colonies;
  std::vector<double> amounts;
  double ml = 0;
  for (const Plate& plate : used) {
    colonies.push_back(*plate.colonies);
    amounts.push_back(sample_ml(plate));
    count.colonies += colonies.back();
    ml += amounts.back();
  }
  count.plates = static_cast<int>(used.size());
  count.sample = Volume::from_milliliters(ml);
  count.per_ml = static_cast<double>(count.colonies) / ml;
  TRY_ASSIGN(const CountLimits& limits, poisson_interval(count.colonies, confidence));
  count.limits = CountLimits{limits.low / ml, limits.high / ml};
  if (used.size() > 1) {
    TRY_ASSIGN(count.scatter, chance_of_scatter(colonies, amounts));
  }
  return count;
}

/// The plates of the one dilution whose mean is nearest to `most`.
std::vector<Plate> nearest_dilution(const std::vector<Plate>& counted, std::int64_t most) {
  std::vector<Plate> nearest;
  double least_off = 0;
  for (const Plate& first : counted) {
    std::vector<Plate> group;
    double sum = 0;
    for (const Plate& plate : counted)
      if (sample_ml(plate) == sample_ml(first)) {
        group.push_back(plate);
        sum += static_cast<double>(*plate.colonies);
      }
    const double off = std::abs(sum / static_cast<double>(group.size()) - static_cast<double>(most));
    if (nearest.empty() || off < least_off) {
      least_off = off;
      nearest = std::move(group);
    }
  }
  return nearest;
}

}  // namespace

Result<PlateCount> plate_count(std::span<const Plate> plates, CountingRange range, std::optional<Area> plate_area,
                               double confidence) {
  if (plates.size() > 200) return refuse(Trouble::OutOfRange, "plates.how-many"_w, {}, "plate");
  if (plate_area && !(plate_area->si() > 0)) return refuse(Trouble::OutOfRange, "plates.area"_w, {}, "plate-area");
  std::vector<Plate> counted, in_range;
  bool too_many = false, usable = false;
  for (const Plate& plate : plates) {
    TRY(check_plate(plate, range.least));
    if (plate.state == PlateState::Spreader || plate.state == PlateState::Accident) continue;
    usable = true;
    too_many = too_many || plate.state == PlateState::TooMany || *plate.colonies > range.most;
    if (!plate.colonies) continue;
    counted.push_back(plate);
    if (plate.state == PlateState::Counted && *plate.colonies >= range.least && *plate.colonies <= range.most)
      in_range.push_back(plate);
  }
  if (!usable) return refuse(Trouble::BadInput, "plates.none-usable"_w, {}, "plate");
  if (!in_range.empty()) return counted_on(in_range, PlateCount::Kind::Counted, confidence);
  if (counted.empty()) return refuse(Trouble::BadInput, "plates.count-nearest"_w, {}, "plate");

  if (!too_many) {
    TRY_ASSIGN(PlateCount few, counted_on(counted, PlateCount::Kind::FewerThan, confidence));
    double most_sample = 0;
    for (const Plate& plate : counted) most_sample = std::max(most_sample, sample_ml(plate));
    few.per_ml = (few.colonies == 0 ? 1.0 : static_cast<double>(range.least)) / most_sample;
    return few;
  }
  TRY_ASSIGN(PlateCount estimate,
             counted_on(nearest_dilution(counted, range.most), PlateCount::Kind::Estimated, confidence));
  const double mean = static_cast<double>(estimate.colonies) / estimate.plates;
  if (plate_area && mean > 100 * plate_area->square_meters() * 1e4) {
    estimate.kind = PlateCount::Kind::MoreThan;
    estimate.per_ml = 100 * plate_area->square_meters() * 1e4 * estimate.plates / estimate.sample.milliliters();
    estimate.limits.reset();
  }
  return estimate;
}

double two_digits_bam(double count) {
  if (!(count > 0) || !std::isfinite(count)) return 0;
  const double unit = std::pow(10.0, std::floor(std::log10(count * (1 + 1e-12))) - 1);  // Of the second digit.
  const double tenths = std::floor(count / unit * 10 * (1 + 1e-12));  // Three digits as a whole number.
  const double two = std::floor(tenths / 10), third = tenths - 10 * two;
  const bool up = third > 5 || (third == 5 && std::fmod(two, 2) == 1);
  const double rounded = up ? two + 1 : two;
  // Divided where the unit is a fraction: 0.1 has no exact double, 10 has.
  return unit >= 1 ? rounded * unit : rounded / std::round(1 / unit);
}

}  // namespace steep
