#include <doctest/doctest.h>

#include <array>

#include "base/text.h"
#include "quantity/typeable.h"
#include "quantity/written.h"

using namespace steep;

namespace {

constexpr DecimalMark kComma = DecimalMark::Comma;
constexpr std::array kWeightOrVolume = {Dimension::Mass, Dimension::Volume};

/// The normal form; 'ask: a | b' for questions; 'no: word' for refusals.
template <class R>
std::string told(const R& read, std::string text) {
  if (read) return text;
  const Problem& p = read.error();
  if (p.kind != Trouble::Ask) return "no: " + std::string(p.word.key.substr(p.word.key.find('.') + 1));
  return "ask: " + join(std::vector<std::string>(p.values.begin() + 1, p.values.end()), " | ");
}
std::string read(std::string_view typed, Dimension wanted, const Habits& habits = {}, std::string_view bare = {}) {
  const auto found = read_quantity(typed, wanted, habits, bare.empty() ? nullptr : &unit(bare));
  return told(found, found ? found->text : "");
}
std::string number(std::string_view typed, DecimalMark mark = DecimalMark::Point) {
  const auto found = read_number(typed, mark);
  return told(found, found ? found->text : "");
}

}  // namespace

TEST_CASE("reading: a number and a unit, spelled as people do") {
  CHECK(read("15 gal/ac", Dimension::VolumePerArea) == "15 gal/acre");
  CHECK(read("68 F", Dimension::Temperature) == "68 degF");
  CHECK(read("68°", Dimension::Temperature, {}, "degF") == "68 degF");
  CHECK(read("20ºC", Dimension::Temperature) == "20 degC");
  CHECK(read("3.5 cups", Dimension::Volume) == "3.5 cup");
  CHECK(read("40 PSI", Dimension::Pressure) == "40 psi");
  CHECK(read("22lbs", Dimension::Mass) == "22 lb");
  CHECK(read("22 libras", Dimension::Mass) == "22 lb");
  CHECK(read("5 galones", Dimension::Volume) == "5 gal");
  CHECK(read("30 pulg", Dimension::Length) == "30 in");
  CHECK(read("30\"", Dimension::Length) == "30 in");
  CHECK(read("100'", Dimension::Length) == "100 ft");
  CHECK(read("8.4 ppm", Dimension::MassPerVolume) == "8.4 mg/L");
  CHECK(read("85%", Dimension::Share) == "85 %");
  CHECK(read("1.50 gal", Dimension::Volume) == "1.50 gal");
  CHECK(read("12 manojos", Dimension::Count) == "12 bunch");
}

TEST_CASE("reading: fractions") {
  CHECK(read("1/2 cup", Dimension::Volume) == "1/2 cup");
  CHECK(read("2 1/2 cups", Dimension::Volume) == "2 1/2 cup");
  CHECK(read("2-1/2 cups", Dimension::Volume) == "2 1/2 cup");
  CHECK(read("½", Dimension::Volume, {}, "cup") == "1/2 cup");
  CHECK(read("2½ tazas", Dimension::Volume) == "2 1/2 cup");
  CHECK(read("2 ⅓ cups", Dimension::Volume) == "2 1/3 cup");
  CHECK(read("1⁄4 cup", Dimension::Volume) == "1/4 cup");
  CHECK(read("3/2 cup", Dimension::Volume) == "3/2 cup");
  CHECK(read("1/0 cup", Dimension::Volume) == "no: unreadable");
  CHECK(read("1 5/2 cup", Dimension::Volume) == "no: unreadable");
  CHECK(read("1/1234567 cup", Dimension::Volume) == "no: digits");
}

