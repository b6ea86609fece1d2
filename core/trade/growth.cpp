#include "trade/growth.h"

#include <cmath>
#include <numbers>

namespace steep {
namespace {

using std::numbers::e;
using std::numbers::ln10;
using std::numbers::ln2;

bool is_positive(double x) { return std::isfinite(x) && x > 0; }

double baranyi(double A, double mu, double lag, double t) {
  const double h0 = mu * lag, past = mu * t - h0;
  // μF; the greater of e^−μt and e^−h0 stands before the logarithm.
  const double mu_F =
      past > 0 ? past + std::log1p(std::exp(-past) - std::exp(-mu * t)) : std::log1p(std::exp(past) - std::exp(-h0));
  if (mu_F > A) return A - std::log(std::exp(A - mu_F) + 1 - std::exp(-mu_F));
  return mu_F - std::log1p(std::exp(mu_F - A) - std::exp(-A));
}

}  // namespace

double growth_curve(GrowthCurve curve, double A, double mu, double lag, double t) {
  switch (curve) {
    case GrowthCurve::Logistic: return A / (1 + std::exp(4 * mu / A * (lag - t) + 2));
    case GrowthCurve::Gompertz: return A * std::exp(-std::exp(mu * e / A * (lag - t) + 1));
    case GrowthCurve::Baranyi: return baranyi(A, mu, lag, t);
  }
  return 0;
}

Duration doubling_time(double rate_per_h) { return Duration::from_hours(ln2 / rate_per_h); }

Result<double> count_after(double count, Duration doubling, Duration elapsed) {
  if (!is_positive(count)) return refuse(Trouble::OutOfRange, "growth.count"_w, {}, "count");
  if (!is_positive(doubling.si())) return refuse(Trouble::OutOfRange, "growth.doubling"_w, {}, "doubling-time");
  if (!(elapsed.si() >= 0) || !std::isfinite(elapsed.si()))
    return refuse(Trouble::OutOfRange, "growth.time"_w, {}, "time");
  const double doublings = elapsed / doubling;
  if (doublings > 300) return refuse(Trouble::OutOfRange, "growth.too-many"_w, {}, "time");
  return count * std::exp2(doublings);
}

Result<Doubling> doubling_between(double first, double later, Duration between) {
  if (!is_positive(first) || !is_positive(later)) return refuse(Trouble::OutOfRange, "growth.count"_w, {}, "count");
  if (!is_positive(between.si())) return refuse(Trouble::OutOfRange, "growth.no-time-between"_w, {}, "count");
  Doubling found;
  found.doublings = std::log2(later / first);
  found.rate_per_h = found.doublings * ln2 / between.hours();
  if (found.rate_per_h > 0) found.doubling_time = doubling_time(found.rate_per_h);
  return found;
}

Result<double> growth_at(GrowthCurve curve, const Growth& growth, Duration time) {
  const double A = (growth.end - growth.start) * ln10, lag = growth.lag.hours();
  if (!is_positive(A) || A > 100) return refuse(Trouble::OutOfRange, "growth.end"_w, {}, "end");
  if (!(growth.rate_per_h >= 1e-6 && growth.rate_per_h <= 20))
    return refuse(Trouble::OutOfRange, "growth.rate"_w, {}, "rate");
  if (!(lag >= 0 && lag <= 1000)) return refuse(Trouble::OutOfRange, "growth.lag"_w, {}, "lag");
  if (!(time.si() >= 0) || !std::isfinite(time.si())) return refuse(Trouble::OutOfRange, "growth.time"_w, {}, "time");
  return growth.start + growth_curve(curve, A, growth.rate_per_h, lag, time.hours()) / ln10;
}

}  // namespace steep
