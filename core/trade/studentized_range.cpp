#include "trade/studentized_range.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "trade/distributions.h"

namespace steep {
namespace {

double normal_below(double z) { return std::erfc(-z / std::numbers::sqrt2) / 2; }

/// Where the inner integral is summed: the nodes never change, so their densities are worked out once.
struct Node {
  double z, density, below;
};
constexpr double kNodeStep = 0.25;
const std::array<Node, 65>& nodes() {
  static const auto kNodes = [] {
    std::array<Node, 65> all;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const double z = -8 + kNodeStep * static_cast<double>(i);
      all[i] = {z, std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi), normal_below(z)};
    }
    return all;
  }();
  return kNodes;
}

double to_power(double base, int power) {
  double product = 1;
  for (; power > 0; power >>= 1, base *= base)
    if (power & 1) product *= base;
  return product;
}

/// W: the range of k normal values of known deviation stays below w.
double range_below(double w, int k) {
  double sum = 0;
  for (const Node& node : nodes()) sum += node.density * to_power(node.below - normal_below(node.z - w), k - 1);
  return std::min(1.0, k * sum * kNodeStep);
}

/// P(Q ≥ q) of three means or more. Summed from the upper tails, so that small ones keep their digits.
double above(double q, int k, double nu) {
  const double log_of_all = std::log(2.0) + nu / 2 * std::log(nu / 2) - std::lgamma(nu / 2);
  const double from = -40 / nu - 8 / std::sqrt(nu), to = std::min(2.4, 8 / std::sqrt(nu)),
               step = 0.2 / std::sqrt(nu + 1);
  double sum = 0;
  for (double x = from; x <= to; x += step) {
    const double weight = std::exp(log_of_all + nu * x - nu / 2 * std::exp(2 * x));
    if (weight > 1e-14) sum += weight * (1 - range_below(q * std::exp(x), k));
  }
  return std::min(1.0, sum * step);
}

bool is_usable(int means, double nu) { return means >= 2 && means <= 50 && nu >= 1 && nu <= 1e6; }
auto refused() { return refuse(Trouble::OutOfRange, "statistics.arguments"_w); }

}  // namespace

Result<double> studentized_range_upper_tail(double q, int means, double degrees_of_freedom) {
  if (!is_usable(means, degrees_of_freedom) || !(q >= 0) || !std::isfinite(q)) return refused();
  // The range of two means is √2 times Student's t.
  if (means == 2) return t_two_sided(q / std::numbers::sqrt2, degrees_of_freedom);
  return above(q, means, degrees_of_freedom);
}

Result<double> studentized_range_quantile(double p, int means, double degrees_of_freedom) {
  if (!is_usable(means, degrees_of_freedom) || !(p >= 0.5 && p <= 0.999)) return refused();
  if (means == 2) {
    TRY_ASSIGN(const double t, t_quantile((1 + p) / 2, degrees_of_freedom));
    return std::numbers::sqrt2 * t;
  }
  // The logarithm of the tail is nearly straight in ln q: the secant rule, kept between bounds.
  const double wanted = std::log(1 - p);
  double low = std::log(0.1), high = std::log(1e5), a = std::log(3.0), b = std::log(4.5);
  double at_a = std::log(std::max(above(std::exp(a), means, degrees_of_freedom), 1e-300)) - wanted;
  for (int i = 0; i < 60; ++i) {
    const double at_b = std::log(std::max(above(std::exp(b), means, degrees_of_freedom), 1e-300)) - wanted;
    (at_b > 0 ? low : high) = b;
    const double next = b - at_b * (b - a) / (at_b - at_a);
    const bool inside = next > low && next < high;
    a = b;
    at_a = at_b;
    b = inside ? next : (low + high) / 2;
    if (std::abs(b - a) < 1e-10 || high - low < 1e-10) break;
  }
  return std::exp(b);
}

}  // namespace steep
