// Factors and everyday conversions of units.
#include "published/published.h"

#include "quantity/quantities.h"
#include "quantity/unit.h"
#include "quantity/written.h"

using namespace steep;
using published::agrees;
using published::table;

namespace {

constexpr std::string_view kNist =
    "NIST Handbook 44 App. C, NIST SP 811 App. B (definitions from memory; factors confirmed with GNU units 2.22)";
constexpr std::string_view kFractions =
    "NIST Handbook 44 App. C (definitions from memory), worked out with Python's fractions";
constexpr std::string_view kLabels = "21 CFR 101.9(b)(5)(viii) (from memory; confirmed with GNU units 2.22)";
constexpr std::string_view kGnu = "GNU units 2.22";

Fraction fraction(std::string_view text) {
  const std::size_t bar = text.find('/');
  const auto above = Fraction::from_decimal(text.substr(0, bar)), below = Fraction::from_decimal(text.substr(bar + 1));
  return *above->over(*below);
}

}  // namespace

TEST_CASE("units: every factor is exactly the published fraction") {
  for (const auto& row : table("units_factors")) {
    REQUIRE(row.size() == 5);
    const Unit* from = find_unit(row[0]);
    const Unit* to = find_unit(row[1]);
    REQUIRE_MESSAGE((from && to), row[0], " or ", row[1], " is not in the table of units");
    const std::string_view source = row[0].starts_with("label")       ? kLabels
                                    : row[4].starts_with("fractions") ? kFractions
                                                                      : kNist;
    const auto factor = convert(1, *from, *to);
    PUBLISHED("units", source, row[0] + " -> " + row[1], factor && *factor == fraction(row[3]));
    PUBLISHED("units", source, row[0] + " -> " + row[1] + " printed", factor && agrees(factor->to_double(), row[2]));
  }
}

TEST_CASE("units: everyday amounts") {
  for (const auto& row : table("units_examples")) {
    REQUIRE(row.size() == 4);
    const Unit* from = find_unit(row[1]);
    const Unit* to = find_unit(row[3]);
    REQUIRE_MESSAGE((from && to), row[1], " or ", row[3], " is not in the table of units");
    const auto amount = convert(*Fraction::from_decimal(row[0]), *from, *to);
    PUBLISHED("units", kGnu, row[0] + " " + row[1], amount && agrees(amount->to_double(), row[2]));
  }
}

TEST_CASE("units: temperatures") {
  constexpr std::string_view kScale =
      "NIST SP 811 B.8: t/degC = (t/degF - 32)/1.8; T/K = t/degC + 273.15 (from memory)";
  const auto celsius = [](long long f) { return *convert(Fraction(f), unit("degF"), unit("degC")); };
  PUBLISHED("units", kScale, "131 F is 55 C", celsius(131) == Fraction(55));
  PUBLISHED("units", kScale, "170 F is 76.6667 C", celsius(170) == Fraction(230, 3));
  PUBLISHED("units", kScale, "32 F is 0 C", celsius(32) == Fraction(0));
  PUBLISHED("units", kScale, "212 F is 100 C", celsius(212) == Fraction(100));
  PUBLISHED("units", kScale, "-40 is -40", celsius(-40) == Fraction(-40));
  PUBLISHED("units", kScale, "0 C is 273.15 K", *exact_si(0, unit("degC")) == Fraction(27315, 100));
  PUBLISHED_NUMBER("units", kScale, "170 F as a type", Temperature::from_fahrenheit(170).celsius(), 76.6667, 5e-5);
}

TEST_CASE("units: kinds of one name stay apart") {
  PUBLISHED("units", kNist, "imperial gallon in US gallons",
            agrees(convert(1, unit("imperial gal"), unit("gal"))->to_double(), "1.20095"));
  PUBLISHED("units", kNist, "760 mmHg is not an atmosphere",
            agrees(convert(760, unit("mmHg"), unit("Pa"))->to_double(), "101325.0144"));
  PUBLISHED("units", kNist, "an imperial pint has 20 imperial fluid ounces",
            *convert(1, unit("imperial pt"), unit("imperial fl oz")) == Fraction(20));
  PUBLISHED("units", kNist, "a US pint has 16 US fluid ounces", *convert(1, unit("pt"), unit("fl oz")) == Fraction(16));
  PUBLISHED("units", kNist, "an ounce is no fluid ounce", !convert(1, unit("oz"), unit("fl oz")));
}

