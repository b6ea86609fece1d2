#pragma once
/// Which numbers bring a curve closest to the readings, and how well do the readings fix each of them?
///
/// Source:   [MARQUARDT-1963] D. W. Marquardt, J. Soc. Indust. Appl. Math. 11, 431 (1963); standard errors by linear
///           theory at the least, as in any text on regression. Rotations by Eigen.
/// Formula:  (JᵀJ + λ) δ = −Jᵀr, columns of J scaled to length 1;  s² = Σ r² / (m − n);  var = s² (JᵀJ)⁻¹
/// Changes:  JᵀJ is taken apart into eigenvectors: one whose eigenvalue vanishes is a direction that the readings leave
///           open, and every parameter that has a part in it is said to be open instead of given a made-up error.
/// Limits:   1–6 parameters, at least one reading more than parameters. The least that is found is the one below the
///           start: callers begin near, or from several starts.
/// Accuracy: derivatives by central differences; parameters to some 8 digits where the readings fix them.

#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "base/result.h"

namespace steep {

/// Writes curve − reading for each reading; false where there is no curve of these parameters.
using Misfit = std::function<bool(std::span<const double> parameters, std::span<double> residuals)>;

struct LeastSquares {
  std::vector<double> values;
  std::vector<std::optional<double>> errors;  ///< Standard errors; nullopt = the readings leave this one open.
  double sum = 0;                             ///< Of the squared residuals.
  double deviation = 0;                       ///< Standard deviation of the residuals, by m − n.
};

/// Trouble: BadInput    not more readings than parameters
///          OutOfRange  no curve at `start`, or no end is reached within 200 steps
Result<LeastSquares> least_squares(const Misfit& misfit, std::size_t readings, std::span<const double> start);

}  // namespace steep