TEST_CASE("reading: decimal comma and point") {
  for (const DecimalMark mark : {DecimalMark::Point, kComma}) {
    CHECK(read("1,5", Dimension::Volume, mark, "gal") == "1.5 gal");
    CHECK(read("1.5", Dimension::Volume, mark, "gal") == "1.5 gal");
    CHECK(read("0,500 L", Dimension::Volume, mark) == "0.500 L");
    CHECK(read("1.500,25 L", Dimension::Volume, mark) == "1500.25 L");
    CHECK(read("1,500.25 L", Dimension::Volume, mark) == "1500.25 L");
    CHECK(read("1,500,000 L", Dimension::Volume, mark) == "1500000 L");
    CHECK(read("1.500.000 L", Dimension::Volume, mark) == "1500000 L");
    CHECK(read("1\xC2\xA0"
               "500\xE2\x80\xAF"
               "000 L",
               Dimension::Volume, mark) == "1500000 L");  // No-break spaces.
    CHECK(read("1500,5 L", Dimension::Volume, mark) == "1500.5 L");
    CHECK(read("1,500", Dimension::Volume, mark, "gal") == "ask: 1500 gal | 1.5 gal");
    CHECK(read("1,50,000 L", Dimension::Volume, mark) == "no: unreadable");
    CHECK(read("1.500,250,3 L", Dimension::Volume, mark) == "no: unreadable");
    CHECK(read("0,500,000 L", Dimension::Volume, mark) == "no: unreadable");
  }
  CHECK(read("1.500 L", Dimension::Volume) == "1.500 L");
  CHECK(read("1.500 L", Dimension::Volume, kComma) == "ask: 1500 L | 1.5 L");
  CHECK(read("12.500 L", Dimension::Volume, kComma) == "ask: 12500 L | 12.5 L");
  CHECK(read(".5 L", Dimension::Volume) == "0.5 L");
  CHECK(read(",5 L", Dimension::Volume, kComma) == "0.5 L");
  CHECK(read("007 L", Dimension::Volume) == "7 L");
}

TEST_CASE("reading: two numbers side by side are asked, or refused") {
  CHECK(read("12 100 ft", Dimension::Length) == "ask: 12100 ft");
  CHECK(read("1234 100 ft", Dimension::Length) == "no: unreadable");
  CHECK(read("12 10 ft", Dimension::Length) == "no: unreadable");
}

TEST_CASE("reading: a bare number takes the field's unit, or asks") {
  CHECK(read("15", Dimension::Volume, {}, "gal") == "15 gal");
  CHECK(read("15", Dimension::Volume) == "ask: 15 gal | 15 L");
  CHECK(read("68", Dimension::Temperature) == "ask: 68 degF | 68 degC");
  CHECK(read("15 L", Dimension::Volume, {}, "gal") == "15 L");
}

TEST_CASE("reading: ounces by weight and by volume are never mixed in silence") {
  CHECK(read("4 oz", Dimension::Mass) == "4 oz");
  CHECK(read("4 oz", Dimension::Volume) == "ask: 4 fl oz");
  CHECK(read("4 fl oz", Dimension::Volume) == "4 fl oz");
  CHECK(read("4 oz/gal", Dimension::MassPerVolume) == "4 oz/gal");
  CHECK(read("4 oz/gal", Dimension::VolumePerVolume) == "ask: 4 fl oz/gal");
  const auto either = read_quantity("2 oz", kWeightOrVolume, {});
  CHECK(told(either, "") == "ask: 2 fl oz | 2 oz");
  const auto weight = read_quantity("2 oz (weight)", kWeightOrVolume, {});
  CHECK(told(weight, weight ? weight->text : "") == "2 oz");
}

