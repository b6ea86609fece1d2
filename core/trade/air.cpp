#include "trade/air.h"

#include <cmath>

#include "base/sorting.h"

namespace steep {

Result<Pressure> hydrostatic_pressure(Length depth, Density water) {
  if (!(depth.meters() >= 0 && depth.meters() <= 10)) return refuse(Trouble::OutOfRange, "air.depth"_w, {}, "depth");
  if (!(water.si() > 0)) return refuse(Trouble::OutOfRange, "air.density"_w, {}, "density");
  return Pressure::from_pascals(water.kilograms_per_cubic_meter() * kStandardGravity_m_s2 * depth.meters());
}

Result<DeliveredFlow> delivered_flow(std::span<const PumpPoint> curve, Pressure back_pressure) {
  std::vector<PumpPoint> points(curve.begin(), curve.end());
  sort_list(points, [](const PumpPoint& a, const PumpPoint& b) { return a.pressure < b.pressure; });
  const auto bad = refuse(Trouble::BadInput, "air.curve"_w, {}, "curve");
  if (points.empty() || !(points.front().pressure.si() >= 0)) return bad;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (!(points[i].flow.si() >= 0) || !std::isfinite(points[i].flow.si())) return bad;
    if (i > 0 && (points[i].pressure == points[i - 1].pressure || points[i].flow > points[i - 1].flow)) return bad;
  }
  if (!(back_pressure.si() >= 0)) return refuse(Trouble::BadInput, "air.back-pressure"_w, {}, "depth");
  if (back_pressure < points.front().pressure) return DeliveredFlow{points.front().flow, true};
  if (back_pressure > points.back().pressure) return refuse(Trouble::OutOfRange, "air.beyond-curve"_w, {}, "depth");
  std::size_t above = 0;
  while (points[above].pressure < back_pressure) ++above;
  if (above == 0) return DeliveredFlow{points.front().flow, false};
  const PumpPoint &low = points[above - 1], &high = points[above];
  const double t = (back_pressure - low.pressure) / (high.pressure - low.pressure);
  return DeliveredFlow{low.flow + (high.flow - low.flow) * t, false};
}

Result<std::vector<PumpPoint>> straight_curve(Flow free_air, Pressure greatest) {
  if (!(free_air.si() > 0) || !(greatest.si() > 0)) return refuse(Trouble::BadInput, "air.curve"_w, {}, "pump");
  return std::vector<PumpPoint>{{Pressure{}, free_air}, {greatest, Flow{}}};
}

Result<Flow> air_needed(FlowPerVolume target, Volume brew) {
  if (!(target.si() > 0)) return refuse(Trouble::BadInput, "air.target"_w, {}, "target");
  if (!(brew.si() > 0) || !std::isfinite(brew.si())) return refuse(Trouble::BadInput, "air.volume"_w, {}, "volume");
  return target * brew;
}

}  // namespace steep
