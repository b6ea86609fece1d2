#include "trade/line_fit.h"

#include <cmath>

namespace steep {

Result<FittedLine> fit_line(std::span<const LinePoint> points) {
  if (points.size() < 3) return refuse(Trouble::BadInput, "fit.few"_w);
  FittedLine line;
  line.points = static_cast<double>(points.size());
  double mean_y = 0;
  for (const LinePoint& p : points) {
    line.mean_x += p.x / line.points;
    mean_y += p.y / line.points;
  }
  double products = 0;
  for (const LinePoint& p : points) {
    line.spread_x += (p.x - line.mean_x) * (p.x - line.mean_x);
    products += (p.x - line.mean_x) * (p.y - mean_y);
  }
  if (!(line.spread_x > 0) || !std::isfinite(products)) return refuse(Trouble::BadInput, "fit.one-place"_w);
  line.slope = products / line.spread_x;
  line.intercept = mean_y - line.slope * line.mean_x;
  double sum = 0;
  for (const LinePoint& p : points) {
    const double off = p.y - mean_y - line.slope * (p.x - line.mean_x);
    sum += off * off;
  }
  line.deviation = std::sqrt(sum / (line.points - 2));
  line.slope_error = line.deviation / std::sqrt(line.spread_x);
  line.intercept_error = line.deviation * std::sqrt(1 / line.points + line.mean_x * line.mean_x / line.spread_x);
  return line;
}

}  // namespace steep