TEST_CASE("units: the strong types carry the same factors as the table") {
  const auto same = [](double si, std::string_view word) {
    return published::near(si, unit(word).factor.to_double(), 4e-16);
  };
  const std::string_view source = kNist;
  PUBLISHED("units", source, "gallon", same(Volume::from_gallons(1).si(), "gal"));
  PUBLISHED("units", source, "quart", same(Volume::from_quarts(1).si(), "qt"));
  PUBLISHED("units", source, "pint", same(Volume::from_pints(1).si(), "pt"));
  PUBLISHED("units", source, "cup", same(Volume::from_cups(1).si(), "cup"));
  PUBLISHED("units", source, "fluid ounce", same(Volume::from_fluid_ounces(1).si(), "fl oz"));
  PUBLISHED("units", source, "tablespoon", same(Volume::from_tablespoons(1).si(), "tbsp"));
  PUBLISHED("units", source, "teaspoon", same(Volume::from_teaspoons(1).si(), "tsp"));
  PUBLISHED("units", source, "imperial gallon", same(Volume::from_imperial_gallons(1).si(), "imperial gal"));
  PUBLISHED("units", source, "imperial fluid ounce",
            same(Volume::from_imperial_fluid_ounces(1).si(), "imperial fl oz"));
  PUBLISHED("units", source, "cubic foot", same(Volume::from_cubic_feet(1).si(), "ft3"));
  PUBLISHED("units", source, "cubic yard", same(Volume::from_cubic_yards(1).si(), "yd3"));
  PUBLISHED("units", source, "acre", same(Area::from_acres(1).si(), "acre"));
  PUBLISHED("units", source, "thousand square feet", same(Area::from_thousand_square_feet(1).si(), "1000 ft2"));
  PUBLISHED("units", source, "pound", same(Mass::from_pounds(1).si(), "lb"));
  PUBLISHED("units", source, "ounce", same(Mass::from_ounces(1).si(), "oz"));
  PUBLISHED("units", source, "psi", same(Pressure::from_psi(1).si(), "psi"));
  PUBLISHED("units", source, "mmHg", same(Pressure::from_millimeters_of_mercury(1).si(), "mmHg"));
  PUBLISHED("units", source, "inch of water", same(Pressure::from_inches_of_water(1).si(), "inH2O"));
  PUBLISHED("units", source, "mph", same(Speed::from_miles_per_hour(1).si(), "mph"));
  PUBLISHED("units", source, "knot", same(Speed::from_knots(1).si(), "kn"));
  PUBLISHED("units", source, "cfm", same(Flow::from_cubic_feet_per_minute(1).si(), "cfm"));
  PUBLISHED("units", source, "gallon per minute", same(Flow::from_gallons_per_minute(1).si(), "gal/min"));
  PUBLISHED("units", source, "gallon per acre", same(VolumePerArea::from_gallons_per_acre(1).si(), "gal/acre"));
  PUBLISHED("units", source, "fluid ounce per 1000 sq ft",
            same(VolumePerArea::from_fluid_ounces_per_thousand_square_feet(1).si(), "fl oz/1000 ft2"));
  PUBLISHED("units", source, "pound per acre", same(MassPerArea::from_pounds_per_acre(1).si(), "lb/acre"));
  PUBLISHED("units", source, "ounce per gallon", same(Concentration::from_ounces_per_gallon(1).si(), "oz/gal"));
  PUBLISHED("units", source, "pound per cubic yard", same(Density::from_pounds_per_cubic_yard(1).si(), "lb/yd3"));
}
