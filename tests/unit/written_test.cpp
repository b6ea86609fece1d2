#include <doctest/doctest.h>

#include "quantity/written.h"

using namespace steep;

namespace {

bool equal(std::string_view a, std::string_view b) {
  const auto left = parse_written(a), right = parse_written(b);
  CHECK_MESSAGE((left && right), a, " ", b);
  return left && right && *left == *right;
}

}  // namespace

TEST_CASE("written: the same amount in other words is equal, exactly") {
  CHECK(equal("1.5 gal", "1.50 gal"));
  CHECK(equal("1.5 gal", "192 fl oz"));
  CHECK(equal("1 1/2 gal", "6 qt"));
  CHECK(equal("1/3 cup", "16 tsp"));
  CHECK(equal("131 degF", "55 degC"));
  CHECK(equal("1 m3", "1000 L"));
  CHECK(equal("120 min", "2 h"));
  CHECK_FALSE(equal("1 gal", "1 imperial gal"));
  CHECK_FALSE(equal("1 gal", "3.785411783 L"));
  CHECK_FALSE(equal("1 bunch", "1 crate"));
  CHECK_FALSE(equal("1 oz", "1 fl oz"));
  CHECK_FALSE(equal("0.333333333 cup", "1/3 cup"));
}

TEST_CASE("written: normal forms come back as they are") {
  for (const std::string_view text :
       {"22 kg", "2 1/2 cup", "1.50 gal", "1 imperial gal", "-4 degC", "0 gal", "85 %", "5 1000 ft2", "0.000000001 mg",
        "999999999999999 L", "999999999999999.999999999 m3", "3 fl oz/1000 ft2", "2 1/2 qt/100 gal",
        "1 L/min/imperial gal", "-40 degF", "7/2 cup", "-2 1/2 degC", "0/3 cup"}) {
    const auto written = parse_written(text);
    CHECK_MESSAGE(written.has_value(), text);
    if (written) CHECK(written->text == text);
  }
}

TEST_CASE("written: anything else in the journal is damage") {
  for (const std::string_view bad : {"",
                                     " ",
                                     "22",
                                     "kg",
                                     "22kg",
                                     " 22 kg",
                                     "22 kg ",
                                     "22  kg",
                                     "22 KG",
                                     "22 kilos",
                                     "2,5 kg",
                                     "1.500,25 L",
                                     ".5 kg",
                                     "5. kg",
                                     "05 kg",
                                     "00 kg",
                                     "-0 degC",
                                     "-3 gal",
                                     "+3 gal",
                                     "1e3 kg",
                                     "1/0 cup",
                                     "1 1/0 cup",
                                     "0 1/2 cup",
                                     "2 3/2 cup",
                                     "1 -1/2 cup",
                                     "1/2/3 cup",
                                     "1 2 cup",
                                     "1234567/2 cup",
                                     "1/1234567 cup",
                                     "1234567890123456 L",
                                     "1.1234567890 L",
                                     "-300 degC",
                                     "NaN kg",
                                     "inf kg",
                                     "1 gal/frog",
                                     "2 1/2 cup extra",
                                     "2½ cup",
                                     "1 0 00 ft2",
                                     "-- kg",
                                     "1 degF degC",
                                     "1 kg\n"}) {
    const auto written = parse_written(bad);
    CHECK_MESSAGE(!written.has_value(), bad);
    if (!written) CHECK(written.error().kind == Trouble::Damaged);
  }
  CHECK_FALSE(parse_written(std::string(100000, '1')).has_value());
  CHECK_FALSE(parse_written(std::string(100000, ' ')).has_value());
  CHECK_FALSE(parse_written(std::string_view("1 kg\0", 5)).has_value());
}

TEST_CASE("written: every unit can be stored with the longest number") {
  for (const Unit& u : all_units()) {
    for (const std::string_view number : {"999999999999999.999999999", "999999999 999998/999999", "0.000000001"}) {
      const std::string text = std::string(number) + " " + std::string(u.word);
      const auto written = parse_written(text);
      // Longer than 40 bytes is refused; the rest must have an exact SI value.
      CHECK_MESSAGE(written.has_value() == (text.size() <= 40), text);
      if (written) CHECK(si(*written) > Fraction(0));
    }
  }
}

TEST_CASE("written: computed amounts take a normal form") {
  CHECK(write_quantity(1.5, unit("gal")).text == "1.5 gal");
  CHECK(write_quantity(Volume::from_gallons(1.0 / 3), unit("gal"), 2).text == "0.33 gal");
  CHECK(write_quantity(0, unit("L")).text == "0 L");
  CHECK(write_quantity(Temperature::from_celsius(-4), unit("degC"), 1).text == "-4 degC");
  const Written made = write_quantity(12.345678, unit("L"), 4);
  const auto back = parse_written(made.text);
  CHECK(back.has_value());
  if (back) CHECK(*back == made);
  CHECK(as<Volume>(made).liters() == doctest::Approx(12.3457));
}

TEST_CASE("written: numbers of the journal") {
  for (const std::string_view good : {"0", "-0", "007", "7.40", "-12.123456789", "123456789012345"}) {
    CHECK(is_journal_number(good));
    CHECK(parse_journal_number(good).has_value());
  }
  for (const std::string_view bad :
       {"", "-", "1.", ".5", "+1", "1,5", "1e3", "1234567890123456", "1.1234567890", " 1", "1 ", "½", "--1", "0x1"}) {
    CHECK_FALSE(is_journal_number(bad));
    CHECK_FALSE(parse_journal_number(bad).has_value());
  }
}