TEST_CASE("reading: gallons and cups of several kinds") {
  const Habits both{DecimalMark::Point, Gallons::Either}, imperial{DecimalMark::Point, Gallons::Imperial};
  CHECK(read("3 gal", Dimension::Volume) == "3 gal");
  CHECK(read("3 gal", Dimension::Volume, imperial) == "3 imperial gal");
  CHECK(read("3 gal", Dimension::Volume, both) == "ask: 3 gal | 3 imperial gal");
  CHECK(read("3 US gal", Dimension::Volume, both) == "3 gal");
  CHECK(read("3 imp gal", Dimension::Volume) == "3 imperial gal");
  CHECK(read("3 gal", Dimension::Volume, {}, "imperial gal") == "ask: 3 gal | 3 imperial gal");
  CHECK(read("10 gal/ac", Dimension::VolumePerArea, both) == "ask: 10 gal/acre | 10 imperial gal/acre");
  CHECK(read("2 cups", Dimension::Volume) == "2 cup");
  CHECK(read("2 cups", Dimension::Volume, both) == "ask: 2 cup | 2 metric cup");
  CHECK(read("2 metric cups", Dimension::Volume) == "2 metric cup");
  CHECK(read("2 T", Dimension::Volume) == "ask: 2 tbsp | 2 tsp");
}

TEST_CASE("reading: no US measure is taken in silence where people write imperial ones") {
  // 2 pt/acre of an imperial label is a fifth more than of a US one.
  const Habits imperial{DecimalMark::Point, Gallons::Imperial}, both{DecimalMark::Point, Gallons::Either};
  for (const Unit& u : all_units()) {
    if (u.measure != Measure::Us) continue;
    for (const Habits& habits : {imperial, both}) {
      const auto found = read_quantity("2 " + std::string(u.word), u.dimension, habits);
      CHECK_MESSAGE((!found || found->unit->measure != Measure::Us), u.word);
    }
  }
  CHECK(read("2 pt/acre", Dimension::VolumePerArea, imperial) == "2 imperial pt/acre");
  CHECK(read("2 pt/acre", Dimension::VolumePerArea, both) == "ask: 2 pt/acre | 2 imperial pt/acre");
  CHECK(read("2 US pt/acre", Dimension::VolumePerArea, imperial) == "2 pt/acre");
  CHECK(read("10 gph", Dimension::Flow, imperial) == "10 imperial gal/h");
  CHECK(read("3 g/gal", Dimension::MassPerVolume, imperial) == "3 g/imperial gal");
  CHECK(read("1 tbsp/gal", Dimension::VolumePerVolume, imperial) == "ask: 1 tbsp/gal | 1 metric tbsp/imperial gal");
  CHECK(read("1 tbsp/gal", Dimension::VolumePerVolume) == "1 tbsp/gal");
}

TEST_CASE("reading: a ton is a short, a long or a metric one") {
  const Habits imperial{DecimalMark::Point, Gallons::Imperial};
  CHECK(read("2 tons", Dimension::Mass) == "ask: 2 ton | 2 t");
  CHECK(read("2 tons", Dimension::Mass, imperial) == "ask: 2 imperial ton | 2 t");
  CHECK(read("2 US tons", Dimension::Mass) == "2 ton");
  CHECK(read("2 short tons", Dimension::Mass, imperial) == "2 ton");
  CHECK(read("2 long tons", Dimension::Mass) == "2 imperial ton");
  CHECK(read("2 tonnes", Dimension::Mass) == "2 t");
  CHECK(read("2 toneladas", Dimension::Mass) == "2 t");
  CHECK(read("1 ton/acre", Dimension::MassPerArea) == "ask: 1 ton/acre | 1 t/acre");
}

TEST_CASE("reading: oxygen without its unit is offered in no ounces") {
  CHECK(read("8.1", Dimension::MassPerVolume) == "ask: 8.1 mg/L");
  CHECK(read("8.1 ppm", Dimension::MassPerVolume) == "8.1 mg/L");
}

TEST_CASE("reading: days and inches are offered for a bare number") {
  CHECK(read("7", Dimension::Time) == "ask: 7 h | 7 min | 7 day");
  CHECK(read("30", Dimension::Length) == "ask: 30 ft | 30 in | 30 m");
  CHECK(read("20 °C", Dimension::Temperature) == "20 degC");
}

