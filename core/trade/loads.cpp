#include "trade/loads.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace steep {
namespace {

constexpr double kSame = 1e-9;  ///< Relative: rounding of what people wrote, not another load.
constexpr int kMostLoads = 1000;

bool is_positive(double value) { return std::isfinite(value) && value > 0; }

Result<Area> checked_area(const LoadPlanInput& input) {
  if (input.beds.empty()) return refuse(Trouble::BadInput, "loads.no-beds"_w, {}, "beds");
  Area sum;
  for (const LoadBed& bed : input.beds) {
    if (!is_positive(bed.area.si())) return refuse(Trouble::BadInput, "loads.no-area"_w, {}, "beds");
    sum += bed.area;
  }
  if (!is_positive(input.spray_rate.si())) return refuse(Trouble::BadInput, "loads.spray-rate"_w, {}, "spray-rate");
  if (!(input.tea_rate.si() >= 0)) return refuse(Trouble::BadInput, "loads.tea-rate"_w, {}, "tea-rate");
  if (input.tea_rate.si() > input.spray_rate.si() * (1 + kSame))
    return refuse(Trouble::BadInput, "loads.more-tea-than-spray"_w, {}, "tea-rate");
  if (!is_positive(input.tank.si())) return refuse(Trouble::BadInput, "loads.tank"_w, {}, "tank");
  if (!(input.dead.si() >= 0) || input.dead >= input.tank)
    return refuse(Trouble::BadInput, "loads.dead-volume"_w, {}, "dead-volume");
  return sum;
}

Mix mix_of(Volume spray, double tea_fraction) {
  const Volume tea = spray * tea_fraction;
  return {tea, spray - tea};
}

}  // namespace

PlaceInWalk place_after(Area treated, std::span<const LoadBed> beds, Walk walk) {
  assert(!beds.empty());
  const double whole = treated.si();
  double before = 0;
  for (std::size_t i = 0; i < beds.size(); ++i) {
    const double here = beds[i].area.si();
    const bool from_far_end = walk == Walk::TurnAtEachBed && i % 2 == 1;
    const Stretch& bed = beds[i].stretch;
    const double share = (whole - before) / here;
    if (share <= 1 + kSame || i + 1 == beds.size()) {
      if (share >= 1 - kSame) return {i, from_far_end ? bed.from : bed.to, false};
      const double along = std::fmax(share, 0);
      return {i, from_far_end ? bed.to - bed.length() * along : bed.from + bed.length() * along, true};
    }
    before += here;
  }
  return {};
}

Result<double> product_for(const Written& rate, Volume spray, VolumePerArea spray_rate) {
  const double amount = si(rate).to_double();
  switch (rate.dimension()) {
    case Dimension::VolumePerVolume:
    case Dimension::MassPerVolume: return amount * spray.si();
    case Dimension::VolumePerArea:
    case Dimension::MassPerArea:
      if (!is_positive(spray_rate.si())) return refuse(Trouble::BadInput, "loads.spray-rate"_w, {}, "spray-rate");
      return amount * (spray / spray_rate).si();
    default: return refuse(Trouble::BadInput, "loads.product-rate"_w, {rate.text}, "product");
  }
}

Result<LoadPlan> plan_loads(const LoadPlanInput& input) {
  LoadPlan plan;
  TRY_ASSIGN(plan.area, checked_area(input));
  plan.tea_fraction = std::fmin(1.0, input.tea_rate / input.spray_rate);
  const Volume spray = input.spray_rate * plan.area;
  const Volume at_most = input.tank - input.dead;
  const double tankfuls = std::ceil(spray / at_most * (1 - kSame));
  if (tankfuls > kMostLoads) return refuse(Trouble::OutOfRange, "loads.too-many"_w, {}, "tank");
  const int count = std::max(1, static_cast<int>(tankfuls));

  plan.on_beds = mix_of(spray, plan.tea_fraction);
  plan.left = mix_of(input.dead, plan.tea_fraction);
  plan.total = mix_of(spray + input.dead, plan.tea_fraction);
  Area treated;
  for (int i = 0; i < count; ++i) {
    LoadPlan::Load load;
    const Volume sprayed_before = input.spray_rate * treated;
    load.can_spray = input.split == LoadSplit::Equal ? spray / count : i + 1 < count ? at_most : spray - sprayed_before;
    load.in_tank = mix_of(load.can_spray + input.dead, plan.tea_fraction);
    load.to_add = i == 0 ? load.in_tank : mix_of(load.can_spray, plan.tea_fraction);
    load.area = load.can_spray / input.spray_rate;
    treated += load.area;
    const PlaceInWalk place =
        i + 1 < count ? place_after(treated, input.beds, input.walk) : place_after(plan.area, input.beds, input.walk);
    load.last_bed = place.bed;
    load.ends_at = place.at;
    load.ends_within_bed = place.within;
    plan.loads.push_back(load);
  }
  return plan;
}

}  // namespace steep
