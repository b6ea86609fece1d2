#pragma once
/// What lag, rate and plateau do these counts show?
///
/// Source:   the curves of growth.h; least squares on log10 counts by [MARQUARDT-1963]; a straight line through few counts.
/// Changes:  a lag that comes out below 0 is held at 0, and the answer says so.
/// Limits:   5 counts or more for a curve, 3 for a line; counts above 0, times 0–1,000 h. Counts that never level off leave the
///           plateau open, counts that begin after the lag leave the lag open: such numbers have no error and deserve no use.
/// Accuracy: standard errors by linear theory, of the fit alone.

#include <optional>
#include <span>

#include "trade/growth.h"

namespace steep {

struct CountAt {
  Duration at;
  double log10 = 0;  ///< Of the count; any unit, the same for all.
};

struct GrowthFit {
  Growth growth;
  /// Standard errors; nullopt = left open by the counts.
  std::optional<double> start_error, end_error, rate_error;
  std::optional<Duration> lag_error;
  bool lag_held = false;  ///< Held at 0.
  double sum = 0;         ///< Of squared residuals, log10².
  double deviation = 0;   ///< Standard deviation of the residuals, log10.

  /// The counts tell where it ends: to half a log10.
  bool end_is_known() const { return end_error && *end_error < 0.5; }
};
/// Trouble: BadInput  too few counts, all at one time or all alike; OutOfRange  a value outside the limits, or no curve fits.
Result<GrowthFit> fit_growth(GrowthCurve curve, std::span<const CountAt> counts);

struct ExponentialFit {
  double start = 0;  ///< log10 at time 0.
  double rate_per_h = 0, rate_error = 0;
  double deviation = 0;  ///< log10.
};
/// Growth without lag and plateau. Trouble: as above.
Result<ExponentialFit> fit_exponential(std::span<const CountAt> counts);

}  // namespace steep
