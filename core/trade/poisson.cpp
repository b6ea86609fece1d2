#include "trade/poisson.h"

#include <cmath>

#include "trade/distributions.h"

namespace steep {

Result<CountLimits> poisson_interval(std::int64_t count, double confidence) {
  if (count < 0 || count > 1'000'000'000) return refuse(Trouble::OutOfRange, "count.count"_w, {}, "count");
  if (!(confidence >= 0.5 && confidence <= 0.9999))
    return refuse(Trouble::OutOfRange, "count.confidence"_w, {}, "confidence");
  const double tail = (1 - confidence) / 2, n = static_cast<double>(count);
  CountLimits interval;
  if (count > 0) {
    TRY_ASSIGN(const double low, chi_squared_quantile(tail, 2 * n));
    interval.low = low / 2;
  }
  TRY_ASSIGN(const double high, chi_squared_quantile(1 - tail, 2 * n + 2));
  interval.high = high / 2;
  return interval;
}

Result<double> chance_of_scatter(std::span<const std::int64_t> counts, std::span<const double> sizes) {
  const auto bad = [] { return refuse(Trouble::BadInput, "count.scatter"_w, {}, "count"); };
  if (counts.size() < 2 || counts.size() != sizes.size()) return bad();
  double sum = 0, size = 0;
  for (std::size_t i = 0; i < counts.size(); ++i) {
    if (counts[i] < 0 || !(sizes[i] > 0) || !std::isfinite(sizes[i])) return bad();
    sum += static_cast<double>(counts[i]);
    size += sizes[i];
  }
  if (sum == 0) return 1.0;
  double squares = 0;
  for (std::size_t i = 0; i < counts.size(); ++i) {
    const double expected = sum * sizes[i] / size, off = static_cast<double>(counts[i]) - expected;
    squares += off * off / expected;
  }
  return chi_squared_upper_tail(squares, static_cast<double>(counts.size() - 1));
}

}  // namespace steep
