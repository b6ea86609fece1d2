#pragma once
/// How many are in a milliliter, from what was counted under the microscope or in a counting chamber?
///
/// Source:   geometry; field number = diameter of the field in the eyepiece, in mm (microscope makers' definition).
///           Interval: Garwood's, see poisson.h. Published examples: [PROTO-57], [RICE-BLOOD], [BIOED-DROP], [GA-417439].
/// Formula:  field diameter = field number / (objective · tube factor);  field area = π d² / 4;
///           volume of a field = drop · field area / cover area;  of a square = area · depth;
///           N = count / (fields · volume of one) · dilution
/// Changes:  none.
/// Limits:   field number 5–40 mm, objective 1–200, tube factor 0.5–3; a field is not larger than the cover slip; depth of a
///           chamber up to 1 mm; dilution 1 to 10^9.
/// Accuracy: the interval is that of chance alone. Drop size, clumps and what an eye takes for a cell come on top: two
///           significant digits deserve to be shown, three are shown.

#include <cstdint>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// Trouble: OutOfRange  field number, objective or tube factor outside the limits above.
Result<Length> field_diameter(Length field_number, double objective, double tube_factor = 1);
/// Of a round field. Trouble: OutOfRange  a diameter not above 0.
Result<Area> field_area(Length diameter);
/// Thickness of the film when a drop spreads under the whole cover slip. Trouble: OutOfRange  drop or cover not above 0.
Result<Length> film_depth(Volume drop, Area cover);
/// What one field shows of a drop under a cover slip, the whole depth looked through.
/// Trouble: OutOfRange  a value not above 0, a field larger than the cover slip.
Result<Volume> field_volume(Area field, Area cover, Volume drop);
/// What stands over one square of a counting chamber. Trouble: OutOfRange  a value not above 0, deeper than 1 mm.
Result<Volume> chamber_volume(Area square, Length depth);

struct CellCount {
  double per_ml = 0, low = 0, high = 0;  ///< In the undiluted sample.
};
/// `count` in all, `looked_at` in all (fields × volume of one). `dilution` 5 = one part in five.
/// Trouble: OutOfRange  volume not above 0, dilution outside the limits above, count or confidence as poisson_interval says.
Result<CellCount> cells_per_ml(std::int64_t count, Volume looked_at, double dilution = 1, double confidence = 0.95);

}  // namespace steep