namespace {

struct Asked {
  int questions = 0, open = 0;
};

/// Reads `typed`; if it is asked about, each alternative as it is offered has to answer the question.
void answer_all(std::string_view typed, std::span<const Dimension> wanted, const Habits& habits, const Unit* bare,
                Language language, Asked& asked) {
  const auto read = read_quantity(typed, wanted, habits, bare);
  if (read || read.error().kind != Trouble::Ask) return;
  ++asked.questions;
  std::vector<Written> among;
  for (std::size_t i = 1; i < read.error().values.size(); ++i) among.push_back(*parse_written(read.error().values[i]));
  UnitsShown units;
  units.mark = habits.mark;
  units.gallons = habits.gallons;
  for (const Written& one : among) {
    const std::string offered = typeable(one, among, units, Words(language));
    const auto again = read_quantity(offered, wanted, habits, bare);
    const bool same = again && *again == one;
    if (!same) ++asked.open;
    CHECK_MESSAGE(same, std::string(typed), " offers ", offered, " for ", one.text);
  }
}

}  // namespace

TEST_CASE("reading: whatever is offered answers the question when it is typed, in both languages") {
  constexpr Dimension kAny[] = {Dimension::Mass,          Dimension::Volume,       Dimension::Length,
                                Dimension::Time,          Dimension::Temperature,  Dimension::Speed,
                                Dimension::VolumePerArea, Dimension::MassPerArea,  Dimension::MassPerVolume,
                                Dimension::Share,         Dimension::Count,        Dimension::Conductivity,
                                Dimension::Area,          Dimension::Pressure,     Dimension::VolumePerVolume,
                                Dimension::Flow,          Dimension::FlowPerVolume};
  Asked asked;
  for (const Language language : {Language::English, Language::Spanish})
    for (const DecimalMark mark : {DecimalMark::Point, kComma})
      for (const Gallons gallons : {Gallons::Us, Gallons::Imperial, Gallons::Either}) {
        const Habits habits{mark, gallons};
        const auto all_ways = [&](std::string_view typed, const Dimension& own) {
          answer_all(typed, std::span(&own, 1), habits, nullptr, language, asked);
          answer_all(typed, kWeightOrVolume, habits, nullptr, language, asked);
          answer_all(typed, kAny, habits, nullptr, language, asked);
        };
        for (const Unit& unit : all_units()) {
          std::vector<std::string_view> spelled{unit.word};
          for (const std::string_view one : split(unit.spellings, '|')) spelled.push_back(one);
          for (std::string_view word : spelled) {
            if (word.empty()) continue;
            if (word.starts_with('~')) word.remove_prefix(1);
            for (const std::string_view number : {"2 ", "1,500 "})
              all_ways(std::string(number) + std::string(word), unit.dimension);
          }
          for (const std::string_view number : {"7", "1,500", "1.250", "2 1/2", "12 100"})
            all_ways(number, unit.dimension);
        }
        for (const std::string_view typed : {"3 gal", "3 galones", "1 gal 2 qt", "2.255 oz"})
          answer_all(typed, kWeightOrVolume, habits, &unit("imperial gal"), language, asked);
      }
  CHECK(asked.questions > 1000);
  CHECK(asked.open == 0);
}

TEST_CASE("reading: two units of one kind become the smaller") {
  CHECK(read("8' 6\"", Dimension::Length) == "102 in");
  CHECK(read("8 ft 6 in", Dimension::Length) == "102 in");
  CHECK(read("5'-6", Dimension::Length) == "66 in");
  CHECK(read("8 ft 6 1/2 in", Dimension::Length) == "102.5 in");
  CHECK(read("1 h 20 min", Dimension::Time) == "80 min");
  CHECK(read("1 h y 20 min", Dimension::Time) == "80 min");
  CHECK(read("1h20", Dimension::Time) == "80 min");
  CHECK(read("2 lb 4 oz", Dimension::Mass) == "36 oz");
  CHECK(read("1 gal 2 qt", Dimension::Volume) == "6 qt");
  CHECK(read("1 gal 2 qt", Dimension::Volume, {DecimalMark::Point, Gallons::Either}) == "ask: 6 qt | 6 imperial qt");
  CHECK(read("8 ft 14 in", Dimension::Length) == "no: unknown-unit");
  CHECK(read("6 in 8 ft", Dimension::Length) == "no: unknown-unit");
  CHECK(read("2 lb 4 ft", Dimension::Mass) == "no: unknown-unit");
}

