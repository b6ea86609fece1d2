#pragma once
/// What did a brew or a pass cost, per gallon (of tea, or of spray: named), per bed, per pass?
///
/// Source:   arithmetic. Tax rounding: to the cent on the whole, or on each line; both are in use and the farm names its own.
/// Formula:  cost of a line = price × used / bought;  labor = hourly rate × time;  tax = net × rate
/// Changes:  money is whole cents; halves go away from zero (commercial rounding).
/// Limits:   amounts not negative; sums up to 9 × 10^15 cents.
/// Accuracy: exact to the cent.

#include <cstdint>
#include <span>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// Whole cents of the farm's currency.
struct Money {
  std::int64_t cents = 0;
  auto operator<=>(const Money&) const = default;
  friend Money operator+(Money a, Money b) { return {a.cents + b.cents}; }
  friend Money operator-(Money a, Money b) { return {a.cents - b.cents}; }
};

/// Part of a lot's price: `used` of `bought`, both in one unit. May exceed the price when more was used than bought.
/// Trouble: BadInput  price or used negative, bought not above 0.
Result<Money> cost_of_use(Money price, double used, double bought);
/// Trouble: BadInput  rate or time negative.
Result<Money> cost_of_time(Money per_hour, Duration time);
/// Trouble: BadInput  volume not above 0, negative cost. Fractions of a cent are kept.
Result<double> cents_per_gallon(Money cost, Volume volume);

enum class TaxRounding { OnTheWhole, OnEachLine };
struct Bill {
  Money net, tax, gross;
};
/// Trouble: BadInput  rate negative or above 100 %.
Result<Bill> bill(std::span<const Money> lines, Share tax_rate, TaxRounding rounding);

}  // namespace steep
