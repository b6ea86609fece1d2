#pragma once
/// Is there a difference between treatments, how large, and can this trial tell?
///
/// Source:   [STUDENT-1908] paired t; [WELCH-1947] two groups of unlike scatter; [NIST-HB] 7.4.3 one-way analysis of variance,
///           7.4.3.8 randomized blocks; [TUKEY] joint intervals of several means. Checked on [NIST-STRD] and R.
/// Formula:  t = d̄ / (s_d/√n);  t = (x̄1 − x̄2)/√(s1²/n1 + s2²/n2), ν = (a1 + a2)²/(a1²/(n1 − 1) + a2²/(n2 − 1)), a = s²/n;
///           F = (SS_t/ν_t)/(SS_e/ν_e);  blocks: SS_e = Σ (y − ȳ_t − ȳ_b + ȳ)²;
///           x̄1 − x̄2 ± q(P; k, ν)/√2 · s_e √(1/n1 + 1/n2)
/// Changes:  sums are taken about the means, so that leading digits in common do no harm. With unlike numbers of strips the last
///           line is Tukey and Kramer's, a little wide.
/// Limits:   2 strips of a treatment at least; in blocks every treatment equally often in every block (a lost strip costs its
///           block). Values roughly normal about their means, drawn at random: a sunny edge looks like a treatment.
/// Accuracy: 9 digits on the reference sets. A difference that the interval does not fix has no sign, whatever its middle.

#include <optional>
#include <span>
#include <vector>

#include "base/result.h"

namespace steep {

struct StripPair {
  double treated = 0, untreated = 0;
};

/// One group in three numbers.
struct Sample {
  double n = 0, mean = 0, deviation = 0;  ///< Standard deviation, by n − 1.
};
/// Trouble: BadInput  fewer than 2 values, or one not finite.
Result<Sample> sample_of(std::span<const double> values);

struct Difference {
  double difference = 0;  ///< First − second, treated − untreated.
  double low = 0, high = 0;
  double standard_error = 0, degrees_of_freedom = 0;
  double t = 0, p = 0;  ///< p: the chance of so much or more, either way, among strips alike.
};
enum class Verdict { More, Less, CannotTell };
/// CannotTell when the interval holds 0.
Verdict verdict(const Difference& difference);

/// Neighbors compared. Trouble: BadInput  fewer than 2 pairs, all differences alike; OutOfRange  confidence not 0.5–0.999.
Result<Difference> paired_difference(std::span<const StripPair> pairs, double confidence = 0.95);
/// Two groups of unlike scatter (Welch). Trouble: as above.
Result<Difference> welch_difference(const Sample& first, const Sample& second, double confidence = 0.95);

struct Plot {
  std::size_t treatment = 0, block = 0;  ///< From 0 on.
  double value = 0;
};

/// A part of the sum of squares.
struct SumOfSquares {
  double sum = 0, degrees_of_freedom = 0;
  double mean() const { return sum / degrees_of_freedom; }
};
struct Anova {
  std::vector<Sample> groups;  ///< By treatment.
  SumOfSquares treatments, rest;
  std::optional<SumOfSquares> blocks;
  double f = 0, p = 0;  ///< Of treatments.
};
/// Groups without blocks. Trouble: BadInput  fewer than 2 groups, fewer than 2 values in one, no scatter at all.
Result<Anova> one_way(std::span<const Sample> groups);
/// Trouble: BadInput  fewer than 2 treatments or blocks, a treatment not equally often in every block, no scatter left.
Result<Anova> randomized_blocks(std::span<const Plot> plots);

/// Every treatment against a reference, with intervals that hold for all pairs together; of two treatments alone they are those
/// of t. By treatment; the reference's own is all 0. Trouble: OutOfRange  confidence not 0.5–0.999.
Result<std::vector<Difference>> joint_differences(const Anova& anova, std::size_t reference, double confidence = 0.95);

}  // namespace steep
