#include "trade/geomean.h"

#include <cmath>

namespace steep {

Result<GmStv> gm_and_stv(std::span<const double> values, double factor) {
  if (values.empty()) return refuse(Trouble::BadInput, "gm.no-values"_w, {}, "value");
  if (values.size() > 10000) return refuse(Trouble::OutOfRange, "gm.too-many"_w, {}, "value");
  for (const double value : values)
    if (!(value > 0 && value <= 1e12)) return refuse(Trouble::OutOfRange, "gm.value"_w, {}, "value");
  const double first = values.front(), n = static_cast<double>(values.size());
  double sum = 0;
  for (const double value : values) sum += std::log10(value / first);
  const double mean = sum / n;
  GmStv result;
  result.samples = static_cast<int>(values.size());
  result.gm = first * std::pow(10, mean);
  if (values.size() < 2) return result;
  double squares = 0;
  for (const double value : values) {
    const double off = std::log10(value / first) - mean;
    squares += off * off;
  }
  result.log_sd = std::sqrt(squares / (n - 1));
  result.stv = first * std::pow(10, mean + factor * *result.log_sd);
  return result;
}

bool is_over(double value, double limit) { return value > limit * (1 + 1e-12); }

Result<Excursions> excursions(std::span<const double> values, double stv_limit) {
  if (values.empty()) return refuse(Trouble::BadInput, "gm.no-values"_w, {}, "value");
  if (!(stv_limit > 0)) return refuse(Trouble::BadInput, "gm.limit"_w, {}, "stv-limit");
  Excursions found;
  found.samples = static_cast<int>(values.size());
  for (const double value : values) found.over += is_over(value, stv_limit) ? 1 : 0;
  return found;
}

}  // namespace steep
