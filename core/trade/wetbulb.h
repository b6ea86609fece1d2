#pragma once
/// Wet bulb and Delta T: do droplets dry up before they land, or hang on for too long?
///
/// Source:   [STULL-2011] R. Stull, J. Appl. Meteor. Climatol. 50, 2267, eq. 1. Bands of Delta T: [BOM-DT] as quoted by
///           peakhydromet.com/delta-t, common thresholds.
/// Formula:  Tw = T atan(0.151977 (RH + 8.313659)^½) + atan(T + RH) − atan(RH − 1.676331)
///                + 0.00391838 RH^1.5 atan(0.023101 RH) − 4.686035;  Delta T = T − Tw
/// Changes:  none.
/// Limits:   5–99 %, −20–50 °C, and not cold and dry at once (T ≥ −2.33 RH + 28.33, the edge of the paper's figure, from
///           memory); sea-level pressure. Outside: refused.
/// Accuracy: −1 to +0.65 °C by the paper. Against the thermodynamic wet bulb (psychrolib, every degree and per cent): −0.65 to
///           +0.83 °C up to 40 °C and from 10 % on; at the edges −1.2 °C under 10 %, +1.2 °C over 40 °C, and up to +2.4 °C
///           where water freezes on the bulb (theirs is that of ice). One decimal.

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// Trouble: OutOfRange  outside the limits above.
Result<Temperature> wet_bulb(Temperature air, Share humidity);
/// Is this an edge of the range, where it may be more than 1 °C off? Of air and humidity within the limits.
bool is_rough_wet_bulb(Temperature air, Share humidity, Temperature wet);
/// Air less wet bulb. Trouble as wet_bulb.
Result<TemperatureDifference> delta_t(Temperature air, Share humidity);

enum class DeltaTBand { Low, Preferred, Marginal, High };
/// Limits of the bands; defaults are common thresholds, a farm sets its own.
struct DeltaTLimits {
  TemperatureDifference low = TemperatureDifference::from_si(2);   ///< Below: droplets live long.
  TemperatureDifference high = TemperatureDifference::from_si(8);  ///< Above: marginal.
  TemperatureDifference top = TemperatureDifference::from_si(10);  ///< Above: high.
};
/// Edges belong to the better band.
DeltaTBand delta_t_band(TemperatureDifference delta, const DeltaTLimits& limits = {});

}  // namespace steep
