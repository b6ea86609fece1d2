#pragma once
/// How fast do they multiply, and how many will there be?
///
/// Doubling arithmetic, and three curves with lag, growth and plateau. A curve describes counts; it does not say what they are.
///
/// Source:   [ZWIETERING-1990] Zwietering et al., Appl. Environ. Microbiol. 56, 1875 (1990), table 2: logistic and Gompertz;
///           [BARANYI-1994] Baranyi & Roberts, Int. J. Food Microbiol. 23, 277 (1994), with m = 1, v = μ.
/// Formula:  N = N0 2^(t/td);  μ = ln 2 / td.   y = ln(N/N0), A = ln(Nmax/N0), μ per h, lag λ:
///           logistic y = A / (1 + exp(4μ/A (λ − t) + 2));  Gompertz y = A exp(−exp(μe/A (λ − t) + 1));
///           Baranyi  F = t + ln(e^−μt + e^−h0 − e^(−μt − h0)) / μ,  h0 = μλ;  y = μF − ln(1 + (e^μF − 1) / e^A)
/// Changes:  counts are given and answered as log10. Baranyi's logarithms are joined so that nothing overflows.
/// Limits:   rates 1e-6–20 per h, lag 0–1,000 h, times from 0 on, the end above the start. Logistic and Gompertz do not begin
///           exactly at N0: a known bias, the greater the shorter the lag, up to 12 % of A.
/// Accuracy: of counts a tenth of a log10 at best. On the same counts the curves' rates differ by up to 20 %.

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// Count after a time at one doubling time. Trouble: OutOfRange  count not above 0, doubling time not above 0, time
/// negative, or more than 300 doublings.
Result<double> count_after(double count, Duration doubling, Duration elapsed);

struct Doubling {
  double rate_per_h = 0;  ///< μ, of natural logarithms. Negative when they die.
  double doublings = 0;
  Duration doubling_time;  ///< Only where rate_per_h > 0.
};
/// Between two counts. Trouble: OutOfRange  a count or the time not above 0.
Result<Doubling> doubling_between(double first, double later, Duration between);
/// ln 2 / μ. `rate_per_h` above 0.
Duration doubling_time(double rate_per_h);

enum class GrowthCurve { Logistic, Gompertz, Baranyi };

struct Growth {
  double start = 0;       ///< log10 of N0.
  double end = 0;         ///< log10 of Nmax.
  double rate_per_h = 0;  ///< Greatest rate, of natural logarithms.
  Duration lag;
};

/// log10 of the count at a time. Trouble: OutOfRange  outside the limits above.
Result<double> growth_at(GrowthCurve curve, const Growth& growth, Duration time);

/// The curves themselves, y by A, μ per h, λ and t in h; no checks.
double growth_curve(GrowthCurve curve, double A, double mu, double lag, double t);

}  // namespace steep
