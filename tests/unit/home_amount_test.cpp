#include "quantity/home_amount.h"

#include <doctest/doctest.h>

using namespace steep;

namespace {

const Words kEnglish(Language::English);
UnitsShown reader(System system) {
  UnitsShown units;
  units.system = system;
  return units;
}

}  // namespace

TEST_CASE("amounts of a recipe in the unit in which the reader measures them out") {
  const UnitsShown us = reader(System::Us), metric = reader(System::Metric);
  const auto range = [](double low, double high, const char* of, const UnitsShown& units) {
    return show_home_range(low, high, unit(of), units, kEnglish);
  };
  // 1 lb = 16 oz = 453.59237 g; 1 fl oz = 29.5735 mL.
  CHECK(range(0.04, 0.04, "lb", us) == "0.64 oz");
  CHECK(range(0.56, 0.56, "lb", us) == "0.56 lb");
  CHECK(range(0.06, 0.06, "lb", metric) == "27.2 g");
  CHECK(range(0.06, 0.12, "fl oz", metric) == "1.77 to 3.55 mL");
  CHECK(range(2, 4, "lb", metric) == "0.907 to 1.81 kg");
  CHECK(range(200, 250, "g", us) == "7.05 to 8.82 oz");
  CHECK(range(0.25, 0.25, "each", metric) == "0.25 each");
  CHECK(range(0, 0, "lb", us) == "0 lb");
}

TEST_CASE("a figure that nobody typed stands in the reader's own unit") {
  CHECK(show_at_home(*parse_written("1 L/min/gal"), reader(System::Us), kEnglish) == "1 L/min/gal");
  CHECK(show_at_home(*parse_written("1 L/min/gal"), reader(System::Metric), kEnglish) == "0.264 L/min/L");
  CHECK(show_at_home(*parse_written("45 min"), reader(System::Metric), kEnglish) == "45 min");
}
