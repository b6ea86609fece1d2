#pragma once
/// Amounts that stand in a recipe's or plan's own unit, as the reader measures them out.

#include <string>

#include "quantity/units_shown.h"

namespace steep {

/// The unit itself while it is the reader's and half of one is reached; else the one that suits: grams for pounds, ounces
/// for hundredths of a pound. Of things that are counted always the unit itself.
const Unit& home_unit(double amount, const Unit& unit, const UnitsShown& units);
/// `amount` of `unit` in the unit `to`: two places in its own, three digits in another.
Written home_amount(double amount, const Unit& unit, const Unit& to);
/// '254 g', '0.64 to 1.28 oz': both ends in the unit that suits the high one.
std::string show_home_range(double low, double high, const Unit& unit, const UnitsShown& units, const Words& words);
/// As typed where that is the reader's own unit, else converted: for figures of ours that nobody typed.
std::string show_at_home(const Written& written, const UnitsShown& units, const Words& words);

}  // namespace steep
