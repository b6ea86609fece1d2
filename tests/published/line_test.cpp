// Straight lines: the reference set of NIST, and doubling through several counts.
#include <cmath>
#include <string>
#include <vector>

#include "published/published.h"
#include "trade/growth_fit.h"
#include "trade/line_fit.h"

using namespace steep;
using namespace steep::published;

namespace {

TEST_CASE("statistics: the line of the reference set Norris") {
  // Readings of ozone: 36 pairs y, x. Fitted with exact fractions they give the certified line to all its digits.
  constexpr double kNorris[][2] = {
      {0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},    {228.1, 226.5},
      {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
      {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
      {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
      {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
      {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5},
  };
  std::vector<LinePoint> points;
  for (const auto& [y, x] : kNorris) points.push_back({x, y});
  REQUIRE(points.size() == 36);
  const FittedLine line = *fit_line(points);
  constexpr const char* kRead = "NIST StRD Norris, data and certified values (read in SciPy's copy)";
  PUBLISHED_NUMBER("statistics", kRead, "B0", line.intercept, -0.262323073774029, 1e-9);
  PUBLISHED_NUMBER("statistics", kRead, "B1", line.slope, 1.00211681802045, 1e-12);
  PUBLISHED_NUMBER("statistics", kRead, "of B0", line.intercept_error, 0.232818234301152, 1e-9);
  PUBLISHED_NUMBER("statistics", kRead, "of B1", line.slope_error, 0.429796848199937e-3, 1e-12);
  PUBLISHED_NUMBER("statistics", kRead, "of the residuals", line.deviation, 0.884796396144373, 1e-9);
}

TEST_CASE("growth: doubling through three counts of a known course") {
  struct Row {
    double start, hours, rate, end;
  };
  for (const Row& row : {Row{1e4, 24, 0.346574, 4.096e7},
                         {1e5, 6, 1.386294, 4.096e8},
                         {1e6, 36, 0.231049, 4.096e9},
                         {2e7, 12, 0.462098, 5.12e9},
                         {1e3, 8, 2.079442, 1.67772e10}}) {
    const double half_way = (std::log10(row.start) + std::log10(row.end)) / 2;
    const std::vector<CountAt> counts{{Duration{}, std::log10(row.start)},
                                      {Duration::from_hours(row.hours / 2), half_way},
                                      {Duration::from_hours(row.hours), std::log10(row.end)}};
    PUBLISHED_NUMBER("growth", "exponential growth, mu = ln 2 / td, evaluated independently",
                     std::to_string(row.rate) + " per h", fit_exponential(counts)->rate_per_h, row.rate, 1e-6);
  }
}

}  // namespace
