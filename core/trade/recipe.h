#pragma once
/// How much of each thing goes into this fill? A recipe written for one volume, scaled to the working volume.
///
/// Source:   the farm's recipes; common practice, no source.
/// Formula:  amount = reference amount × fill / reference volume, or read from the line's own table
/// Changes:  ranges stay ranges; each line stays in its own unit (weight and volume are never turned into each other
///           here). Scaling goes to the *fill*, with headroom for foam, not to the vessel's brim.
/// Limits:   a table is read by straight lines between its rows, and is not extended beyond its ends.
/// Accuracy: exact; nothing is rounded.

#include <optional>
#include <span>
#include <vector>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// In the line's own unit, whatever it is. low ≤ high; equal for a single amount.
struct AmountRange {
  double low = 0, high = 0;
  bool operator==(const AmountRange&) const = default;
};

/// One row of a line's own table: so much for this fill.
struct ScalingRow {
  Volume fill;
  AmountRange amount;
};

/// The fill of a vessel: nominal volume less the empty space at the top.
/// Trouble: BadInput  nominal not above 0, headroom negative or not smaller than nominal.
Result<Volume> working_volume(Volume nominal, Volume headroom);

/// Factor by which lines in proportion grow. Trouble: BadInput  a volume not above 0.
Result<double> scale_factor(Volume reference, Volume fill);

/// A line in proportion. Trouble: BadInput  factor not above 0, a negative amount, low above high.
Result<AmountRange> scaled_in_proportion(AmountRange reference, double factor);

/// A line with its own table, rows in any order, at least 2 of different fill.
/// Trouble: BadInput  fewer rows, equal fills, negative amounts; OutOfRange  fill outside the table.
Result<AmountRange> scaled_by_table(std::span<const ScalingRow> table, Volume fill);

/// How an amount really used stands to the scaled range.
enum class UseCheck { Below, Within, Above };
/// Above: more than `tolerance` (as a share) over the high end: the caller warns.
UseCheck compare_use(double used, AmountRange scaled, double tolerance = 0.05);

}  // namespace steep
