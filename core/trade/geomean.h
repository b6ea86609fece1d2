#pragma once
/// What are the geometric mean and the statistical threshold value of a set of water samples, and how do they stand against
/// a pair of numbers that somebody set?
///
/// Source:   [EPA-RWQC-2012] geometric mean (GM) and statistical threshold value (STV), pairs of numbers from memory;
///           [UKSI-1675] 1.282 for the 90th percentile.
/// Formula:  GM = 10^mean(log10 x);  STV = 10^(mean + 1.282 s), s of log10 x with n − 1
/// Changes:  a result 'below 1' enters as 1, 'above 2419' as 2419: the answer says so. Logarithms are taken against the first
///           value, so that equal values give exactly their own value.
/// Limits:   values above 0, up to 10^12; 1 to 10,000 of them. Zeros have no logarithm: the test's lowest number is needed.
/// Accuracy: exact arithmetic to 12 digits; equal to a limit within 10^-12 of it counts as not over it.

#include <optional>
#include <span>

#include "base/result.h"

namespace steep {

constexpr double kStvFactor = 1.282;  ///< 90th percentile of the normal distribution, as the rules print it.

struct GmStv {
  int samples = 0;
  double gm = 0;
  std::optional<double> log_sd;  ///< Of log10; needs 2 samples.
  std::optional<double> stv;
};
/// Trouble: BadInput  no value; OutOfRange  a value not above 0 or too large, more than 10,000 values.
Result<GmStv> gm_and_stv(std::span<const double> values, double factor = kStvFactor);

/// `value` is over `limit`: by more than rounding. 126 five times is not over 126.
bool is_over(double value, double limit);

/// How many of the samples lie over an STV, and whether that is more than one in ten: 2 of 20 is not, 2 of 19 is.
struct Excursions {
  int samples = 0, over = 0;
  bool more_than_tenth() const { return 10 * over > samples; }
};
/// Trouble: BadInput  no value, a limit not above 0.
Result<Excursions> excursions(std::span<const double> values, double stv_limit);

}  // namespace steep
