#pragma once
/// The table of units: the word stored in quantities, its dimension, its exact factor to SI, and
/// the spellings that people use in English and Spanish.

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "quantity/dimension.h"
#include "quantity/fraction.h"

namespace steep {

/// Words are written into the journal: never rename one, never change a factor.
struct Unit {
  std::string_view word;         ///< As stored: 'gal' (US), 'imperial gal', 'fl oz', 'degF', 'gal/acre'.
  Dimension dimension = Dimension::Number;
  Fraction factor = 1;           ///< SI = (amount + offset) × factor.
  Fraction offset = 0;           ///< Of temperature points: 459.67 for 'degF', 273.15 for 'degC'.
  std::string_view spellings;    ///< What people write, separated by '|', lower case; the word itself included by the reader.
};

/// All units, grouped by dimension.
std::span<const Unit> all_units();
/// By its stored word, exactly; nullptr for any other spelling.
const Unit* find_unit(std::string_view word);
/// For words known to be in the table: asserts.
const Unit& unit(std::string_view word);
/// Every unit that people may mean by `written` ('oz': weight and fluid; 'gal': US and imperial),
/// case and white space ignored. Empty when nobody writes so.
std::vector<const Unit*> units_written(std::string_view written);

/// Exact; nullopt when the dimensions differ (of Count: the units), or the fraction would not fit.
std::optional<Fraction> convert(const Fraction& amount, const Unit& from, const Unit& to);
/// Exact SI value; nullopt when it would not fit.
std::optional<Fraction> exact_si(const Fraction& amount, const Unit& unit);
double si_value(double amount, const Unit& unit);
double amount_in(double si, const Unit& unit);

}  // namespace steep
