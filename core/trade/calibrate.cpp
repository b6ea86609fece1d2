#include "trade/calibrate.h"

#include <algorithm>
#include <cmath>

namespace steep {
namespace {

template <class Q>
bool is_usable(Q quantity) {
  return std::isfinite(quantity.si()) && quantity.si() > 0;
}

}  // namespace

Result<CatchSummary> summarize_catches(std::span<const Volume> catches) {
  if (catches.empty()) return refuse(Trouble::BadInput, "calibrate.no-catch"_w, {}, "catch");
  CatchSummary summary;
  Volume sum;
  for (const Volume one : catches) {
    if (!is_usable(one)) return refuse(Trouble::BadInput, "calibrate.catch"_w, {}, "catch");
    sum += one;
  }
  summary.count = static_cast<int>(catches.size());
  summary.mean = sum / summary.count;
  if (summary.count < 2) return summary;
  double farthest = 0;
  for (const Volume one : catches) farthest = std::max(farthest, std::abs(one / summary.mean - 1));
  summary.spread = farthest;
  return summary;
}

Result<NozzleCatches> add_nozzles(std::span<const Volume> catches) {
  TRY_ASSIGN(const CatchSummary& summary, summarize_catches(catches));
  NozzleCatches nozzles;
  nozzles.all = summary.mean * summary.count;
  if (summary.count < 2) return nozzles;
  const auto [least, most] = std::minmax_element(catches.begin(), catches.end());
  nozzles.difference = (*most - *least) / summary.mean;
  return nozzles;
}

Result<VolumePerArea> rate_from_course(Volume caught, Length course, Length swath) {
  if (!is_usable(caught)) return refuse(Trouble::BadInput, "calibrate.catch"_w, {}, "catch");
  if (!is_usable(course)) return refuse(Trouble::BadInput, "calibrate.course"_w, {}, "course");
  if (!is_usable(swath)) return refuse(Trouble::BadInput, "calibrate.width"_w, {}, "swath");
  return caught / (course * swath);
}

Result<VolumePerArea> rate_from_refill(Volume refilled, Area area, int passes) {
  if (!is_usable(refilled)) return refuse(Trouble::BadInput, "calibrate.catch"_w, {}, "refill");
  if (!is_usable(area)) return refuse(Trouble::BadInput, "calibrate.area"_w, {}, "area");
  if (passes < 1) return refuse(Trouble::BadInput, "calibrate.passes"_w, {}, "passes");
  return refilled / (area * passes);
}

Result<VolumePerArea> rate_from_flow(Flow flow, Speed speed, Length width) {
  if (!is_usable(flow)) return refuse(Trouble::BadInput, "calibrate.flow"_w, {}, "flow");
  if (!is_usable(speed)) return refuse(Trouble::BadInput, "calibrate.speed"_w, {}, "speed");
  if (!is_usable(width)) return refuse(Trouble::BadInput, "calibrate.width"_w, {}, "width");
  return flow / (speed * width);
}

Result<Flow> flow_for_rate(VolumePerArea rate, Speed speed, Length width) {
  if (!is_usable(rate)) return refuse(Trouble::BadInput, "calibrate.rate"_w, {}, "rate");
  if (!is_usable(speed)) return refuse(Trouble::BadInput, "calibrate.speed"_w, {}, "speed");
  if (!is_usable(width)) return refuse(Trouble::BadInput, "calibrate.width"_w, {}, "width");
  return rate * (speed * width);
}

Result<Speed> speed_for_rate(VolumePerArea rate, Flow flow, Length width) {
  if (!is_usable(rate)) return refuse(Trouble::BadInput, "calibrate.rate"_w, {}, "rate");
  if (!is_usable(flow)) return refuse(Trouble::BadInput, "calibrate.flow"_w, {}, "flow");
  if (!is_usable(width)) return refuse(Trouble::BadInput, "calibrate.width"_w, {}, "width");
  return flow / rate / width;
}

Result<VolumePerArea> per_bed_top(VolumePerArea per_swath, Length swath, Length bed_top) {
  if (!is_usable(per_swath)) return refuse(Trouble::BadInput, "calibrate.rate"_w, {}, "rate");
  if (!is_usable(swath)) return refuse(Trouble::BadInput, "calibrate.width"_w, {}, "swath");
  if (!is_usable(bed_top)) return refuse(Trouble::BadInput, "calibrate.width"_w, {}, "bed-top");
  return per_swath * (swath / bed_top);
}

Result<double> rate_change(VolumePerArea now, VolumePerArea before) {
  if (!is_usable(now)) return refuse(Trouble::BadInput, "calibrate.rate"_w, {}, "rate");
  if (!is_usable(before)) return refuse(Trouble::BadInput, "calibrate.rate"_w, {}, "before");
  return now / before - 1;
}

Result<VolumePerArea> band_rate(VolumePerArea in_band, Length band, Length spacing) {
  if (!is_usable(in_band)) return refuse(Trouble::BadInput, "calibrate.rate"_w, {}, "rate");
  if (!is_usable(band)) return refuse(Trouble::BadInput, "calibrate.width"_w, {}, "band");
  if (!is_usable(spacing)) return refuse(Trouble::BadInput, "calibrate.width"_w, {}, "spacing");
  if (band > spacing) return refuse(Trouble::BadInput, "calibrate.band-wider"_w, {}, "band");
  return in_band * (band / spacing);
}

}  // namespace steep
