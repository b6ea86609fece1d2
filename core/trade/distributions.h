#pragma once
/// Quantiles and tails of the distributions that the trade's statistics need. The only door to Boost.Math:
/// arguments are checked here, errors come back as values, nothing is thrown.
///
/// Source:   [BOOST-MATH] Boost.Math, header-only.
/// Limits:   refuses what the distribution is not defined for. p strictly between 0 and 1 for quantiles.
/// Accuracy: Boost.Math's, about 15 digits.

#include "base/result.h"

namespace steep {

/// Student's t: the value that a share `p` lies below. Degrees of freedom > 0, also fractional (Welch).
Result<double> t_quantile(double p, double degrees_of_freedom);
/// Two-sided tail: the chance of |T| at least |t|.
Result<double> t_two_sided(double t, double degrees_of_freedom);
/// F: upper tail, the chance of a ratio of at least `f` (f ≥ 0).
Result<double> f_upper_tail(double f, double df1, double df2);
Result<double> chi_squared_quantile(double p, double degrees_of_freedom);
Result<double> chi_squared_upper_tail(double x, double degrees_of_freedom);
Result<double> normal_quantile(double p);

}  // namespace steep
