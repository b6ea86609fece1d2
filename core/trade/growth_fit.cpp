#include "trade/growth_fit.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "base/sorting.h"
#include "trade/least_squares.h"
#include "trade/line_fit.h"

namespace steep {
namespace {

using std::numbers::ln10;
using Points = std::vector<LinePoint>;  ///< Hours and log10, by time.

Result<Points> usable(std::span<const CountAt> counts) {
  Points points;
  for (const CountAt& one : counts) {
    if (!std::isfinite(one.log10)) return refuse(Trouble::OutOfRange, "growth.count"_w, {}, "count");
    const double hours = one.at.hours();
    if (!(hours >= 0 && hours <= 1000)) return refuse(Trouble::OutOfRange, "growth.time"_w, {}, "count");
    points.push_back({hours, one.log10});
  }
  sort_list(points, [](const LinePoint& a, const LinePoint& b) { return a.x < b.x; });
  return points;
}

// The numbers sought: start, end, ln μ and, unless it is held, λ. The logarithm keeps μ above 0.
enum { Start, End, LogRate, Lag };

Misfit misfit_of(GrowthCurve curve, const Points& points) {
  return [curve, &points](std::span<const double> p, std::span<double> residuals) {
    const double A = (p[End] - p[Start]) * ln10, mu = std::exp(p[LogRate]), lag = p.size() > Lag ? p[Lag] : 0;
    if (!(A > 0.01 && A < 100 && mu < 100 && lag > -100)) return false;
    for (std::size_t k = 0; k < points.size(); ++k)
      residuals[k] = p[Start] + growth_curve(curve, A, mu, lag, points[k].x) / ln10 - points[k].y;
    return true;
  };
}

/// The steepest rise between counts, for a beginning: by neighbours and, since these scatter, by the next but one.
std::vector<std::vector<double>> beginnings(const Points& points) {
  const auto [least, most] = std::minmax_element(points.begin(), points.end(),
                                                 [](const LinePoint& a, const LinePoint& b) { return a.y < b.y; });
  std::vector<std::vector<double>> all;
  for (const std::size_t apart : {1u, 2u, 4u}) {
    double slope = 0, lag = 0;
    for (std::size_t i = 0; i + apart < points.size(); ++i) {
      const LinePoint &a = points[i], &b = points[i + apart];
      if (!(b.x > a.x) || !((b.y - a.y) / (b.x - a.x) > slope)) continue;
      slope = (b.y - a.y) / (b.x - a.x);
      lag = std::max(0.0, a.x - (a.y - least->y) / slope);
    }
    if (slope > 0) all.push_back({least->y, most->y, std::log(slope * ln10), lag});
  }
  return all;
}

std::optional<double> scaled(const std::optional<double>& error, double factor) {
  return error ? std::optional(*error * factor) : std::nullopt;
}

}  // namespace

Result<GrowthFit> fit_growth(GrowthCurve curve, std::span<const CountAt> counts) {
  TRY_ASSIGN(const Points& points, usable(counts));
  if (points.size() < 5) return refuse(Trouble::BadInput, "growth.few-for-curve"_w, {}, "count");
  const Misfit misfit = misfit_of(curve, points);
  std::optional<LeastSquares> best;
  for (std::vector<double> start : beginnings(points)) {
    auto found = least_squares(misfit, points.size(), start);
    if (found && found->values[Lag] < 0) {
      start.resize(Lag);
      found = least_squares(misfit, points.size(), start);
    }
    if (found && (!best || found->sum < best->sum)) best = *found;
  }
  if (!best) return refuse(Trouble::OutOfRange, "growth.no-curve"_w, {}, "count");
  GrowthFit fit;
  const auto& p = best->values;
  fit.growth = {p[Start], p[End], std::exp(p[LogRate]), Duration{}};
  fit.start_error = best->errors[Start];
  fit.end_error = best->errors[End];
  fit.rate_error = scaled(best->errors[LogRate], fit.growth.rate_per_h);
  fit.lag_held = p.size() == Lag;
  if (!fit.lag_held) {
    fit.growth.lag = Duration::from_hours(p[Lag]);
    if (best->errors[Lag]) fit.lag_error = Duration::from_hours(*best->errors[Lag]);
  }
  fit.sum = best->sum;
  fit.deviation = best->deviation;
  return fit;
}

Result<ExponentialFit> fit_exponential(std::span<const CountAt> counts) {
  TRY_ASSIGN(const Points& points, usable(counts));
  if (points.size() < 3) return refuse(Trouble::BadInput, "growth.few-for-line"_w, {}, "count");
  TRY_ASSIGN(const FittedLine& line, fit_line(points));
  return ExponentialFit{line.intercept, line.slope * ln10, line.slope_error * ln10, line.deviation};
}

}  // namespace steep
