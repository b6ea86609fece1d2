#pragma once
/// The most probable number in a gram or milliliter, from tubes that grew and tubes that did not.
///
/// Source:   [BAM-APP2] FDA Bacteriological Analytical Manual, appendix 2 (October 2010); interval by likelihood ratio
///           [RIDOUT-1994], by the normal approximation [JARVIS-2010]; rarity index [BLODGETT-2002].
/// Formula:  Σ p a / (1 − exp(−m a)) = Σ n a   with a amount in each tube, n tubes, p that grew, m the number sought;
///           likelihood: 2 [ln L(m) − ln L(limit)] = χ²(confidence; 1);
///           normal: ln limit = ln m ± z / (m √Σ p a² e^(−ma) / (1 − e^(−ma))²);
///           rarity = Π L(p | m) / L(likeliest p | m)
/// Changes:  where no tube grew, or all did, the interval has one end: L = 1 − confidence there.
/// Limits:   1 to 20 dilutions of 1 to 10,000 tubes; amounts from 10^-15 to 10^6. Microbes spread evenly and apart: a clump
///           counts as one.
/// Accuracy: the manual prints two digits. Its own intervals are of yet another construction and are not computed here.

#include <optional>
#include <span>

#include "base/result.h"

namespace steep {

/// One dilution.
struct TubeRow {
  double amount = 0;  ///< Of the original sample in each tube; all rows in one unit, the answer is per that unit.
  int tubes = 0;
  int grew = 0;
};

enum class MpnInterval { Likelihood, Normal };

struct Mpn {
  enum class Kind {
    Between,   ///< `number` is the most probable number.
    NoneGrew,  ///< Fewer than `number`: that of one tube of the smallest amount having grown.
    AllGrew,   ///< More than `number`: that of one tube of the smallest amount not having grown.
  };
  Kind kind = Kind::Between;
  double number = 0;
  std::optional<double> low, high;  ///< No low end when none grew, no high end when all did.
  double rarity = 1;                ///< 1: no outcome is likelier at that number; near 0: hardly ever seen.
};

/// `confidence` is a share from 0.5 to 0.9999.
/// Trouble: OutOfRange  outside the limits above; BadInput  no rows, or more grew than there are tubes.
Result<Mpn> most_probable_number(std::span<const TubeRow> rows, double confidence = 0.95,
                                 MpnInterval interval = MpnInterval::Likelihood);

}  // namespace steep
