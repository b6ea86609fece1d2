#include "trade/growth.h"

#include <doctest/doctest.h>
#include <cmath>
#include <vector>

#include "trade/growth_fit.h"
#include "trade/growth_temperature.h"
#include "trade/least_squares.h"
#include "trade/line_fit.h"

using namespace steep;

namespace {

constexpr GrowthCurve kCurves[] = {GrowthCurve::Logistic, GrowthCurve::Gompertz, GrowthCurve::Baranyi};
constexpr Duration hours(double h) { return Duration::from_hours(h); }
constexpr Temperature celsius(double t) { return Temperature::from_celsius(t); }

/// An invented brew without scatter: counts every 2 h up to `last_h`.
std::vector<CountAt> counts_on(GrowthCurve curve, const Growth& growth, double last_h, double first_h = 0) {
  std::vector<CountAt> counts;
  for (double t = first_h; t <= last_h; t += 2) counts.push_back({hours(t), *growth_at(curve, growth, hours(t))});
  return counts;
}

TEST_CASE("growth: there and back, by counts and by doublings") {
  const double later = *count_after(12000, hours(1.7), hours(9));
  const Doubling found = *doubling_between(12000, later, hours(9));
  CHECK(found.doubling_time.hours() == doctest::Approx(1.7).epsilon(1e-12));
  CHECK(found.doublings == doctest::Approx(9 / 1.7).epsilon(1e-12));
  CHECK(*count_after(12000, hours(1.7), hours(0)) == 12000);
  CHECK(doubling_between(1000, 500, hours(2))->rate_per_h < 0);
  CHECK(doubling_between(1000, 500, hours(2))->doubling_time == Duration{});
}

TEST_CASE("growth: every curve rises from start to end, and ends there") {
  for (const GrowthCurve curve : kCurves) {
    const Growth growth{4, 8.5, 0.9, hours(5)};
    double before = 0;
    for (int t = 0; t <= 100; ++t) {
      const double now = *growth_at(curve, growth, hours(t));
      CHECK(now >= before);
      before = now;
    }
    CHECK(before == doctest::Approx(8.5).epsilon(1e-9));
    CHECK(*growth_at(curve, growth, hours(0)) < 4.3);
  }
  // Far beyond what a double's exponential holds.
  CHECK(*growth_at(GrowthCurve::Baranyi, {3, 9, 20, hours(1000)}, hours(0)) == doctest::Approx(3).epsilon(1e-12));
  CHECK(*growth_at(GrowthCurve::Baranyi, {3, 9, 20, hours(1000)}, hours(5000)) == doctest::Approx(9).epsilon(1e-12));
}

TEST_CASE("growth: the steepest slope of a curve is its rate, the lag where that slope meets the start") {
  for (const GrowthCurve curve : {GrowthCurve::Logistic, GrowthCurve::Gompertz}) {
    const double A = 10, mu = 0.8, lag = 4;
    double steepest = 0, at = 0;
    for (double t = 0; t < 30; t += 0.001) {
      const double slope = (growth_curve(curve, A, mu, lag, t + 0.001) - growth_curve(curve, A, mu, lag, t)) / 0.001;
      if (slope > steepest) steepest = slope, at = t;
    }
    CHECK(steepest == doctest::Approx(mu).epsilon(1e-4));
    CHECK(at - growth_curve(curve, A, mu, lag, at) / mu == doctest::Approx(lag).epsilon(1e-3));
  }
}

TEST_CASE("growth: a fit gives back the curve that the counts were made from") {
  for (const GrowthCurve curve : kCurves) {
    const Growth made{4.2, 8.9, 0.75, hours(6)};
    const auto fit = fit_growth(curve, counts_on(curve, made, 40));
    REQUIRE(fit);
    CHECK(fit->growth.start == doctest::Approx(4.2).epsilon(1e-6));
    CHECK(fit->growth.end == doctest::Approx(8.9).epsilon(1e-6));
    CHECK(fit->growth.rate_per_h == doctest::Approx(0.75).epsilon(1e-6));
    CHECK(fit->growth.lag.hours() == doctest::Approx(6).epsilon(1e-6));
    CHECK(fit->deviation < 1e-6);
    CHECK(fit->end_is_known());
  }
}

TEST_CASE("growth: counts in another order, or of another unit, give the same rate and lag") {
  std::vector<CountAt> counts = counts_on(GrowthCurve::Baranyi, {4.2, 8.9, 0.75, hours(6)}, 40);
  for (std::size_t i = 0; i < counts.size(); ++i) counts[i].log10 += 0.05 * std::sin(7.0 * static_cast<double>(i));
  const auto fit = *fit_growth(GrowthCurve::Baranyi, counts);
  std::vector<CountAt> turned(counts.rbegin(), counts.rend());
  for (CountAt& one : turned) one.log10 += 3;  // Per liter, not per mL.
  const auto other = *fit_growth(GrowthCurve::Baranyi, turned);
  CHECK(other.growth.rate_per_h == doctest::Approx(fit.growth.rate_per_h).epsilon(1e-6));
  CHECK(other.growth.lag.hours() == doctest::Approx(fit.growth.lag.hours()).epsilon(1e-6));
  CHECK(other.growth.end == doctest::Approx(fit.growth.end + 3).epsilon(1e-6));
}

TEST_CASE("growth: what the counts leave open has no number") {
  // Counts that never level off: scattered by a tenth.
  std::vector<CountAt> rising = counts_on(GrowthCurve::Baranyi, {4, 14, 0.7, hours(4)}, 18);
  for (std::size_t i = 0; i < rising.size(); ++i) rising[i].log10 += 0.1 * std::cos(5.0 * static_cast<double>(i));
  const auto fit = fit_growth(GrowthCurve::Baranyi, rising);
  REQUIRE(fit);
  CHECK(!fit->end_is_known());
  CHECK(fit->growth.rate_per_h == doctest::Approx(0.7).epsilon(0.1));
  // No lag to be seen: held at 0, not below.
  const auto quick = fit_growth(GrowthCurve::Logistic, counts_on(GrowthCurve::Baranyi, {4, 9, 0.8, hours(0)}, 30));
  REQUIRE(quick);
  CHECK(quick->growth.lag.si() >= 0);
}

TEST_CASE("growth: plain doubling through three counts and more") {
  const std::vector<CountAt> counts = {{hours(0), 4}, {hours(2), 4.602059991327962}, {hours(4), 5.204119982655925}};
  const auto fit = fit_exponential(counts);
  REQUIRE(fit);
  CHECK(doubling_time(fit->rate_per_h).hours() == doctest::Approx(1).epsilon(1e-9));
  CHECK(fit->start == doctest::Approx(4).epsilon(1e-12));
  CHECK(fit->rate_error < 1e-9);
}

TEST_CASE("growth: cardinal temperatures, at their own points") {
  const CardinalTemperatures set{1.6, celsius(5), celsius(37), celsius(45)};
  CHECK(*rate_by_cardinals(set, celsius(37)) == doctest::Approx(1.6).epsilon(1e-12));
  CHECK(*rate_by_cardinals(set, celsius(5)) == 0);
  CHECK(*rate_by_cardinals(set, celsius(45)) == 0);
  CHECK(*rate_by_cardinals(set, celsius(-5)) == 0);
  CHECK(*rate_by_cardinals(set, celsius(60)) == 0);
  CHECK(*rate_by_cardinals(set, celsius(36.5)) < 1.6);
  CHECK(*rate_by_cardinals(set, celsius(37.5)) < 1.6);
  // The same from °F.
  CHECK(*rate_by_cardinals(set, Temperature::from_fahrenheit(68)) ==
        doctest::Approx(*rate_by_cardinals(set, celsius(20))).epsilon(1e-12));
}

TEST_CASE("growth: fits by temperature give back what the rates were made from") {
  const CardinalTemperatures made{1.6, celsius(5), celsius(37), celsius(45)};
  std::vector<RateAt> rates;
  for (double t = 8; t < 45; t += 3) rates.push_back({celsius(t), *rate_by_cardinals(made, celsius(t))});
  const auto fit = fit_cardinals(rates);
  REQUIRE(fit);
  CHECK(fit->cardinals.best_rate_per_h == doctest::Approx(1.6).epsilon(1e-6));
  CHECK(fit->cardinals.least.celsius() == doctest::Approx(5).epsilon(1e-5));
  CHECK(fit->cardinals.best.celsius() == doctest::Approx(37).epsilon(1e-5));
  CHECK(fit->cardinals.most.celsius() == doctest::Approx(45).epsilon(1e-5));
  std::vector<RateAt> line;
  for (double t = 8; t < 30; t += 4) line.push_back({celsius(t), *rate_by_line({0.04, celsius(3)}, celsius(t))});
  CHECK(fit_square_root(line)->line.b == doctest::Approx(0.04).epsilon(1e-9));
  CHECK(fit_square_root(line)->line.least.celsius() == doctest::Approx(3).epsilon(1e-6));
  CHECK(*rate_by_line({0.04, celsius(3)}, celsius(2)) == 0);
}

TEST_CASE("growth: refuses just outside its limits") {
  CHECK(!count_after(0, hours(1), hours(1)));
  CHECK(!count_after(1, hours(0), hours(1)));
  CHECK(!count_after(1, hours(1), hours(-1)));
  CHECK(count_after(1, hours(1), hours(300)));
  CHECK(!count_after(1, hours(1), hours(300.01)));
  CHECK(!doubling_between(1, 2, hours(0)));
  CHECK(!doubling_between(0, 2, hours(1)));
  CHECK(growth_at(GrowthCurve::Baranyi, {3, 3.001, 1, hours(1)}, hours(1)));
  CHECK(growth_at(GrowthCurve::Baranyi, {3, 3, 1, hours(1)}, hours(1)).error().kind == Trouble::OutOfRange);
  CHECK(!growth_at(GrowthCurve::Baranyi, {3, 8, 20.01, hours(1)}, hours(1)));
  CHECK(!growth_at(GrowthCurve::Baranyi, {3, 8, 0, hours(1)}, hours(1)));
  CHECK(!growth_at(GrowthCurve::Baranyi, {3, 8, 1, hours(-0.01)}, hours(1)));
  CHECK(!growth_at(GrowthCurve::Baranyi, {3, 8, 1, hours(1000.01)}, hours(1)));
  CHECK(!growth_at(GrowthCurve::Baranyi, {3, 8, 1, hours(1)}, hours(-0.01)));
  // The best temperature exactly midway is not a set of cardinal temperatures; just above it is.
  CHECK(rate_by_cardinals({1, celsius(0), celsius(20), celsius(40)}, celsius(10)).error().word == "growth.cardinals"_w);
  CHECK(rate_by_cardinals({1, celsius(0), celsius(20.01), celsius(40)}, celsius(10)));
  CHECK(!rate_by_cardinals({1, celsius(0), celsius(40), celsius(40)}, celsius(10)));
  CHECK(!rate_by_cardinals({0, celsius(0), celsius(30), celsius(40)}, celsius(10)));
  CHECK(!rate_by_cardinals({1, celsius(0), celsius(30), celsius(40)}, celsius(130.1)));
  CHECK(!rate_by_line({0, celsius(0)}, celsius(10)));
}

TEST_CASE("growth: says why counts or rates cannot be fitted") {
  const auto counts = counts_on(GrowthCurve::Baranyi, {4, 8, 0.9, hours(4)}, 30);
  const std::span<const CountAt> all(counts);
  CHECK(fit_growth(GrowthCurve::Baranyi, all.first(4)).error().word == "growth.few-for-curve"_w);
  CHECK(fit_exponential(all.first(2)).error().word == "growth.few-for-line"_w);
  std::vector<CountAt> falling(counts);
  for (CountAt& one : falling) one.log10 = -one.log10;
  CHECK(fit_growth(GrowthCurve::Baranyi, falling).error().word == "growth.no-curve"_w);
  const std::vector<CountAt> same(6, {hours(3), 5.0});
  CHECK(!fit_growth(GrowthCurve::Baranyi, same));
  CHECK(fit_exponential(same).error().word == "fit.one-place"_w);
  const std::vector<RateAt> slower = {{celsius(10), 3}, {celsius(20), 2}, {celsius(30), 1}};
  CHECK(fit_square_root(slower).error().word == "growth.not-faster"_w);
  CHECK(fit_cardinals(slower).error().word == "growth.few-for-cardinals"_w);
}

TEST_CASE("least squares: a parameter that the readings leave open is said to be open, the others are not") {
  // Only the sum of b and c shows; a stands free.
  const Misfit misfit = [](std::span<const double> p, std::span<double> r) {
    for (std::size_t k = 0; k < r.size(); ++k) {
      const double x = static_cast<double>(k);
      r[k] = p[0] * x + p[1] + p[2] - (2 * x + 5 + (k % 2 == 0 ? 0.1 : -0.1));
    }
    return true;
  };
  const std::vector<double> start = {1, 1, 1};
  const auto fit = least_squares(misfit, 12, start);
  REQUIRE(fit);
  CHECK(fit->values[0] == doctest::Approx(2).epsilon(0.01));
  CHECK(fit->values[1] + fit->values[2] == doctest::Approx(5).epsilon(0.02));
  CHECK(fit->errors[0]);
  CHECK(!fit->errors[1]);
  CHECK(!fit->errors[2]);
}

TEST_CASE("least squares: on a straight line they agree with the line's own formulas") {
  std::vector<LinePoint> points;
  for (int i = 0; i < 9; ++i) points.push_back({i * 1.5, 3 - 0.4 * i + (i % 3) * 0.2});
  const Misfit misfit = [&points](std::span<const double> p, std::span<double> r) {
    for (std::size_t k = 0; k < r.size(); ++k) r[k] = p[0] + p[1] * points[k].x - points[k].y;
    return true;
  };
  const FittedLine line = *fit_line(points);
  const auto fit = least_squares(misfit, points.size(), std::vector<double>{0, 0});
  REQUIRE(fit);
  CHECK(fit->values[0] == doctest::Approx(line.intercept).epsilon(1e-9));
  CHECK(fit->values[1] == doctest::Approx(line.slope).epsilon(1e-9));
  CHECK(*fit->errors[0] == doctest::Approx(line.intercept_error).epsilon(1e-6));
  CHECK(*fit->errors[1] == doctest::Approx(line.slope_error).epsilon(1e-6));
  CHECK(fit->deviation == doctest::Approx(line.deviation).epsilon(1e-9));
}

TEST_CASE("least squares: says when it cannot answer") {
  const Misfit nowhere = [](std::span<const double>, std::span<double>) { return false; };
  const Misfit flat = [](std::span<const double>, std::span<double> r) {
    for (double& one : r) one = 1;
    return true;
  };
  const std::vector<double> start = {1, 1};
  CHECK(least_squares(nowhere, 5, start).error().kind == Trouble::OutOfRange);
  CHECK(least_squares(flat, 2, start).error().kind == Trouble::BadInput);
  const auto fit = least_squares(flat, 3, start);  // No parameter shows at all.
  REQUIRE(fit);
  CHECK(!fit->errors[0]);
  CHECK(fit->values[1] == 1);
  CHECK(!fit_line(std::vector<LinePoint>{{1, 1}, {2, 2}}));
}

}  // namespace
