#pragma once
/// Is the pump enough for this brew, at the depth at which its air comes out?
///
/// Source:   the target of 1 L/min per US gallon: common practice, no source (a setting of the farm, with whose number it
///           is). Back pressure: hydrostatics, [TAMU-HYDRO] 0.433 psi per foot. Pump curve: the maker's table.
/// Formula:  back pressure = density × 9.80665 m/s² × depth + losses; delivered flow from the curve, straight lines between rows
/// Changes:  none.
/// Limits:   depth 0–10 m. A curve is not extended: below its first pressure the pump gives *at least* that row's flow, above
///           its last the answer is refused.
/// Accuracy: that of the maker's table; two digits deserve to be shown. Flow is free air, as rated.

#include <span>
#include <vector>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

constexpr double kStandardGravity_m_s2 = 9.80665;  ///< Exact by definition.
/// Conventional density of water for gauges; real water at 20 °C has 998.2.
constexpr Density kConventionalWater = Density::from_kilograms_per_cubic_meter(1000);

/// Pressure at a depth of still water. Trouble: OutOfRange  depth outside 0–10 m, density not above 0.
Result<Pressure> hydrostatic_pressure(Length depth, Density water = kConventionalWater);

struct PumpPoint {
  Pressure pressure;
  Flow flow;
};

struct DeliveredFlow {
  Flow flow;
  bool at_least = false;  ///< Below the first pressure of the curve: it may be more.
};

/// Trouble: BadInput  no points, negative values, a curve that rises, two points of one pressure;
///          OutOfRange  a back pressure above the last point: the pump may give nothing there.
Result<DeliveredFlow> delivered_flow(std::span<const PumpPoint> curve, Pressure back_pressure);

/// When a maker states only free-air flow and greatest pressure: a straight line between them. Common practice, no source.
/// Trouble: BadInput  values not above 0.
Result<std::vector<PumpPoint>> straight_curve(Flow free_air, Pressure greatest);

/// Air that a target per volume asks for. Trouble: BadInput  a value not above 0.
Result<Flow> air_needed(FlowPerVolume target, Volume brew);

}  // namespace steep
