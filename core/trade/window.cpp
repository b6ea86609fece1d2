#include "trade/window.h"

#include <algorithm>
#include <cmath>

#include "base/sorting.h"
#include "trade/distributions.h"
#include "trade/line_fit.h"

namespace steep {
namespace {

constexpr std::size_t kLeastOwnBrews = 5;
constexpr double kInterval = 0.90;  ///< Of the own brews' prediction interval.
constexpr std::int64_t kLongest = 30 * kDay;
constexpr std::int64_t kLeastEitherWay = kHour;

/// ln(rate per hour) = intercept + slope × °C.
struct Pace {
  double intercept = 0, slope = 0;
  double faster = 1, slower = 1;  ///< Factors on the time.
};

/// °C over time, straight between points.
class Course {
 public:
  explicit Course(std::span<const TemperatureAt> series) : points_(series.begin(), series.end()) {
    sort_list(points_, [](const auto& a, const auto& b) { return a.at < b.at; });
  }
  double at(Moment t) const {
    if (t <= points_.front().at) return points_.front().temperature.celsius();
    if (t >= points_.back().at) return points_.back().temperature.celsius();
    std::size_t i = 1;
    while (points_[i].at < t) ++i;
    const auto &a = points_[i - 1], &b = points_[i];
    if (a.at == b.at) return b.temperature.celsius();
    const double share = static_cast<double>(t - a.at) / static_cast<double>(b.at - a.at);
    return std::lerp(a.temperature.celsius(), b.temperature.celsius(), share);
  }
  /// The next bend after t, or `end`.
  Moment next_bend(Moment t, Moment end) const {
    for (const auto& point : points_)
      if (point.at > t) return std::min(point.at, end);
    return end;
  }

