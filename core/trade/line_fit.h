#pragma once
/// The straight line closest to some points, and how sure it is.
///
/// Source:   [NIST-HB] NIST/SEMATECH e-Handbook of Statistical Methods, 4.1 (ordinary least squares).
/// Formula:  b = Σ (x − x̄)(y − ȳ) / Σ (x − x̄)²;  a = ȳ − b x̄;  s² = Σ r² / (n − 2)
/// Changes:  none; sums are taken about the means, so that leading digits in common do no harm.
/// Limits:   3 points or more, not all at one x.
/// Accuracy: 9 digits and more on the reference set Norris.

#include <span>

#include "base/result.h"

namespace steep {

struct LinePoint {
  double x = 0, y = 0;
};

struct FittedLine {
  double intercept = 0, slope = 0;
  double deviation = 0;    ///< Standard deviation of the residuals, by n − 2.
  double slope_error = 0;  ///< Standard errors.
  double intercept_error = 0;
  double mean_x = 0;
  double spread_x = 0;  ///< Σ (x − x̄)².
  double points = 0;
  double at(double x) const { return intercept + slope * x; }
};

/// Trouble: BadInput  fewer than 3 points, all at one x, or one not finite.
Result<FittedLine> fit_line(std::span<const LinePoint> points);

}  // namespace steep
