#pragma once
/// Tukey's studentized range: how far apart do the greatest and the least of k means lie by chance alone?
///
/// Source:   [TUKEY] the distribution as in any text on multiple comparisons.
/// Formula:  P(Q < q) = ∫ f(s) W(q s) ds,  W(w) = k ∫ φ(z) [Φ(z) − Φ(z − w)]^(k−1) dz,  f the density of √(χ²/ν)
/// Changes:  both integrals by the trapezoid rule, the outer one in ln s: for such smooth functions that vanish at both ends it
///           converges faster than any power of the step. Two means go by Student's t, of which their range is √2 times.
/// Limits:   2–50 means, 1 to 1e6 degrees of freedom.
/// Accuracy: 8 digits against independent values.

#include "base/result.h"

namespace steep {

/// The chance of a range of at least `q`. Trouble: OutOfRange  outside the limits, or q negative.
Result<double> studentized_range_upper_tail(double q, int means, double degrees_of_freedom);
/// The range that is exceeded with the chance 1 − p, p from 0.5 to 0.999. Trouble: OutOfRange.
Result<double> studentized_range_quantile(double p, int means, double degrees_of_freedom);

}  // namespace steep
