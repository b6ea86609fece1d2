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

/// Which house of measures a unit belongs to, where one spelling names several.
enum class Measure {
  Common,
  Us,
  Imperial,
  Kitchen,  ///< Metric cups and spoons of 250, 15, 5 (Australia 20) mL.
  Label,    ///< Cups and spoons of US food labels: 240, 15, 5 mL; an ounce of 30 mL. 21 CFR 101.9(b)(5)(viii).
};

/// Words are written into the journal: never rename one, never change a factor.
struct Unit {
  std::string_view word;  ///< As stored: 'gal' (US), 'imperial gal', 'fl oz', 'degF', 'gal/acre'.
  Dimension dimension = Dimension::Number;
  Fraction factor = 1;  ///< SI = (amount + offset) × factor.
  Fraction offset = 0;  ///< Of temperature points: 459.67 for 'degF', 273.15 for 'degC'.
  Measure measure = Measure::Common;
  /// What people write besides the word: lower case, no dots, separated by '|'. One that begins with
  /// '~' is loose (a bare 'oz' for 'fl oz'): readers ask before they take it so.
  std::string_view spellings;
};

/// All units, grouped by dimension.
std::span<const Unit> all_units();
/// By its stored word, exactly; nullptr for any other spelling.
const Unit* find_unit(std::string_view word);
/// For words known to be in the table: asserts.
const Unit& unit(std::string_view word);
/// A unit that somebody may have meant.
struct UnitMeant {
  const Unit* unit = nullptr;
  bool loose = false;
  bool operator==(const UnitMeant&) const = default;
};
/// Every unit that people may mean by `written` ('oz': weight and, loosely, fluid; 'gal': US and
/// imperial; 'gallons per acre', 'galones por acre'), case, dots and white space ignored. Empty when
/// nobody writes so.
std::vector<UnitMeant> units_written(std::string_view written);
/// The units to offer where none was written: the US one, then the metric one; one alone where both write it.
std::vector<const Unit*> usual_units(Dimension dimension);

/// Exact; nullopt when the dimensions differ (of Count: the units), or the fraction would not fit.
std::optional<Fraction> convert(const Fraction& amount, const Unit& from, const Unit& to);
/// Exact SI value; nullopt when it would not fit.
std::optional<Fraction> exact_si(const Fraction& amount, const Unit& unit);
/// The same rounded. (Not si_value: a macro of signal.h on some systems.)
double si_of(double amount, const Unit& unit);
double amount_in(double si, const Unit& unit);

}  // namespace steep
