#pragma once
/// How much did each bed get from a tankful? For every dose of one load, with how the number was got.
///
/// A measured volume stands. Once the load is closed (what is left in the tank was read), the rest of
/// what went out is shared among the other beds by area. Before that, or when the load's own volumes are
/// not known, the answer is rate × area and marked '~'.
///
/// Source:   mass balance, common practice, no source.
/// Formula:  share = (load − left − measured) × area / areas of the doses not measured
/// Changes:  none. The shares and measured volumes of a closed load add up to load − left.
/// Limits:   measured volumes greater than what the load gave are reported ('load 2 gave more than it
///           held'), and the doses not measured then fall back to the rate: a share is never negative.
/// Accuracy: that of the readings; our sums to 1 part in 10^12.

#include <optional>
#include <span>
#include <vector>

#include "quantity/quantities.h"

namespace steep {

/// One tankful. Volumes of added products are not counted.
struct LoadVolumes {
  std::optional<Volume> tea;  ///< nullopt: not known. Zero: no tea in it.
  std::optional<Volume> water;
  bool closed = false;
  std::optional<Volume> left;  ///< In the tank at its end; nullopt while open or when not taken.
  /// Rates of the pass; nullopt: 'don't know'.
  std::optional<VolumePerArea> spray_rate;
  std::optional<VolumePerArea> tea_rate;
};

struct DoseShare {
  Area area;                       ///< Treated area, in the sense in which the rates are meant.
  std::optional<Volume> measured;  ///< Spray measured for this bed.
  bool skipped = false;            ///< Gets nothing.
};

enum class HowKnown {
  Measured,
  Share,     ///< Share of the closed load by area.
  Rate,      ///< '~': rate × area.
  NotKnown,  ///< No rate, no load volumes, or no area.
  Skipped,
};

/// Always both: the spray, and the tea in it. '1.5 gal spray (0.75 tea)'.
struct ShownVolume {
  HowKnown how = HowKnown::NotKnown;
  std::optional<Volume> spray;                                ///< nullopt with NotKnown.
  std::optional<Volume> tea;                                  ///< nullopt when the part of tea is not known.
  bool is_estimate() const { return how == HowKnown::Rate; }  ///< Shown with '~'.
};

struct LoadShares {
  std::vector<ShownVolume> doses;      ///< One for each dose given, in order.
  std::optional<double> tea_fraction;  ///< Tea in spray, 0–1.
  std::optional<Volume> held;          ///< Tea + water.
  std::optional<Volume> gave;          ///< Held − left, once the load is closed.
  /// Closed, everything measured: what went out and is in no dose. Negative: more was given than the load
  /// held ('overdrawn').
  std::optional<Volume> unaccounted;
  bool overdrawn = false;  ///< Left + measured is more than the load held (by over 1 mL).
};

/// Doses keep their order. Negative or non-finite volumes and areas count as not known.
LoadShares share_load(const LoadVolumes& load, std::span<const DoseShare> doses);

/// Part of tea in a spray from two volumes; nullopt when their sum is not positive.
std::optional<double> tea_fraction(Volume tea, Volume water);

}  // namespace steep
