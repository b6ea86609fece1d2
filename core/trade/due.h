#pragma once
/// When is the next tea due on a bed? Days of the interval left, per stretch and aim.
///
/// The interval set on the narrowest place counts: planting before crop before block before farm. Only
/// tea with that aim starts it anew, and only on the stretch that it reached. Without an interval there
/// is no answer: no fill on the strip, no flag.
///
/// Source:   the farm's own interval; common practice, no source.
/// Formula:  next = local date of the last finish + days; left = next − today
/// Changes:  a drench counts as tea on soil.
/// Limits:   civil dates of the farm's zone. An interval below 1 day is not an interval and is passed over.
/// Accuracy: whole days.

#include <optional>
#include <span>
#include <vector>

#include "base/moment.h"
#include "base/zone.h"
#include "trade/aim.h"
#include "trade/stretch.h"

namespace steep {

/// Where an interval was set; a greater value is narrower.
enum class IntervalPlace { Farm, Block, Crop, Planting };

struct Interval {
  IntervalPlace place = IntervalPlace::Farm;
  bool on_soil = false;  ///< Else on leaf.
  int days = 0;          ///< 1 or more.
  bool operator==(const Interval&) const = default;
};

/// The one that counts for tea on leaf (or on soil); while copies disagree about one place, the shorter.
/// nullopt: none set, no answer.
std::optional<Interval> interval_in_force(std::span<const Interval> all, bool on_soil);

/// A spray with tea in it (no tea: do not pass it).
struct TeaDose {
  Stretch stretch;
  Aim aim = Aim::Leaf;
  Moment finish;
};

struct DueStretch {
  Stretch stretch;
  std::optional<Moment> last;  ///< Finish of the last tea with this aim; nullopt: none on record.
  std::optional<Date> next;    ///< Day on which it is due; nullopt when none is on record (due now).
  int days_left = 0;           ///< next − today: 0 = due today, negative = late. 0 when none is on record.
  double share_left = 0;       ///< days_left / interval, held to 0–1: the fill of the strip.
  bool is_due() const { return days_left <= 0; }
};

struct Due {
  Interval interval;
  /// From the zero end, in order; neighbours with the same last day are one. More than one = a cut line.
  std::vector<DueStretch> stretches;
  bool any_due() const;
  bool all_due() const;
};

/// `whole` is the bed, or the planting's stretch of it. nullopt when no interval is in force, or `whole`
/// has no length.
std::optional<Due> due(Stretch whole, std::span<const Interval> intervals, bool on_soil, std::span<const TeaDose> doses,
                       Date today, const Zone& zone);

}  // namespace steep
