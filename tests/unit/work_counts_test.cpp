// 'fields', 'plates', 'mpn' and 'gm' as they are asked for: what is read, what is answered, what is said beside it.
#include <doctest/doctest.h>
#include <string>
#include <string_view>

#include "trade/calculation.h"

using namespace steep;

namespace {

Result<Answer> work(std::string_view name, std::string_view line) {
  const Calculation* calculation = find_calculation(name);
  REQUIRE_MESSAGE(calculation, name);
  TRY_ASSIGN(const Inputs inputs, read_inputs(*calculation, read_command_line(line), Habits{}));
  return calculation->run(inputs);
}

const ResultValue* find(const Answer& answer, std::string_view name) {
  for (const ResultValue& value : answer.results)
    if (value.name == name) return &value;
  return nullptr;
}

double number(const Answer& answer, std::string_view name) {
  const ResultValue* value = find(answer, name);
  REQUIRE_MESSAGE(value, name);
  return value->number;
}

std::string text(const Answer& answer, std::string_view name) {
  const ResultValue* value = find(answer, name);
  return value ? value->text : "(none)";
}

bool says(const Answer& answer, WordId word) {
  for (const Remark& note : answer.notes)
    if (note.word == word) return true;
  return false;
}

const std::string kFilm = " --field-number \"20 mm\" --objective 40 --cover \"324 mm2\" --drop \"0.05 mL\"";
const std::string kChamber = " --square \"1 mm2\" --depth \"0.1 mm\"";

TEST_CASE("work fields: one count in all, or one a field; by the film, or by a chamber") {
  const auto total = work("fields", "--count 103 --fields 4" + kChamber);
  const auto each = work("fields", "--count 20 --count 30 --count 25 --count 28" + kChamber);
  REQUIRE(total);
  REQUIRE(each);
  CHECK(number(*total, "per-ml") == doctest::Approx(257500).epsilon(1e-12));
  CHECK(number(*each, "per-ml") == doctest::Approx(257500).epsilon(1e-12));
  CHECK(number(*each, "mean") == 25.75);
  CHECK(!find(*total, "scatter-chance"));
  CHECK(number(*each, "scatter-chance") > 5);
  CHECK(!says(*each, "count.clumped"_w));
  CHECK(says(*work("fields", "--count 2 --count 60 --count 1" + kChamber), "count.clumped"_w));
  // The diameter may be given instead of field number and objective, the slip in other units.
  const auto film = work("fields", "--count 50 --fields 10" + kFilm);
  const auto direct =
      work("fields", "--count 50 --fields 10 --field-diameter \"500 um\" --cover \"3.24 cm2\" --drop \"50 uL\"");
  const auto in_mm =
      work("fields", "--count 50 --fields 10 --field-diameter \"0.5 mm\" --cover \"3.24 cm2\" --drop \"50 uL\"");
  CHECK(!direct);  // Not a unit of the table: refused, not guessed.
  CHECK(number(*in_mm, "per-ml") == doctest::Approx(number(*film, "per-ml")).epsilon(1e-12));
  CHECK(says(*film, "count.focus-through"_w));
  CHECK(!says(*total, "count.focus-through"_w));
}

TEST_CASE("work fields: none seen has an upper end; a wrong mix of inputs is refused") {
  const auto none = work("fields", "--count 0 --fields 20" + kFilm);
  CHECK(number(*none, "per-ml") == 0);
  CHECK(number(*none, "high") > 6000);
  CHECK(says(*none, "count.none-seen"_w));
  CHECK(work("fields", "--count 5 --fields 0" + kFilm).error().word == "count.fields"_w);
  CHECK(work("fields", "--count 5 --count 6 --fields 3" + kFilm).error().word == "count.fields"_w);
  CHECK(work("fields", "--count 5 --fields 2").error().word == "count.which-way"_w);
  CHECK(work("fields", "--count 5 --fields 2" + kFilm + kChamber).error().word == "count.which-way"_w);
  CHECK(work("fields", "--count 5 --fields 2 --cover \"324 mm2\" --drop \"0.05 mL\"").error().word ==
        "count.which-way"_w);
  CHECK(work("fields", "--count 5000000000 --fields 2" + kFilm).error().word == "count.count"_w);
  CHECK(work("fields", "--count 5 --fields 2 --dilution 0.5" + kFilm).error().word == "count.dilution"_w);
  CHECK(work("fields", "--count 5 --fields 2 --confidence \"40 %\"" + kFilm).error().word == "count.confidence"_w);
  CHECK(work("fields", "--count 2.5 --fields 2" + kFilm).error().word == "work.not-whole"_w);
}

TEST_CASE("work plates: how the number is meant stands beside it") {
  const auto counted =
      work("plates", "--plate \"100; 232\" --plate \"100; 244\" --plate \"1000; 33\" --plate \"1000; 28\"");
  CHECK(number(*counted, "reported") == 24000);
  CHECK(text(*counted, "reading") == "counted");
  CHECK(number(*counted, "colonies") == 537);
  CHECK(says(*counted, "count.keep-closed"_w));
  const auto few = work("plates", "--plate \"100; 18\" --plate \"1000; 2\"");
  CHECK(number(*few, "reported") == 2500);
  CHECK(text(*few, "reading") == "fewer-than");
  CHECK(!find(*few, "cfu-per-ml"));
  const auto dense = work("plates", "--plate \"1000; 7150; too-many\" --plate-area \"65 cm2\"");
  CHECK(number(*dense, "reported") == 6500000);
  CHECK(text(*dense, "reading") == "more-than");
  CHECK(!find(*dense, "high"));
  CHECK(text(*work("plates", "--plate \"100; ; too-many\" --plate \"1000; 640\""), "reading") == "estimated");
  CHECK(number(*work("plates", "--plate \"100; 120\" --plate \"1000; 23\" --range 15-300"), "reported") == 13000);
  CHECK(number(*work("plates", "--plate \"100; 60\" --plated \"0.1 mL\""), "reported") == 60000);
  CHECK(says(*work("plates", "--plate \"100; 200\" --plate \"1000; 200\""), "plates.disagree"_w));
  CHECK(work("plates", "--plate \"100\"").error().word == "plates.no-number"_w);
  CHECK(work("plates", "--plate \"100; 60; frozen\"").error().word == "work.not-a-choice"_w);
}

TEST_CASE("work mpn: per gram of weights, per mL and 100 mL of volumes") {
  const std::string weights = "--dilution \"0.1 g; 3; 3\" --dilution \"0.01 g; 3; 1\" --dilution \"0.001 g; 3; 0\"";
  const auto grams = work("mpn", weights);
  CHECK(number(*grams, "mpn-per-g") == doctest::Approx(42.7288).epsilon(1e-5));
  CHECK(!find(*grams, "mpn-per-ml"));
  const auto milligrams =
      work("mpn", "--dilution \"100 mg; 3; 3\" --dilution \"10 mg; 3; 1\" --dilution \"1 mg; 3; 0\"");
  CHECK(number(*milligrams, "high-per-g") == doctest::Approx(number(*grams, "high-per-g")).epsilon(1e-12));
  const auto water = work("mpn", "--dilution \"10 mL; 5; 5\" --dilution \"1 mL; 5; 1\" --dilution \"0.1 mL; 5; 0\"");
  CHECK(number(*water, "mpn-per-100ml") == doctest::Approx(100 * number(*water, "mpn-per-ml")).epsilon(1e-12));
  CHECK(text(*water, "reading") == "most-probable");
  const auto none = work("mpn", "--dilution \"0.1 g; 3; 0\" --dilution \"0.01 g; 3; 0\"");
  CHECK(text(*none, "reading") == "fewer-than");
  CHECK(!find(*none, "low-per-g"));
  const auto all = work("mpn", "--dilution \"0.1 g; 3; 3\" --dilution \"0.01 g; 3; 3\"");
  CHECK(text(*all, "reading") == "more-than");
  CHECK(says(*all, "mpn.dilute-further"_w));
  CHECK(says(*work("mpn", "--dilution \"0.1 g; 3; 0\" --dilution \"0.01 g; 3; 3\""), "mpn.rare"_w));
  CHECK(number(*work("mpn", weights + " --interval normal"), "low-per-g") == doctest::Approx(9.794).epsilon(1e-4));
  CHECK(work("mpn", "--dilution \"0.1 g; 3; 0\" --dilution \"1 mL; 3; 1\"").error().word == "mpn.one-kind"_w);
  CHECK(work("mpn", "--dilution \"0.1 g; 3; 4\"").error().word == "mpn.grew"_w);
}

TEST_CASE("work gm: at the number is not over it; zeros are asked for as 'below'") {
  const auto edge =
      work("gm", "--value 126 --value 126 --value 126 --value 126 --value 126 --benchmark e-coli-126-410");
  CHECK(number(*edge, "gm") == 126);
  CHECK(text(*edge, "gm-state") == "not-over");
  CHECK(text(*edge, "stv-state") == "not-over");
  CHECK(text(*edge, "excursions") == "not-more-than-a-tenth");
  CHECK(says(*edge, "gm.not-a-permit"_w));
  const auto below = work("gm", "--below 1 --below 1 --value 3 --value 8 --value 2 --below 1");
  CHECK(number(*below, "gm") == doctest::Approx(1.9064).epsilon(1e-4));
  CHECK(says(*below, "gm.below-as-limit"_w));
  CHECK(text(*below, "gm-state") == "(none)");
  CHECK(work("gm", "--value 0").error().word == "gm.value"_w);
  CHECK(work("gm", "").error().word == "gm.no-values"_w);
  CHECK(says(*work("gm", "--above 2419 --value 8"), "gm.at-least"_w));
  const auto own = work("gm", "--value 40 --value 90 --gm-limit 50 --stv-limit 89");
  CHECK(text(*own, "gm-state") == "over");
  CHECK(text(*own, "excursions") == "more-than-a-tenth");
  CHECK(work("gm", "--value 40 --gm-limit 0").error().word == "gm.limit"_w);
}

TEST_CASE("work: numbers in a unit of their own are shown to the digits that they deserve") {
  const Words english(Language::English);
  const auto parts = [&](double value, std::string_view unit, int digits, const UnitsShown& units = {}) {
    const OutputSpec spec{"x", OutputKind::Fixed, unit, digits, "work-result.per-ml"_w};
    ResultValue result;
    result.spec = &spec;
    result.number = value;
    CHECK(result_text(result, units, english) == result_shown(result, units, english).text());
    return result_shown(result, units, english);
  };
  const auto shown = [&](double value, std::string_view unit, int digits, const UnitsShown& units = {}) {
    return parts(value, unit, digits, units).text();
  };
  CHECK(parts(0.5, "mm", 3).number == "0.500");
  CHECK(parts(0.5, "mm", 3).speech() == "0.500 millimeters");
  CHECK(shown(3399243.7, "/mL", 3) == "3,400,000/mL");
  CHECK(shown(3.1831e9, "/mL", 3) == "3.18·10^9/mL");
  CHECK(shown(0.5, "mm", 3) == "0.500 mm");
  CHECK(shown(9.996, "/g", 3) == "10.0/g");
  CHECK(shown(3.00752, "/g", 2) == "3.0/g");
  CHECK(shown(0, "/mL", 3) == "0/mL");
  CHECK(shown(0.606, "uL", 3) == "0.606 µL");
  CHECK(shown(2.5e-7, "", 2) == "2.5·10^-7");
  UnitsShown comma;
  comma.mark = DecimalMark::Comma;
  comma.system = System::Metric;
  CHECK(shown(24.35, "/mL", 3, comma) == "24,4/mL");
  CHECK(shown(0.5, "mm", 3, comma) == "0,500 mm");
}

}  // namespace
