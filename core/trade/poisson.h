#pragma once
/// How sure is a count, and do counts of one thing differ by more than chance?
///
/// Source:   [GARWOOD-1936] exact limits of a Poisson mean; [FISHER-1922] index of dispersion.
/// Formula:  low = χ²(α/2; 2n) / 2,  high = χ²(1 − α/2; 2n + 2) / 2;
///           X² = Σ (c − e)² / e with e = Σc · size / Σsize, on (counts − 1) degrees of freedom
/// Changes:  none. Of a count of 0 the low end is 0 and the high end stays the two-sided one.
/// Limits:   counts 0 to 10^9; confidence 50 to 99.99 %. What clumps is not Poisson: the interval is then too narrow, which the
///           dispersion shows.
/// Accuracy: exact (the true chance is at least the one named); X² is an approximation where fewer than 5 are expected.

#include <cstdint>
#include <span>

#include "base/result.h"

namespace steep {

struct CountLimits {
  double low = 0, high = 0;
};

/// Limits of the mean behind one count. `confidence` is a share: 0.95.
/// Trouble: OutOfRange  count or confidence outside the limits above.
Result<CountLimits> poisson_interval(std::int64_t count, double confidence = 0.95);

/// The chance that counts of one even mixture scatter at least as far as these: small = they clump, or the sizes are wrong.
/// `sizes`: how much was looked at for each count, any one unit, above 0. Of counts that are all 0 the chance is 1.
/// Trouble: BadInput  fewer than 2 counts, not one size for each, a negative count, a size not above 0.
Result<double> chance_of_scatter(std::span<const std::int64_t> counts, std::span<const double> sizes);

}  // namespace steep
