#pragma once
/// What does this rig put on, in volume per area, walked as it was walked?
///
/// Three ways: catch what comes out while walking a measured course; spray a measured area and refill to
/// the mark; catch each nozzle for a time and take speed and width. The result is per area of *swath*.
/// On beds it is also wanted per area of *bed top*: the same liquid over another width.
///
/// Source:   [EXT-OK] Oklahoma State University turf fact sheet; [EXT-MESA] Mesa County (CO) stationary
///           calibration; arithmetic of units.
/// Formula:  GPA = 5940 · GPM / (mph · inches) = 495 · GPM / (mph · feet);  L/ha = 600 · (L/min) / (km/h · m)
/// Changes:  in SI all three are rate = flow / (speed × width); the constants are exact, so nothing is lost.
/// Limits:   quantities above 0 and finite.
/// Accuracy: that of the catches; their spread is given, since one catch says nothing about the next.

#include <optional>
#include <span>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// Mean of repeated catches and how far they scatter.
struct CatchSummary {
  Volume mean;
  int count = 0;
  /// Largest distance of one catch from the mean, as part of the mean. Two or more catches, else nullopt.
  std::optional<double> spread;
};

/// Trouble: BadInput  no catches, or one that is not above 0.
Result<CatchSummary> summarize_catches(std::span<const Volume> catches);

/// One catch from each nozzle over the same time: what the whole swath gave.
struct NozzleCatches {
  Volume all;
  /// Fullest less emptiest, as part of their mean. Two or more nozzles, else nullopt.
  std::optional<double> difference;
};

/// Trouble: BadInput  no catches, or one that is not above 0.
Result<NozzleCatches> add_nozzles(std::span<const Volume> catches);

/// Walk and catch: `caught` from the whole swath while covering `course`.
/// Trouble: BadInput  something not above 0.
Result<VolumePerArea> rate_from_course(Volume caught, Length course, Length swath);

/// Refill: `refilled` to the mark after spraying `area` `passes` times.
/// Trouble: BadInput  something not above 0, passes below 1.
Result<VolumePerArea> rate_from_refill(Volume refilled, Area area, int passes = 1);

/// Nozzle catch: flow through `width` (spacing of one nozzle, or the swath of all) at walking or driving speed.
/// Trouble: BadInput  something not above 0.
Result<VolumePerArea> rate_from_flow(Flow flow, Speed speed, Length width);

/// The flow that one nozzle must give for a rate. Trouble: BadInput  something not above 0.
Result<Flow> flow_for_rate(VolumePerArea rate, Speed speed, Length width);

/// The speed at which a flow gives a rate. Trouble: BadInput  something not above 0.
Result<Speed> speed_for_rate(VolumePerArea rate, Flow flow, Length width);

/// The same liquid, once per area of swath, once per area of bed top: all of it is charged to the bed,
/// also what falls beside it. Trouble: BadInput  something not above 0.
Result<VolumePerArea> per_bed_top(VolumePerArea per_swath, Length swath, Length bed_top);

/// How far a rate lies from an earlier one, as part of that one: −0.03 = 3 % less. Trouble: BadInput  not above 0.
Result<double> rate_change(VolumePerArea now, VolumePerArea before);

/// A band of `band` in rows `spacing` apart: what a broadcast rate inside the band is over the whole field.
/// Trouble: BadInput  something not above 0, or the band wider than the spacing.
Result<VolumePerArea> band_rate(VolumePerArea in_band, Length band, Length spacing);

}  // namespace steep