 private:
  std::vector<TemperatureAt> points_;
};

/// Work done in `hours` while °C runs straight from T0 to T1: exact integral of exp(intercept + slope T).
double work(const Pace& pace, double T0, double T1, double hours) {
  const double k = pace.slope * (T1 - T0), start = std::exp(pace.intercept + pace.slope * T0);
  return start * hours * (std::abs(k) < 1e-9 ? 1 + k / 2 : std::expm1(k) / k);
}

double work_between(const Pace& pace, const Course& course, Moment from, Moment to) {
  double sum = 0;
  for (Moment t = from; t < to;) {
    const Moment next = course.next_bend(t, to);
    sum += work(pace, course.at(t), course.at(next), static_cast<double>(next - t) / kHour);
    t = next;
  }
  return sum;
}

/// First moment at which `needed` is done; nullopt past the longest brew.
std::optional<Moment> moment_of_work(const Pace& pace, const Course& course, Moment start, double needed) {
  const Moment end = start + kLongest;
  Moment t = start;
  double sum = 0;
  while (t < end) {
    const Moment next = course.next_bend(t, end);
    const double piece = work_between(pace, course, t, next);
    if (sum + piece >= needed) {
      std::int64_t low = 0, high = next - t;
      while (high - low > kSecond) {
        const std::int64_t middle = (low + high) / 2;
        (sum + work_between(pace, course, t, t + middle) >= needed ? high : low) = middle;
      }
      return t + high;
    }
    sum += piece;
    t = next;
  }
  return std::nullopt;
}

/// ln(hours) against °C. Nothing when all were at one temperature, or warmer ones took no less time.
std::optional<FittedLine> fit(std::span<const PastBrew> past) {
  std::vector<LinePoint> points;
  for (const PastBrew& b : past) points.push_back({b.mean.celsius(), std::log(b.until_ready.hours())});
  const auto line = fit_line(points);
  if (!line || line->spread_x < 1e-6 || line->slope > 0) return std::nullopt;
  return *line;
}

bool is_usable(const PastBrew& b) {
  return b.until_ready.hours() >= 1 && b.until_ready.days() <= 14 && b.mean.celsius() >= 0 && b.mean.celsius() <= 40;
}

Result<void> check(std::span<const TemperatureAt> temperatures, const BrewPace& pace) {
  if (temperatures.empty()) return refuse(Trouble::BadInput, "window.no-temperature"_w, {}, "temperature");
  for (const auto& point : temperatures)
    if (!(point.temperature.celsius() >= -1e-9 && point.temperature.celsius() <= 40 + 1e-9))
      return refuse(Trouble::OutOfRange, "window.temperature"_w, {}, "temperature");
  const bool usable = pace.recipe_time.hours() >= 1 && pace.recipe_time.days() <= 14 && pace.q10 >= 1 &&
                      pace.q10 <= 5 && pace.spread >= 0 && pace.spread < 1 && pace.recipe_temperature.celsius() >= 0 &&
                      pace.recipe_temperature.celsius() <= 40;
  if (!usable) return refuse(Trouble::BadInput, "window.pace"_w, {}, "brew-time");
  return {};
}

}  // namespace

Temperature mean_temperature(std::span<const TemperatureAt> temperatures, Moment from, Moment to) {
  const Course course(temperatures);
  double sum = 0;
  for (Moment t = from; t < to;) {
    const Moment next = course.next_bend(t, to);
    sum += (course.at(t) + course.at(next)) / 2 * static_cast<double>(next - t);
    t = next;
  }
  return Temperature::from_celsius(sum / static_cast<double>(to - from));
}

Result<BrewWindow> brew_window(Moment start, Moment now, std::span<const TemperatureAt> temperatures,
                               const BrewPace& pace, std::span<const PastBrew> past) {
  TRY(check(temperatures, pace));
  const Course course(temperatures);
  Pace rate;
  rate.slope = std::log(pace.q10) / 10;
  rate.intercept = -std::log(pace.recipe_time.hours()) - rate.slope * pace.recipe_temperature.celsius();
  rate.faster = 1 - pace.spread;
  rate.slower = 1 + pace.spread;

  BrewWindow window;
  std::vector<PastBrew> own;
  std::copy_if(past.begin(), past.end(), std::back_inserter(own), is_usable);
  window.own_brews = static_cast<int>(own.size());
  std::optional<FittedLine> line;
  if (own.size() >= kLeastOwnBrews) {
    line = fit(own);
    window.own_brews_unusable = !line;
  }
  if (line) {
    window.from_own_brews = true;
    rate.intercept = -line->intercept;
    rate.slope = -line->slope;
  }
  const auto expected = moment_of_work(rate, course, start, 1);
  if (!expected) return refuse(Trouble::OutOfRange, "window.too-slow"_w, {}, "temperature");
  window.expected = *expected;
  window.mean = mean_temperature(temperatures, start, *expected);
  if (line) {
    TRY_ASSIGN(const double t, t_quantile(0.5 + kInterval / 2, line->points - 2));
    const double away = window.mean.celsius() - line->mean_x;
    const double half = t * line->deviation * std::sqrt(1 + 1 / line->points + away * away / line->spread_x);
    rate.faster = std::exp(-half);
    rate.slower = std::exp(half);
    const auto [coolest, warmest] =
        std::minmax_element(own.begin(), own.end(), [](const auto& a, const auto& b) { return a.mean < b.mean; });
    constexpr TemperatureDifference kBeyond = TemperatureDifference::from_celsius_degrees(3);
    window.outside_own_range = window.mean < coolest->mean - kBeyond || window.mean > warmest->mean + kBeyond;
  }
  window.earliest =
      std::min(moment_of_work(rate, course, start, rate.faster).value_or(*expected), *expected - kLeastEitherWay);
  const auto latest = moment_of_work(rate, course, start, rate.slower);
  if (!latest) return refuse(Trouble::OutOfRange, "window.too-slow"_w, {}, "temperature");
  window.latest = std::max(*latest, *expected + kLeastEitherWay);
  window.done = now > start ? work_between(rate, course, start, now) : 0;
  return window;
}

}  // namespace steep
