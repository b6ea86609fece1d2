#include "trade/microscope.h"

#include <cmath>
#include <numbers>

#include "trade/poisson.h"

namespace steep {
namespace {

bool is_usable(double si) { return std::isfinite(si) && si > 0; }
bool is_within(double value, double least, double most) { return value >= least && value <= most; }

}  // namespace

Result<Length> field_diameter(Length field_number, double objective, double tube_factor) {
  constexpr double kEdge = 1e-9;  // '40 mm' and '4 cm' are read to the last bit differently.
  if (!is_within(field_number.millimeters(), 5 - kEdge, 40 + kEdge))
    return refuse(Trouble::OutOfRange, "count.field-number"_w, {}, "field-number");
  if (!is_within(objective, 1, 200)) return refuse(Trouble::OutOfRange, "count.objective"_w, {}, "objective");
  if (!is_within(tube_factor, 0.5, 3)) return refuse(Trouble::OutOfRange, "count.tube-factor"_w, {}, "tube-factor");
  return field_number / (objective * tube_factor);
}

Result<Area> field_area(Length diameter) {
  if (!is_usable(diameter.si())) return refuse(Trouble::OutOfRange, "count.field"_w, {}, "field-diameter");
  return diameter * diameter * (std::numbers::pi / 4);
}

Result<Length> film_depth(Volume drop, Area cover) {
  if (!is_usable(drop.si())) return refuse(Trouble::OutOfRange, "count.drop"_w, {}, "drop");
  if (!is_usable(cover.si())) return refuse(Trouble::OutOfRange, "count.cover"_w, {}, "cover");
  return Length::from_si(drop.si() / cover.si());
}

Result<Volume> field_volume(Area field, Area cover, Volume drop) {
  TRY_ASSIGN(const Length depth, film_depth(drop, cover));
  if (!is_usable(field.si())) return refuse(Trouble::OutOfRange, "count.field"_w, {}, "field-diameter");
  if (field > cover) return refuse(Trouble::OutOfRange, "count.field-over-cover"_w, {}, "cover");
  return field * depth;
}

Result<Volume> chamber_volume(Area square, Length depth) {
  if (!is_usable(square.si())) return refuse(Trouble::OutOfRange, "count.square"_w, {}, "square");
  if (!is_usable(depth.si()) || depth > Length::from_millimeters(1) * (1 + 1e-9))
    return refuse(Trouble::OutOfRange, "count.depth"_w, {}, "depth");
  return square * depth;
}

Result<CellCount> cells_per_ml(std::int64_t count, Volume looked_at, double dilution, double confidence) {
  if (!is_usable(looked_at.si())) return refuse(Trouble::OutOfRange, "count.looked-at"_w, {}, "fields");
  if (!is_within(dilution, 1, 1e9)) return refuse(Trouble::OutOfRange, "count.dilution"_w, {}, "dilution");
  TRY_ASSIGN(const CountLimits& interval, poisson_interval(count, confidence));
  const double factor = dilution / looked_at.milliliters();
  return CellCount{static_cast<double>(count) * factor, interval.low * factor, interval.high * factor};
}

}  // namespace steep
