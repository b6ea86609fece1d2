#include "trade/cost.h"

#include <cmath>

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
