#include "trade/growth_temperature.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/sorting.h"
#include "trade/least_squares.h"
#include "trade/line_fit.h"

namespace steep {
namespace {

bool is_usable(Temperature t) { return t.celsius() >= -20 - 1e-9 && t.celsius() <= 130 + 1e-9; }

/// The curve of Rosso's paper for To, Tmin, Tmax in °C and μopt = 1.
double cardinal_curve(double T, double Tmin, double To, double Tmax) {
  if (T <= Tmin || T >= Tmax) return 0;
  const double below = To - Tmin;
  return (T - Tmax) * (T - Tmin) * (T - Tmin) / (below * (below * (T - To) - (To - Tmax) * (To + Tmin - 2 * T)));
}

bool are_cardinal(double Tmin, double To, double Tmax) { return Tmin < To && To < Tmax && 2 * To > Tmin + Tmax; }

/// °C and √μ.
Result<std::vector<LinePoint>> roots_of(std::span<const RateAt> rates) {
  std::vector<LinePoint> points;
  for (const RateAt& one : rates) {
    if (!is_usable(one.temperature)) return refuse(Trouble::OutOfRange, "growth.temperature"_w, {}, "rate");
    if (!(one.rate_per_h >= 0) || !std::isfinite(one.rate_per_h))
      return refuse(Trouble::OutOfRange, "growth.rate"_w, {}, "rate");
    points.push_back({one.temperature.celsius(), std::sqrt(one.rate_per_h)});
  }
  return points;
}

// The numbers sought: √μopt, Tmin, To, Tmax.
enum { Root, Least, Best, Most };

std::vector<double> beginning(std::vector<LinePoint> points) {
  sort_list(points, [](const LinePoint& a, const LinePoint& b) { return a.x < b.x; });
  const auto top =
      std::max_element(points.begin(), points.end(), [](const LinePoint& a, const LinePoint& b) { return a.y < b.y; });
  const double most = std::max(points.back().x + 1, top->x + 3);
  double least = points.front().x - 5;
  if (const auto line = fit_line(std::span(points).first(static_cast<std::size_t>(top - points.begin())));
      line && line->slope > 0)
    least = std::min(points.front().x, -line->intercept / line->slope);
  return {top->y, least, std::max(top->x, (least + most) / 2 + 1), most};
}

std::optional<TemperatureDifference> degrees(const std::optional<double>& error) {
  return error ? std::optional(TemperatureDifference::from_celsius_degrees(*error)) : std::nullopt;
}

}  // namespace

Result<double> rate_by_line(const SquareRootLine& line, Temperature temperature) {
  if (!is_usable(temperature) || !is_usable(line.least))
    return refuse(Trouble::OutOfRange, "growth.temperature"_w, {}, "temperature");
  if (!(line.b > 0) || !std::isfinite(line.b)) return refuse(Trouble::OutOfRange, "growth.slope"_w, {}, "slope");
  const double root = line.b * std::max(0.0, (temperature - line.least).celsius_degrees());
  return root * root;
}

Result<double> rate_by_cardinals(const CardinalTemperatures& cardinals, Temperature temperature) {
  const double Tmin = cardinals.least.celsius(), To = cardinals.best.celsius(), Tmax = cardinals.most.celsius();
  if (!is_usable(temperature) || !is_usable(cardinals.least) || !is_usable(cardinals.most))
    return refuse(Trouble::OutOfRange, "growth.temperature"_w, {}, "temperature");
  if (!are_cardinal(Tmin, To, Tmax)) return refuse(Trouble::OutOfRange, "growth.cardinals"_w, {}, "best");
  if (!(cardinals.best_rate_per_h > 0) || !std::isfinite(cardinals.best_rate_per_h))
    return refuse(Trouble::OutOfRange, "growth.rate"_w, {}, "best-rate");
  return cardinals.best_rate_per_h * cardinal_curve(temperature.celsius(), Tmin, To, Tmax);
}

Result<SquareRootFit> fit_square_root(std::span<const RateAt> rates) {
  TRY_ASSIGN(const auto& points, roots_of(rates));
  TRY_ASSIGN(const FittedLine& line, fit_line(points));
  if (!(line.slope > 0)) return refuse(Trouble::BadInput, "growth.not-faster"_w, {}, "rate");
  return SquareRootFit{
      {line.slope, Temperature::from_celsius(-line.intercept / line.slope)}, line.slope_error, line.deviation};
}

Result<CardinalFit> fit_cardinals(std::span<const RateAt> rates) {
  TRY_ASSIGN(const auto& points, roots_of(rates));
  if (points.size() < 5) return refuse(Trouble::BadInput, "growth.few-for-cardinals"_w, {}, "rate");
  const Misfit misfit = [&points](std::span<const double> p, std::span<double> residuals) {
    if (!(p[Root] > 0) || !are_cardinal(p[Least], p[Best], p[Most])) return false;
    for (std::size_t k = 0; k < points.size(); ++k)
      residuals[k] = p[Root] * std::sqrt(cardinal_curve(points[k].x, p[Least], p[Best], p[Most])) - points[k].y;
    return true;
  };
  const auto found = least_squares(misfit, points.size(), beginning(points));
  if (!found) return refuse(Trouble::OutOfRange, "growth.no-cardinals"_w, {}, "rate");
  CardinalFit fit;
  const auto& p = found->values;
  const auto celsius = [](double t) { return Temperature::from_celsius(t); };
  fit.cardinals = {p[Root] * p[Root], celsius(p[Least]), celsius(p[Best]), celsius(p[Most])};
  if (found->errors[Root]) fit.best_rate_error = 2 * p[Root] * *found->errors[Root];
  fit.least_error = degrees(found->errors[Least]);
  fit.best_error = degrees(found->errors[Best]);
  fit.most_error = degrees(found->errors[Most]);
  fit.deviation = found->deviation;
  return fit;
}

}  // namespace steep
