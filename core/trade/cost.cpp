#include "trade/cost.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/sorting.h"

namespace steep {
namespace {

constexpr double kMostCents = 9e15;
auto bad(std::string place) { return refuse(Trouble::BadInput, "cost.amount"_w, {}, std::move(place)); }

Result<Money> whole_cents(double cents) {
  if (!std::isfinite(cents) || std::abs(cents) > kMostCents) return bad("amount");
  return Money{std::llround(cents)};
}

}  // namespace

Result<Money> cost_of_use(Money price, double used, double bought) {
  if (price.cents < 0 || !(used >= 0)) return bad("used");
  if (!(bought > 0)) return bad("bought");
  return whole_cents(static_cast<double>(price.cents) * (used / bought));
}

Result<Money> cost_of_time(Money per_hour, Duration time) {
  if (per_hour.cents < 0 || !(time.si() >= 0)) return bad("time");
  return whole_cents(static_cast<double>(per_hour.cents) * time.hours());
}

Result<double> cents_per_gallon(Money cost, Volume volume) {
  if (cost.cents < 0 || !(volume.si() > 0)) return bad("volume");
  return static_cast<double>(cost.cents) / volume.gallons();
}

Result<std::vector<Money>> shared_out(Money whole, std::span<const double> weights) {
  double sum = 0;
  for (const double weight : weights) {
    if (!(weight >= 0) || !std::isfinite(weight)) return bad("weights");
    sum += weight;
  }
  if (!(sum > 0) || whole.cents < 0) return bad("weights");
  std::vector<Money> shares(weights.size());
  std::vector<double> rest(weights.size());
  std::int64_t given = 0;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    const double exact = static_cast<double>(whole.cents) * (weights[i] / sum);
    shares[i].cents = static_cast<std::int64_t>(std::floor(exact));
    rest[i] = exact - std::floor(exact);
    given += shares[i].cents;
  }
  std::vector<std::size_t> order(weights.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  sort_list(order, [&](std::size_t a, std::size_t b) { return rest[a] > rest[b]; });
  for (std::size_t i = 0; given < whole.cents; ++i, ++given) ++shares[order[i % order.size()]].cents;
  return shares;
}

Result<Bill> bill(std::span<const Money> lines, Share tax_rate, TaxRounding rounding) {
  if (!(tax_rate.ratio() >= 0 && tax_rate.ratio() <= 1)) return bad("tax");
  Bill result;
  for (const Money line : lines) {
    result.net = result.net + line;
    if (rounding == TaxRounding::OnEachLine) {
      TRY_ASSIGN(const Money& tax, whole_cents(static_cast<double>(line.cents) * tax_rate.ratio()));
      result.tax = result.tax + tax;
    }
  }
  if (rounding == TaxRounding::OnTheWhole) {
    TRY_ASSIGN(result.tax, whole_cents(static_cast<double>(result.net.cents) * tax_rate.ratio()));
  }
  result.gross = result.net + result.tax;
  return result;
}

}  // namespace steep
