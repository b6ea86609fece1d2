#pragma once
/// How much oxygen can this water hold, and what part of that is in it?
///
/// Source:   [BK-1984] Benson & Krause 1980, 1984, as in APHA Standard Methods 4500-O and USGS Office of Water Quality
///           memorandum 2011.03 (coefficients read in code that cites them); [ISO-2533] for pressure by elevation.
/// Formula:  ln C0 = −139.34411 + 1.575701e5/T − 6.642308e7/T² + 1.2438e10/T³ − 8.621949e11/T⁴
///                   − S (0.017674 − 10.754/T + 2140.7/T²);  C = C0 P (1 − u/P)(1 − θP) / ((1 − u)(1 − θ))
///           p = 101.325 (1 − 0.0065 h/288.15)^5.2559 kPa
/// Changes:  none. P is the pressure at the place (station pressure); a weather report's sea-level pressure is wrong here.
/// Limits:   0–40 °C, salinity 0–40, 0.5–1.1 atm; elevation −500 to 5,000 m. Outside: refused.
/// Accuracy: 0.2 % by the authors; two decimals of mg/L deserve to be shown.

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// Saturation of dissolved oxygen. `salinity` on the practical scale (g/kg, nearly); 0 for fresh water.
/// Trouble: OutOfRange  outside the limits above.
Result<Concentration> oxygen_saturation(Temperature water, Pressure station, double salinity = 0);

/// A reading as part of saturation. May exceed 1. Trouble: OutOfRange  as above, or a negative reading.
Result<Share> oxygen_share(Concentration reading, Temperature water, Pressure station, double salinity = 0);

/// Pressure of the standard atmosphere. Trouble: OutOfRange  elevation outside −500 to 5,000 m.
Result<Pressure> pressure_at_elevation(Length elevation);

/// Pressure of saturated water vapor over fresh water by the same authors. For 0–40 °C.
Pressure vapor_pressure(Temperature water, double salinity = 0);

}  // namespace steep