TEST_CASE("reading: what is refused, and why") {
  CHECK(read("-3 gal", Dimension::Volume) == "no: negative");
  CHECK(read("−3 gal", Dimension::Volume) == "no: negative");
  CHECK(read("-3 C", Dimension::Temperature) == "-3 degC");
  CHECK(read("-500 F", Dimension::Temperature) == "no: cold");
  CHECK(read("20 L", Dimension::Mass) == "no: not-mass");
  CHECK(read("20 F", Dimension::Volume) == "no: not-volume");
  CHECK(read("20 frogs", Dimension::Volume) == "no: unknown-unit");
  CHECK(read("", Dimension::Volume) == "no: empty");
  CHECK(read("  ", Dimension::Volume) == "no: empty");
  CHECK(read("some", Dimension::Volume) == "no: not-volume");
  CHECK(read("1:4", Dimension::Volume, {}, "gal") == "no: unreadable");
  CHECK(read("1234567890123456 gal", Dimension::Volume) == "no: digits");
  CHECK(read("1.1234567890 gal", Dimension::Volume) == "no: digits");
  CHECK(read("3 ft", Dimension::Volume) == "no: not-volume");
}

TEST_CASE("reading: numbers alone") {
  CHECK(number("1,5") == "1.5");
  CHECK(number("½") == "1/2");
  CHECK(number("-2 1/2") == "-2 1/2");
  CHECK(number("1.500,25") == "1500.25");
  CHECK(number("1,500") == "ask: 1500 | 1.5");
  CHECK(number("7.40") == "7.40");
  CHECK(number("-0") == "0");
  CHECK(number("7 pH") == "no: unreadable");
  CHECK(number("") == "no: empty");
}

TEST_CASE("reading: two amounts are not one") {
  for (const char* typed : {"2-3 cups", "2 – 3 cups", "2 — 3 cups", "2 to 3 cups", "2 a 3 tazas", "2 hasta 3 tazas",
                            "2 cups - 3 pints", "1/2-1 cup", "3-2 cups", "2 lb - 3 cups"})
    CHECK_MESSAGE(read(typed, Dimension::Volume) == "no: range", typed);
  CHECK(read("2-3", Dimension::Volume, {}, "cup") == "no: range");
}

TEST_CASE("reading: hostile text never crashes, and what is read comes back") {
  const std::array<std::string_view, 26> kPieces = {
      "1",   "2",  "0",    "5",   ".",   ",",    " ", "/",    "-",
      "½",   "'",  "\"",   "gal", "oz",  "ft",   "°", "\xC2", "\xE2\x80\xAF",
      "to ", "lb", "\xFF", "F",   "000", "per ", "%", "h"};
  std::uint32_t seed = 12345;
  for (int i = 0; i < 3000; ++i) {
    std::string text;
    for (int n = 0; n < 1 + static_cast<int>(seed >> 16 & 7u); ++n) {
      seed = seed * 1664525u + 1013904223u;
      text += kPieces[(seed >> 10) % kPieces.size()];
    }
    for (const Dimension wanted : {Dimension::Volume, Dimension::Length, Dimension::Temperature}) {
      const auto found = read_quantity(text, wanted, i % 2 ? DecimalMark::Point : kComma);
      if (!found) {
        CHECK(is_utf8(join(found.error().values, "")));
        continue;
      }
      const auto back = parse_written(found->text);
      CHECK_MESSAGE((back && *back == *found && back->text == found->text), text);
    }
    (void)read_number(text, kComma);
  }
  CHECK(read(std::string(100000, '9'), Dimension::Volume) == "no: unreadable");
  CHECK(read("5 " + std::string(190, '/'), Dimension::Volume) == "no: unreadable");
}
