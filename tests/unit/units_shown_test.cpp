#include <doctest/doctest.h>

#include "quantity/units_shown.h"

using namespace steep;

namespace {

const Words kEnglish(Language::English), kSpanish(Language::Spanish);
constexpr UnitsShown kUs{};
constexpr UnitsShown kMetric{System::Metric, DecimalMark::Comma, Clock::Hours24, Gallons::Us};
constexpr UnitsShown kImperial{System::Us, DecimalMark::Point, Clock::Hours24, Gallons::Imperial};

std::string both(std::string_view normal, const UnitsShown& units, const Words& words) {
  const auto written = parse_written(normal);
  return written ? show_both(*written, units, words) : "damaged";
}

}  // namespace

TEST_CASE("shown: the unit suits the size and the system") {
  CHECK(show(Volume::from_gallons(5.886), kUs, kEnglish) == "5.89 gal");
  CHECK(show(Volume::from_gallons(0.2583), kUs, kEnglish) == "0.26 gal");
  CHECK(show(Volume::from_gallons(0.05), kUs, kEnglish) == "6.4 fl oz");
  CHECK(show(Volume::from_gallons(0), kUs, kEnglish) == "0 gal");
  CHECK(show(Volume::from_gallons(5), kMetric, kSpanish) == "18,9 L");
  CHECK(show(Volume::from_liters(0.35), kMetric, kSpanish) == "350 mL");
  CHECK(show(Volume::from_imperial_gallons(2), kImperial, kEnglish) == "2 imperial gal");
  CHECK(show(Area::from_square_feet(4500), kUs, kEnglish) == "4500 sq ft");
  CHECK(show(Area::from_acres(1), kUs, kEnglish) == "1 acre");
  CHECK(show(Area::from_acres(2.066), kUs, kEnglish) == "2.07 acres");
  CHECK(show(Temperature::from_fahrenheit(68.5), kUs, kEnglish) == "68.5 °F");
  CHECK(show(Temperature::from_celsius(-4), kMetric, kSpanish) == "-4 °C");
  CHECK(show(VolumePerArea::from_gallons_per_acre(45), kUs, kEnglish) == "45 gal/acre");
  CHECK(show(Concentration::from_milligrams_per_liter(8.4), kUs, kEnglish) == "8.4 mg/L");
  CHECK(show(Share::from_percent(85), kUs, kEnglish) == "85%");
  CHECK(show(Share::from_percent(85), kMetric, kSpanish) == "85 %");
  CHECK(show(Length::from_inches(30), kUs, kEnglish) == "30 in");
  CHECK(show(Length::from_feet(100), kUs, kSpanish) == "100 pies");
}

TEST_CASE("shown: air as pumps are rated: large ones in cfm where gallons are used, small ones in L/min") {
  const auto air = [](Flow flow, const UnitsShown& units) {
    return show_in(air_unit(flow, units), flow.si(), units, kEnglish).text();
  };
  CHECK(air(Flow::from_cubic_feet_per_minute(1.8), kUs) == "1.8 cfm");
  CHECK(air(Flow::from_cubic_feet_per_minute(1), kUs) == "1 cfm");
  CHECK(air(Flow::from_liters_per_minute(2.82), kUs) == "2.82 L/min");
  CHECK(air(Flow{}, kUs) == "0 L/min");
  CHECK(air(Flow::from_liters_per_minute(100), kMetric) == "100 L/min");
}

TEST_CASE("shown: number and unit apart, and spoken in full") {
  const Shown rate = show_parts(VolumePerArea::from_gallons_per_acre(20), kUs, kEnglish);
  CHECK(rate.number == "20");
  CHECK(rate.unit == "gal/acre");
  CHECK(rate.speech() == "20 gallons per acre");
  CHECK(show_parts(Volume::from_gallons(1), kUs, kEnglish).speech() == "1 gallon");
  CHECK(show_parts(FlowPerVolume::from_liters_per_minute_per_gallon(1), kUs, kEnglish).speech() ==
        "1 liter per minute per gallon");
  CHECK(show_parts(VolumePerArea::from_liters_per_hectare(400), kMetric, kSpanish).speech() ==
        "400 litros por hectárea");
}

