#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

#include "base/text.h"
#include "quantity/unit.h"

using namespace steep;

namespace {

std::string meant(std::string_view written) {
  std::vector<std::string> words;
  for (const UnitMeant& m : units_written(written)) words.push_back((m.loose ? "~" : "") + std::string(m.unit->word));
  return join(words, " | ");
}

}  // namespace

TEST_CASE("unit: words are unique, factors positive, spellings lower case without dots") {
  std::set<std::string_view> words;
  for (const Unit& u : all_units()) {
    CHECK_MESSAGE(words.insert(u.word).second, u.word);
    CHECK(u.factor > Fraction(0));
    CHECK(find_unit(u.word) == &u);
    if (u.spellings.empty()) continue;
    CHECK_MESSAGE(lower(u.spellings) == u.spellings, u.word);
    CHECK_MESSAGE(u.spellings.find('.') == std::string_view::npos, u.word);
    for (const std::string_view s : split(u.spellings, '|')) CHECK_MESSAGE(trim(s) == s, u.word);
  }
  CHECK_FALSE(find_unit("Gal"));
  CHECK_FALSE(find_unit(""));
}

TEST_CASE("unit: every word and every spelling leads back to its unit") {
  for (const Unit& u : all_units()) {
    const auto leads = [&](std::string_view text) {
      const auto found = units_written(text);
      return std::any_of(found.begin(), found.end(), [&](const UnitMeant& m) { return m.unit == &u; });
    };
    CHECK_MESSAGE(leads(u.word), u.word);
    if (u.spellings.empty()) continue;
    for (std::string_view s : split(u.spellings, '|')) {
      if (s.starts_with('~')) s.remove_prefix(1);
      CHECK_MESSAGE(leads(s), u.word, " as ", s);
    }
  }
}

TEST_CASE("unit: compound words are the quotient of their parts") {
  for (const Unit& u : all_units()) {
    const std::size_t bar = u.word.rfind('/');
    if (bar == std::string_view::npos) continue;
    const Unit* above = find_unit(u.word.substr(0, bar));
    const Unit* below = find_unit(u.word.substr(bar + 1));
    if (!above || !below) continue;  // 'mS/cm'
    CHECK_MESSAGE(*above->factor.over(below->factor) == u.factor, u.word);
  }
}

TEST_CASE("unit: what people write") {
  CHECK(meant("Gal.") == "gal | imperial gal");
  CHECK(meant("US gallons") == "gal");
  CHECK(meant("gal (US)") == "gal");
  CHECK(meant("gal (imp)") == "imperial gal");
  CHECK(meant("gal/A") == "~gal/acre | ~imperial gal/acre");
  CHECK(meant("bed-feet") == "~ft");
  CHECK(meant("galones imperiales") == "imperial gal");
  CHECK(meant("oz") == "~fl oz | ~imperial fl oz | oz");
  CHECK(meant("fl. oz.") == "fl oz | imperial fl oz");
  CHECK(meant("oz (weight)") == "oz");
  CHECK(meant("°F") == "degF | degF diff");
  CHECK(meant("º C") == "degC | degC diff");
  CHECK(meant("pies²") == "ft2");
  CHECK(meant("SQ FT") == "ft2");
  CHECK(meant("gal / ac") == "gal/acre | imperial gal/acre");
  CHECK(meant("galones por acre") == "gal/acre | imperial gal/acre");
  CHECK(meant("fl oz per 1,000 sq ft") == "fl oz/1000 ft2 | imperial fl oz/1000 ft2");
  CHECK(meant("qt per 100 gal") == "qt/100 gal | imperial qt/100 imperial gal");
  CHECK(meant("US quarts/100 US gallons") == "qt/100 gal");
  CHECK(meant("libras por cada 100 galones") == "lb/100 gal | lb/100 imperial gal");
  CHECK(meant("cc/100 litros") == "mL/100 L");
  CHECK(meant("oz per 100 gal") ==
        "oz/100 gal | oz/100 imperial gal | ~fl oz/100 gal | ~imperial fl oz/100 imperial gal");
  CHECK(meant("L/min per gal") == "L/min/gal | L/min/imperial gal");
  CHECK(meant("litros/hectárea") == "L/ha");
  CHECK(meant("miles per hour") == "mph");
  CHECK(meant("ppm") == "mg/L");
  CHECK(meant("µS/cm") == "uS/cm");
  CHECK(meant("cuft/min") == "cfm");
  for (const std::string_view nothing : {"", " ", "frog", "gal//acre", "/", "gal/", "/acre", "gal/frog", "1",
                                         "qt/100 frog", "qt/200 gal", "qt/100", "100 gal", "gal/acre/acre/acre/acre"})
    CHECK(units_written(nothing).empty());
  CHECK(units_written(std::string(10000, '/')).empty());
}

TEST_CASE("unit: conversions refuse other kinds") {
  CHECK_FALSE(convert(1, unit("gal"), unit("lb")));
  CHECK_FALSE(convert(1, unit("bunch"), unit("crate")));
  CHECK(convert(3, unit("bunch"), unit("bunch")) == Fraction(3));
  CHECK_FALSE(convert(1, unit("degF"), unit("degF diff")));
}

TEST_CASE("unit: there and back through every pair of one kind") {
  for (const Unit& a : all_units()) {
    for (const Unit& b : all_units()) {
      if (a.dimension != b.dimension || a.dimension == Dimension::Count) continue;
      const auto there = convert(Fraction(25, 10), a, b);
      const auto back = there ? convert(*there, b, a) : std::nullopt;
      CHECK_MESSAGE(back == Fraction(25, 10), a.word, " ", b.word);
    }
  }
  CHECK(amount_in(si_of(68, unit("degF")), unit("degF")) == doctest::Approx(68).epsilon(1e-14));
}

TEST_CASE("unit: each kind has usual units of its kind") {
  for (int i = 0; i <= static_cast<int>(Dimension::Conductivity); ++i) {
    const Dimension dimension = static_cast<Dimension>(i);
    for (const Unit* u : usual_units(dimension)) CHECK(u->dimension == dimension);
  }
}
