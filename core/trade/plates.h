#pragma once
/// How many colony-forming units are in a milliliter (a gram of what was diluted by weight), from plates?
///
/// Source:   [BAM-3] FDA Bacteriological Analytical Manual, chapter 3 (January 2001): plates of 25–250, the formula, the
///           rules for plates outside that range, rounding; [BAM-3-ML] its later edition: 15–300 and weighted mean.
/// Formula:  N = ΣC / [(1 · n1 + 0.1 · n2) · d], the later edition's Σ(Vi/ΣV)(Ni/Vi): both are ΣC / ΣV, with V the amount of
///           the original sample on a plate
/// Changes:  ΣC / ΣV serves any number of dilutions and any plated volume. The later edition's likelihood for plates too
///           numerous to count is not used: such plates are left out. Beside N stand Garwood's limits of ΣC.
/// Limits:   dilution 1 to 10^12, 0.001 to 10 mL plated, up to 10^6 colonies a plate, 1 to 200 plates.
/// Accuracy: two significant digits, as the manual reports; the interval is that of chance alone, dilution and clumps not counted.

#include <cstdint>
#include <optional>
#include <span>

#include "base/result.h"
#include "quantity/quantities.h"
#include "trade/poisson.h"

namespace steep {

enum class PlateState {
  Counted,
  TooMany,   ///< Too numerous to count. A number may stand beside it: an estimate from parts of the plate.
  Spreader,  ///< Grown over.
  Accident,  ///< Contaminated or otherwise spoiled in the laboratory.
};

struct Plate {
  double dilution = 1;  ///< 100 = one part in a hundred.
  Volume plated = Volume::from_milliliters(1);
  std::optional<std::int64_t> colonies;
  PlateState state = PlateState::Counted;
};

/// Colonies of a plate that may be counted on.
struct CountingRange {
  std::int64_t least = 25, most = 250;
};
constexpr CountingRange kBamRange{25, 250};       ///< 2001.
constexpr CountingRange kBamLaterRange{15, 300};  ///< The later edition, after ISO.

struct PlateCount {
  enum class Kind {
    Counted,    ///< From plates within the range.
    Estimated,  ///< From the plates nearest the range's upper end.
    FewerThan,  ///< Every plate is under the range: `per_ml` is what it is fewer than.
    MoreThan,   ///< Over 100 colonies a square centimeter: `per_ml` is what it is more than.
  };
  Kind kind = Kind::Counted;
  double per_ml = 0;
  std::int64_t colonies = 0;          ///< Of the plates used.
  int plates = 0;                     ///< How many were used.
  Volume sample;                      ///< Of the original sample on the plates used.
  std::optional<CountLimits> limits;  ///< Per mL, of what was counted on the plates used; none for MoreThan.
  std::optional<double> scatter;      ///< chance_of_scatter of two plates and more.
};

/// `plate_area` lets a crowded plate be reported as 'more than 100 a square centimeter'.
/// Trouble: OutOfRange  a value outside the limits above; BadInput  a counted plate without a number, or no plate left that
/// can be counted.
Result<PlateCount> plate_count(std::span<const Plate> plates, CountingRange range = kBamRange,
                               std::optional<Area> plate_area = {}, double confidence = 0.95);

/// The manual's two significant digits: the third digit decides, 6–9 up, 1–4 down, and 5 to the even second digit whatever
/// follows it. `count` not negative.
double two_digits_bam(double count);

}  // namespace steep