TEST_CASE("shown: a fixed unit and fixed places for columns") {
  CHECK(show_in(unit("gal"), Volume::from_gallons(4).si(), kUs, kEnglish, 2).text() == "4.00 gal");
  CHECK(show_in(unit("gal"), Volume::from_gallons(0.004).si(), kUs, kEnglish).text() == "0 gal");
  CHECK(show_in(unit("L"), Volume::from_gallons(1).si(), kMetric, kSpanish, 1).text() == "3,8 L");
  // 1 part of concentrate in 5000.
  CHECK(show_parts(Share::from_ratio(1.0 / 5000), kUs, kEnglish).text() == "0.02%");
  CHECK(show_parts(Share{}, kUs, kEnglish).text() == "0%");
  CHECK(show_number(1e-5, kUs, 2) == "0.00001");
  CHECK(show_number(0, kUs, 2) == "0.00");
}

TEST_CASE("shown: numbers") {
  CHECK(show_number(0, kUs) == "0");
  CHECK(show_number(9999, kUs) == "9999");
  CHECK(show_number(10000, kUs) == "10,000");
  CHECK(show_number(1234567, kMetric) == "1.234.567");
  CHECK(show_number(123456, kUs) == "123,456");
  CHECK(show_number(-1234567.5, kUs, 1) == "-1,234,567.5");
  CHECK(show_number(0.00123456, kUs) == "0.00123");
  CHECK(show_number(99.96, kUs) == "100");
  CHECK(show_number(-0.0000000001, kUs) == "0");
  CHECK(show_count(43560, kUs) == "43,560");
  CHECK(show_decimal("12500.50", kMetric) == "12.500,50");
}

TEST_CASE("shown: what was typed stays, the other system stands behind it") {
  CHECK(both("22 kg", kUs, kEnglish) == "22 kg (48.5 lb)");
  CHECK(both("22 kg", kMetric, kSpanish) == "22 kg");
  CHECK(both("2 1/2 cup", kUs, kEnglish) == "2 1/2 cups");
  CHECK(both("1/2 cup", kMetric, kSpanish) == "1/2 taza (118 mL)");
  CHECK(both("1.50 gal", kMetric, kSpanish) == "1,50 gal (5,68 L)");
  CHECK(both("3 imperial gal", kUs, kEnglish) == "3 imperial gal (3.6 gal)");
  CHECK(both("3 gal", kImperial, kEnglish) == "3 gal (2.5 imperial gal)");
  CHECK(both("20 degC", kUs, kEnglish) == "20 °C (68 °F)");
  CHECK(both("8.4 mg/L", kUs, kEnglish) == "8.4 mg/L");
  CHECK(both("80 min", kMetric, kSpanish) == "80 min");
}

TEST_CASE("shown: bed sizes, feet and inches") {
  CHECK(show_bed_size(Length::from_feet(100), Length::from_inches(30), kUs, kEnglish) == "100 ft × 30 in");
  CHECK(show_bed_size(Length::from_meters(30), Length::from_centimeters(75), kMetric, kSpanish) == "30 m × 75 cm");
  CHECK(show_bed_size(Length::from_feet(200), Length::from_feet(20), kUs, kEnglish) == "200 ft × 20 ft");
  CHECK(show_feet_inches(Length::from_inches(102), kUs, kEnglish) == "8 ft 6 in");
  CHECK(show_feet_inches(Length::from_inches(96), kUs, kEnglish) == "8 ft");
  CHECK(show_feet_inches(Length::from_inches(11.6), kUs, kEnglish) == "1 ft");
  CHECK(show_feet_inches(Length::from_inches(0), kUs, kEnglish) == "0 in");
}

TEST_CASE("shown: every unit has a label and spoken words in both languages") {
  for (const Unit& u : all_units()) {
    for (const Words& words : {kEnglish, kSpanish}) {
      for (const double amount : {1.0, 2.0}) {
        CHECK_MESSAGE(unit_label(u, amount, words).find('[') == std::string::npos, u.word);
        const std::string spoken = unit_spoken(u, amount, words);
        CHECK_MESSAGE(spoken.find('/') == std::string::npos, u.word, ": ", spoken);
        CHECK_MESSAGE(spoken.find('2') == std::string::npos, u.word, ": ", spoken);
      }
    }
  }
}

TEST_CASE("shown: what people see can be read again") {
  for (const Unit& u : all_units()) {
    for (const Words& words : {kEnglish, kSpanish}) {
      const std::string label = "2 " + unit_label(u, 2, words);
      const auto back = read_quantity(label, u.dimension, {DecimalMark::Point, Gallons::Either});
      const bool asked = !back && back.error().kind == Trouble::Ask;
      CHECK_MESSAGE((asked || (back && back->unit == &u)), u.word, " shown as ", label);
    }
  }
}
