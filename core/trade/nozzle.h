#pragma once
/// What does this nozzle give at another pressure, and is it worn or clogged?
///
/// Source:   [ISO-10625] nominal flows at 3 bar by size and color (flows from memory, colors 01–08 confirmed);
///           [AZ-2012] size = US gal/min at 40 psi; square-root law: common to all extension sheets.
/// Formula:  q2 = q1 sqrt(p2 / p1);  wear = measured / new − 1
/// Changes:  none. A US-marked tip (gal/min at 40 psi) gives 1.3 % less at 3 bar than the ISO nominal: both are offered.
/// Limits:   pressures above 0. The law holds for hydraulic nozzles within their maker's pressure range, which is not known here.
/// Accuracy: some 2 %; the limits for worn (10 % over new) and clogged (10 % under) are the farm's, common practice.

#include <span>
#include <string_view>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// Trouble: OutOfRange  a value not above 0.
Result<Flow> flow_at_pressure(Flow known, Pressure at, Pressure wanted);
/// The pressure that gives a flow. Trouble: OutOfRange  a value not above 0.
Result<Pressure> pressure_for_flow(Flow known, Pressure at, Flow wanted);

struct IsoNozzle {
  std::string_view size;   ///< '02'
  std::string_view color;  ///< A stored word: 'yellow'.
  Flow nominal;            ///< At 3 bar.
};
/// Sizes 01 to 20.
std::span<const IsoNozzle> iso_nozzles();
/// By size, '02' or '2' written alike; nullptr when it is not a size of the standard.
const IsoNozzle* find_iso_nozzle(std::string_view size);
/// The size whose nominal flow is nearest to a flow at a pressure; nullptr when none lies within 12 %.
const IsoNozzle* nearest_iso_nozzle(Flow flow, Pressure at);

enum class NozzleState { AsNew, Worn, Clogged };
struct NozzleCheck {
  double change = 0;  ///< measured / new − 1.
  NozzleState state = NozzleState::AsNew;
};
/// `worn` and `clogged` are shares, above 0: worn at new × (1 + worn) or more, clogged at new × (1 − clogged) or less.
/// Trouble: OutOfRange  a flow not above 0.
Result<NozzleCheck> check_nozzle(Flow measured, Flow fresh, double worn = 0.10, double clogged = 0.10);

}  // namespace steep
