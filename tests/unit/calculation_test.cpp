#include "trade/calculation.h"

#include <doctest/doctest.h>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <set>
#include <string>

#include "base/text.h"
#include "quantity/unit.h"

using namespace steep;

namespace {

Result<Answer> work(std::string_view name, std::string_view line, const Habits& habits = {}) {
  const Calculation* calculation = find_calculation(name);
  REQUIRE_MESSAGE(calculation, name);
  TRY_ASSIGN(const Inputs inputs, read_inputs(*calculation, read_command_line(line), habits));
  return calculation->run(inputs);
}

double number(const Answer& answer, std::string_view name) {
  for (const ResultValue& value : answer.results)
    if (value.name == name) return value.number;
  FAIL("no result ", std::string(name));
  return 0;
}

std::string text(const Answer& answer, std::string_view name) {
  for (const ResultValue& value : answer.results)
    if (value.name == name) return value.text;
  return "(none)";
}

bool says(const Answer& answer, WordId word) {
  for (const Remark& note : answer.notes)
    if (note.word == word) return true;
  return false;
}

std::vector<std::uint32_t> code_points_of(std::string_view text) {
  std::vector<std::uint32_t> all;
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const int more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : lead >= 0xC0 ? 1 : 0;
    std::uint32_t c = more == 3 ? lead & 0x07u : more == 2 ? lead & 0x0Fu : more == 1 ? lead & 0x1Fu : lead;
    for (int k = 1; k <= more && i + static_cast<std::size_t>(k) < text.size(); ++k)
      c = c << 6 | (static_cast<unsigned char>(text[i + static_cast<std::size_t>(k)]) & 0x3Fu);
    all.push_back(c);
    i += static_cast<std::size_t>(more) + 1;
  }
  return all;
}

bool is_kebab(std::string_view name) {
  return !name.empty() && name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-*") == std::string_view::npos;
}

void check_words(const InputSpec& spec, const Words& words) {
  CHECK_MESSAGE(words.has(spec.help.key), spec.help.key);
  if (!spec.words.empty())
    for (const std::string_view word : split(spec.words, '|'))
      CHECK_MESSAGE((words.has("choice." + std::string(word)) || words.has("answer." + std::string(word))), "choice.",
                    std::string(word));
  for (const InputSpec& column : spec.columns) check_words(column, words);
}

TEST_CASE("calculation: every example runs, and says only what was declared") {
  for (const Calculation* calculation : all_calculations()) {
    CAPTURE(calculation->name);
    const auto inputs = read_inputs(*calculation, read_command_line(calculation->example), Habits{});
    REQUIRE_MESSAGE(inputs, calculation->name, ": ", Words(Language::English)(inputs.error()));
    const auto answer = calculation->run(*inputs);
    REQUIRE_MESSAGE(answer, calculation->name, ": ", Words(Language::English)(answer.error()));
    CHECK(!answer->results.empty());
    CHECK(!answer->steps.empty());
    for (const ResultValue& value : answer->results) {
      CAPTURE(value.name);
      CHECK(std::isfinite(value.number));
      CHECK(!result_text(value, UnitsShown{}, Words(Language::English)).empty());
    }
  }
}

/// Each example, and each line that native and WebAssembly are compared by: name and inputs.
std::vector<std::pair<const Calculation*, std::string>> asked_lines() {
  std::vector<std::pair<const Calculation*, std::string>> asked;
  for (const Calculation* calculation : all_calculations()) asked.emplace_back(calculation, calculation->example);
  std::ifstream list(STEEPBOOK_SOURCE_DIR "/tests/same/lines.txt");
  for (std::string line; std::getline(list, line);) {
    if (line.empty() || line.front() == '#') continue;
    const std::size_t blank = line.find(' ');
    asked.emplace_back(find_calculation(line.substr(0, blank)), line.substr(blank + 1));
  }
  return asked;
}

TEST_CASE("calculation: each line of an answer has its own formula, and no step belongs to none") {
  int answered = 0;
  for (const auto& asked : asked_lines()) {
    const Calculation* calculation = asked.first;
    const std::string& line = asked.second;
    REQUIRE(calculation);
    CAPTURE(calculation->name);
    CAPTURE(line);
    const auto inputs = read_inputs(*calculation, read_command_line(line), Habits{});
    if (!inputs) continue;
    const auto answer = calculation->run(*inputs);
    if (!answer) continue;
    ++answered;
    std::set<const Step*> owned;
    for (const ResultValue& value : answer->results) {
      const auto own = answer->steps_of(value);
      CHECK_MESSAGE(!own.empty(), value.name);
      owned.insert(own.begin(), own.end());
    }
    for (const Step& step : answer->steps) {
      CHECK_MESSAGE(owned.count(&step) == 1, step.of, ": ", step.formula);
      CHECK_MESSAGE((!step.formula.empty() && !step.numbers.empty()), step.of);
      for (const std::string_view name : split(step.of, ' '))
        CHECK_MESSAGE(std::any_of(calculation->outputs.begin(), calculation->outputs.end(),
                                  [&](const OutputSpec& spec) { return spec.name == name; }),
                      std::string(name));
    }
    // A line of one load, vessel, rule opens its own numbers, not those of its neighbors.
    for (const ResultValue& value : answer->results)
      for (const Step* step : answer->steps_of(value)) CHECK((step->ordinal == 0 || step->ordinal == value.ordinal));
  }
  CHECK(answered > 60);
}

TEST_CASE("calculation: what a line opens is its formula with its numbers put in") {
  const auto answer = work(
      "loads", "--bed \"100 ft; 30 in; 18\" --tea-rate \"20 gal/acre\" --spray-rate \"45 gal/acre\" --tank \"4 gal\"");
  REQUIRE(answer);
  const auto opened = [&](std::string_view name) {
    std::string text;
    for (const ResultValue& value : answer->results)
      if (value.name == name)
        for (const Step* step : answer->steps_of(value)) text += step->formula + ": " + step->numbers + "; ";
    return text;
  };
  // 4,500 ft² are 0.103306 acre; 45 gal/acre on it are 4.64876 gal, in two loads of 2.32438; 20/45 of it is tea.
  CHECK(opened("loads") == "loads = spray / (tank − dead volume): 4.64876 / (4 − 0) → 2; ");
  CHECK(opened("load-2-can-be-sprayed") == "spray on the beds / loads: 4.64876 / 2 = 2.32438 gal; ");
  CHECK(opened("load-2-add-tea") == "to add · tea / spray: 2.32438 gal × 0.444444 = 1.03306 gal; ");
}

TEST_CASE("calculation: names are stable words, units are of the table, everything has words in both languages") {
  std::set<std::string_view> names;
  for (const Language language : {Language::English, Language::Spanish}) {
    const Words words(language);
    for (const Calculation* calculation : all_calculations()) {
      CHECK(is_kebab(calculation->name));
      CHECK_MESSAGE(words.has(calculation->title.key), calculation->title.key);
      CHECK(!calculation->source.empty());
      CHECK_MESSAGE(!limits_text(*calculation, words).empty(), "work-limits.", calculation->name);
      for (const InputSpec& spec : calculation->inputs) {
        CHECK(is_kebab(spec.name));
        check_words(spec, words);
      }
      for (const OutputSpec& spec : calculation->outputs) {
        CHECK(is_kebab(spec.name));
        CHECK_MESSAGE(words.has(spec.label.key), spec.label.key);
        if (spec.kind == OutputKind::Quantity || spec.kind == OutputKind::Air)
          CHECK_MESSAGE(find_unit(spec.unit), spec.unit);
        else
          CHECK((spec.unit.empty() || spec.kind == OutputKind::Fixed));
      }
      names.insert(calculation->name);
    }
  }
  CHECK(names.size() == all_calculations().size());
}

/// Code points that assets/fonts/text_glyphs.txt ships.
std::set<std::uint32_t> shipped_glyphs() {
  std::set<std::uint32_t> glyphs;
  std::ifstream list(STEEPBOOK_SOURCE_DIR "/assets/fonts/text_glyphs.txt");
  for (std::string line; std::getline(list, line);) {
    if (line.starts_with("U+")) {
      const std::size_t dash = line.find('-');
      for (unsigned long c = std::stoul(line.substr(2), nullptr, 16);
           c <= std::stoul(line.substr(dash + 1), nullptr, 16); ++c)
        glyphs.insert(static_cast<std::uint32_t>(c));
    } else if (line.starts_with(":")) {
      for (const std::uint32_t c : code_points_of(line.substr(1))) glyphs.insert(c);
    }
  }
  return glyphs;
}

TEST_CASE("calculation: every sign of every formula is in the fonts of the program") {
  const std::set<std::uint32_t> glyphs = shipped_glyphs();
  REQUIRE(glyphs.size() > 150);
  for (const Calculation* calculation : all_calculations()) {
    const auto inputs = read_inputs(*calculation, read_command_line(calculation->example), Habits{});
    REQUIRE(inputs);
    const auto answer = calculation->run(*inputs);
    REQUIRE(answer);
    for (const Step& step : answer->steps)
      for (const std::string& text : {step.formula, step.numbers, std::string(calculation->source)})
        for (const std::uint32_t c : code_points_of(text))
          CHECK_MESSAGE(glyphs.count(c) == 1, calculation->name, ": ", text);
  }
}

TEST_CASE("calculation: an hour that the clock shows twice is asked about, and its offset answers") {
  // New York, 1 November 2026: 2:00 EDT becomes 1:00 EST (IANA tz database).
  const auto minutes = [](const std::string& met) {
    return work("tea-time", "--met-water \"" + met + "\" --finish \"2026-11-01 02:05\"");
  };
  const auto asked = minutes("2026-11-01 01:30");
  REQUIRE(!asked);
  CHECK(asked.error().kind == Trouble::Ask);
  CHECK(asked.error().word == "work.time-came-twice"_w);
  CHECK(asked.error().values ==
        std::vector<std::string>{"2026-11-01 01:30", "2026-11-01 01:30 -04:00", "2026-11-01 01:30 -05:00"});
  CHECK(minutes("2026-11-01 01:30 -04:00")->results.front().number == 95);
  CHECK(minutes("2026-11-01 01:30-05:00")->results.front().number == 35);
  CHECK(minutes("2026-11-01 01:30 -03:00").error().word == "work.no-such-offset"_w);
  CHECK(minutes("2026-03-08 02:30").error().word == "hold.no-such-time"_w);
  CHECK(minutes("2026-11-01 01:30 -4").error().word == "work.not-a-time"_w);
  CHECK(minutes("2026-11-01 01:30 -15:00").error().word == "work.not-a-time"_w);
  // The plan asks too.
  const auto plan =
      work("plan",
           "--bed \"100 ft; 30 in\" --tea-rate \"20 gal/acre\" --spray-rate \"45 gal/acre\" --tank \"4 gal\" "
           "--vessel \"A; 5 gal\" --spray-from \"2026-11-01 01:30\"");
  CHECK(plan.error().word == "work.time-came-twice"_w);
}

TEST_CASE("calculation: odd inputs give no wrong number: a sentence instead, or the number that is meant") {
  const auto refused = [](std::string_view name, std::string_view line) {
    const auto answer = work(name, line);
    return answer ? std::string("(answered)") : std::string(answer.error().word.key);
  };
  // A day and a half is never shortened to a day.
  const auto hold = work("hold", "--finish \"2026-06-03 18:20\" --harvest \"x; 1.5 days\"");
  REQUIRE(hold);
  CHECK(hold->results[1].name == "no-harvest-until");
  CHECK(hold->results[1].text == "2026-06-05 06:20");
  CHECK(refused("hold", "--finish \"2026-06-03 18:20\" --harvest \"x; 1e9 days\"") == "hold.wait-unreadable");
  CHECK(refused("share", "--tea \"2 gal\" --water \"2 gal\" --left \"5 gal\" --dose \"250 ft2\"") == "share.left");
  CHECK(refused("due", "--interval \"farm; 14\" --tea 2026-06-10 --today 2026-06-01") == "due.ahead");
  CHECK(refused("area", "--point \"44;-123\" --point \"44;-123\" --point \"44;-123\"") == "area.nothing");
  CHECK(refused("area", "--point \"0;0\" --point \"0;0.001\" --point \"0;0.002\"") == "area.nothing");
  // The point lost from 134.1 °F: it would count as a hot day where a rule has no upper end.
  CHECK(refused("compost-heat", "--reading \"2026-05-01; 1341 F\"") == "compost.heat-range");
  CHECK(refused("cost", "--line \"x; 1e20\"") == "cost.too-much");
  for (const char* typed :
       {"5 gal/10", "1/0", "NaN", "inf", "1e999", "", "--5 C", "5..2 C", "68 F C", "0x20 C", "1/2/3 C", "20 gal"})
    CHECK_MESSAGE(refused("oxygen", "--temperature \"" + std::string(typed) + "\"") != "(answered)",
                  std::string(typed));
  CHECK(work("oxygen", "--temperature 68").error().kind == Trouble::Ask);
}

TEST_CASE("calculation: says why inputs cannot be used") {
  CHECK(work("oxygen", "--temprature \"68 F\"").error().word == "work.no-such-input"_w);
  CHECK(work("oxygen", "").error().word == "work.missing"_w);
  CHECK(work("oxygen", "--temperature \"68 F\" --temperature \"70 F\"").error().word == "work.given-twice"_w);
  CHECK(work("oxygen", "--temperature \"5 gal\"").error().place == "temperature");
  CHECK(work("oxygen", "--temperature \"-3 C\"").error().kind == Trouble::OutOfRange);
  CHECK(work("course", "--swath \"30 in\" --method feet").error().word == "work.not-a-choice"_w);
  CHECK(work("compost-mix", "--material \"50 lb\"").error().word == "work.missing-column"_w);
  CHECK(!find_calculation("alchemy"));
}

TEST_CASE("calculation: a pressure, an elevation or neither, never both (station_pressure)") {
  for (const auto& [name, rest] : {std::pair{"oxygen", ""}, {"transfer", " --uptake-per-hour \"20 mg/L\""}}) {
    const std::string start = "--temperature \"20 C\"" + std::string(rest);
    const auto high = work(name, start + " --elevation \"1500 m\""),
               same = work(name, start + " --pressure \"84.556 kPa\"");
    CHECK(number(*high, "saturation") == doctest::Approx(number(*same, "saturation")).epsilon(1e-4));
    CHECK(says(*work(name, start), "oxygen.sea-level"_w));
    CHECK(!says(*high, "oxygen.sea-level"_w));
    CHECK(work(name, start + " --elevation \"0 m\" --pressure \"1 atm\"").error().word ==
          "oxygen.pressure-or-elevation"_w);
    CHECK(work(name, start + " --elevation \"5001 m\"").error().kind == Trouble::OutOfRange);
  }
}

TEST_CASE("calculation: great numbers as laboratories write them") {
  for (const char* start :
       {"120000", "120,000.0", "1.2e5", "1.2E+05", "1.2 x 10^5", "1.2x10^5", "1.2 × 10^5", "12·10^4", "1200000e-1"}) {
    CAPTURE(start);
    const auto answer = work("growth", "--start \"" + std::string(start) + "\" --doubling-time \"2 h\" --time \"2 h\"");
    REQUIRE(answer);
    CHECK(number(*answer, "count") == doctest::Approx(240000).epsilon(1e-12));
  }
  for (const char* start : {"1.2e", "e5", "1.2e99", "1.2e5.5", "1.2 x 10^", "1.2 million"})
    CHECK(
        work("growth", "--start \"" + std::string(start) + "\" --doubling-time \"2 h\" --time \"2 h\"").error().word ==
        "work.not-a-number"_w);
}

TEST_CASE("calculation: what is counted is whole, not negative and not endless, whatever sign is typed") {
  const auto beds = [](std::string_view count) {
    return work("area", "--bed \"100 ft; 30 in; " + std::string(count) + "\"");
  };
  CHECK(beds("18"));
  for (const char* bad : {"-5",
                          "\xE2\x88\x92"
                          "5",
                          "--5", "1.5", "1/2"})
    CHECK_MESSAGE(!beds(bad), bad);
  CHECK(beds("1e30").error().word == "work.too-many"_w);
  CHECK(work("tea-status", "--compost plant-only --minutes 1e20").error().word == "work.too-many"_w);
  CHECK(work("gm", "--value=--5").error().word == "work.not-a-number"_w);
  CHECK(number(*work("sun",
                     "--latitude \xE2\x88\x92"
                     "35.1 --longitude 147.4 --date 2025-01-15"),
               "noon-elevation") == doctest::Approx(75.99).epsilon(1e-3));
}

TEST_CASE("calculation: 'gal' to convert into is that of the person") {
  const Habits imperial{DecimalMark::Point, Gallons::Imperial}, both{DecimalMark::Point, Gallons::Either};
  const std::string line = "--amount \"10 L\" --to gal";
  CHECK(text(*work("convert", line), "unit") == "gal");
  CHECK(text(*work("convert", line, imperial), "unit") == "imperial gal");
  CHECK(number(*work("convert", line, imperial), "amount") == doctest::Approx(10 / 4.54609).epsilon(1e-12));
  CHECK(work("convert", line, both).error().word == "work.which-unit"_w);
}

TEST_CASE("calculation: lines of a recipe bear their names and are read in the reader's units") {
  const std::string line =
      "--reference \"25 gal\" --vessel \"275 gal\" --headroom \"25 gal\" --line \"kelp; 1/2 cup\" --line \"humic; 1 "
      "tbsp; 2 tbsp; 400 tbsp\"";
  const auto answer = work("recipe", line);
  REQUIRE(answer);
  const Words english(Language::English), spanish(Language::Spanish);
  const UnitsShown us, metric{System::Metric, DecimalMark::Comma, Clock::Hours24, Gallons::Us};
  const auto told = [&](std::string_view name, const UnitsShown& units, const Words& words) {
    for (const ResultValue& result : answer->results)
      if (result.name == name) return label_text(result, words) + ": " + result_text(result, units, words);
    return std::string("(none)");
  };
  CHECK(told("line-1-as-written", us, english) == "kelp: 5 cups");
  CHECK(told("line-1-as-written", us, spanish) == "kelp: 5 tazas");
  CHECK(told("line-1-as-written", metric, spanish) == "kelp: 1,18 L");
  CHECK(told("line-2-as-written", us, spanish) == "humic: de 10 a 20 cdas");
  CHECK(told("line-2-low-volume", metric, spanish) == "humic: mínimo: 148 mL");
  CHECK(text(*answer, "line-1-as-written") == "kelp: 5 cup");  // Programs read the recipe's own words.
  REQUIRE(answer->notes.size() == 1);
  CHECK(remark_values(answer->notes[0], us, spanish)[1] == "400 cdas");
  const auto plan = work("plan", find_calculation("plan")->example);
  REQUIRE(plan);
  for (const ResultValue& result : plan->results)
    if (result.name == "line-1") CHECK(result_text(result, metric, spanish).find("cup") == std::string::npos);
}

TEST_CASE("calculation: products go into each load by their rate per area or per volume of spray") {
  const std::string line = std::string(find_calculation("loads")->example);
  const auto answer =
      work("loads", line + " --product \"fish; 2 pt/acre\" --product \"soap; 1 tsp/gal\" --dead-volume \"0.2 gal\"");
  REQUIRE(answer);
  const Words english(Language::English), spanish(Language::Spanish);
  // 4,500 ft² at 45 gal/acre: 4.649 gal, two loads of 2.324; the first fills the dead volume too. 2 pt in 45 gal.
  const auto told = [&](std::string_view name, const Words& words) {
    for (const ResultValue& result : answer->results)
      if (result.name == name) return label_text(result, words) + ": " + result_text(result, {}, words);
    return std::string("(none)");
  };
  CHECK(text(*answer, "load-1-add-product-1") == "fish: 0.112 pt");
  CHECK(text(*answer, "load-1-add-product-2") == "soap: 2.52 tsp");
  CHECK(text(*answer, "load-2-add-product-1") == "fish: 0.103 pt");
  CHECK(told("load-2-add-product-2", english) == "load 2: soap to add: 2.32 tsp");
  CHECK(told("load-1-add-product-1", spanish) == "carga 1: fish a poner: 1.8 fl oz");
  CHECK(work("loads", line + " --product \"fish; 2 pt\"").error().word == "loads.product-rate"_w);
  CHECK(text(*work("loads", line + " --product \"salt; 200 ppm\""), "load-1-add-product-1") == "salt: 1760 mg");
}

TEST_CASE("calculation: oxygen is offered in mg/L alone, a density in what bulk is weighed in") {
  const auto offered = [](std::string_view calculation, std::string_view input) {
    std::vector<std::string> units;
    for (const InputSpec& spec : find_calculation(calculation)->inputs)
      if (spec.name == input)
        for (const Unit* one : units_to_offer(spec)) units.emplace_back(one->word);
    return join(units, " | ");
  };
  CHECK(offered("oxygen", "oxygen") == "mg/L");
  CHECK(offered("water", "chlorine") == "mg/L");
  CHECK(offered("convert", "density") == "lb/yd3 | kg/L | g/cup");
  CHECK(offered("recipe", "vessel") == "gal | L");
}

TEST_CASE("calculation: a treatment is one however it is spelled") {
  const auto answer =
      work("trial", "--strip \"none; 41\" --strip \"None; 38\" --strip \"Tea; 43\" --strip \"tea; 47\"");
  REQUIRE(answer);
  CHECK(number(*answer, "difference-2") == doctest::Approx(45 - 39.5));
  CHECK(work("trial",
             "--reference TEA --strip \"none; 41\" --strip \"none; 38\" --strip \"Tea; 43\" --strip \"tea; 47\""));
}

TEST_CASE("calculation: an interval in days and an entry wait without its unit are asked about, not taken") {
  CHECK(work("due", "--interval \"farm; 999999999\" --today 2026-06-16").error().word == "due.days"_w);
  const std::string finish = "--finish \"2026-06-03 18:20\" ";
  CHECK(work("hold", finish + "--entry \"B; 4\"").error().kind == Trouble::Ask);
  CHECK(text(*work("hold", finish + "--entry \"B; 4 h\""), "no-entry-until") == "2026-06-03 22:20");
  CHECK(text(*work("hold", finish + "--harvest \"B; 7\""), "no-harvest-until") == "2026-06-10 00:00");
}

TEST_CASE("calculation: where a calculation comes from is said in both languages, the English as it stands beside it") {
  const Words english(Language::English), spanish(Language::Spanish);
  for (const Calculation* one : all_calculations()) {
    CHECK(source_text(*one, english) == one->source);
    CHECK_MESSAGE(!source_text(*one, spanish).empty(), one->name);
    CHECK_MESSAGE(source_text(*one, spanish).find("from memory") == std::string::npos, one->name);
    CHECK_MESSAGE(source_text(*one, spanish).find("no source") == std::string::npos, one->name);
  }
}

TEST_CASE("calculation: the same answer from US and metric inputs, from a comma and a point") {
  const auto us = work("oxygen", "--temperature \"68 F\" --elevation \"1000 ft\"");
  const auto metric = work("oxygen", "--temperature \"20 C\" --elevation \"304.8 m\"");
  CHECK(number(*us, "saturation") == doctest::Approx(number(*metric, "saturation")).epsilon(1e-9));
  const auto comma = work("convert", "--amount \"1,5 gal\" --to L", Habits{DecimalMark::Comma});
  CHECK(number(*comma, "amount") == doctest::Approx(1.5 * 3.785411784).epsilon(1e-12));
}

TEST_CASE("calculation: convert keeps weight and volume apart unless a density is given") {
  CHECK(number(*work("convert", "--amount \"2 1/2 cup\" --to mL"), "amount") ==
        doctest::Approx(591.47059125).epsilon(1e-12));
  CHECK(work("convert", "--amount \"5 cup\" --to g").error().word == "work.give-density"_w);
  const auto heavy = work("convert", "--amount \"5 cup\" --to g --density \"140.4 g/cup\"");
  CHECK(number(*heavy, "amount") == doctest::Approx(702).epsilon(1e-9));
  CHECK(says(*heavy, "work-note.by-density"_w));
  CHECK(number(*work("convert", "--amount \"131 F\" --to degC"), "amount") == doctest::Approx(55).epsilon(1e-12));
}

TEST_CASE("calculation: a dilution with two readings gives both and no single answer") {
  const auto one = work("ratio", "--ratio \"1 in 4\" --spray \"15 gal\"");
  CHECK(number(*one, "tea") == doctest::Approx(3.75 * 3.785411784));
  const auto two = work("ratio", "--ratio \"4 to 1\" --spray \"15 gal\"");
  CHECK(number(*two, "reading-1-tea") == doctest::Approx(3 * 3.785411784));
  CHECK(number(*two, "reading-2-tea") == doctest::Approx(12 * 3.785411784));
  CHECK(text(*two, "tea") == "(none)");
  CHECK(says(*two, "ratio.two-readings"_w));
  CHECK(one->readings.empty());
  REQUIRE(two->readings.size() == 2);
  // Whichever is chosen has one reading and is that reading.
  for (std::size_t i = 0; i < 2; ++i) {
    const auto chosen = work("ratio", "--ratio \"" + two->readings[i].text + "\" --spray \"15 gal\"");
    REQUIRE(chosen);
    CHECK(chosen->readings.empty());
    CHECK(number(*chosen, "tea") == number(*two, i == 0 ? "reading-1-tea" : "reading-2-tea"));
  }
}

TEST_CASE("calculation: a walk and catch with two nozzles, per bed top and per swath") {
  // 22.6 and 22.4 fl oz over 1/128 acre of 30 in bed are 45.0 gal/acre of it; the swath is 36 in, so 5/6 per acre of swath.
  const auto answer = work(
      "calibrate",
      "--nozzle \"22.6 fl oz\" --nozzle \"22.4 fl oz\" --course \"136.125 ft\" --swath \"36 in\" --bed-top \"30 in\" "
      "--walk \"53 s\" --walk \"52 s\" --walk \"54 s\" --before \"46.2 gal/acre\"");
  REQUIRE(answer);
  CHECK(number(*answer, "rate-bed-top") == doctest::Approx(45).epsilon(1e-9));
  CHECK(number(*answer, "rate-swath") == doctest::Approx(37.5).epsilon(1e-9));
  CHECK(number(*answer, "nozzle-difference") == doctest::Approx(100 * 0.2 / 22.5).epsilon(1e-9));
  CHECK(number(*answer, "change") == doctest::Approx(100 * (45 / 46.2 - 1)).epsilon(1e-9));
  CHECK(number(*answer, "pace") == doctest::Approx(53));
  CHECK(number(*answer, "speed") == doctest::Approx(136.125 / 53 * 3600 / 5280).epsilon(1e-9));
  CHECK(number(*answer, "bed-spray") == doctest::Approx(45.0 * 250 / 43560 * 3.785411784).epsilon(1e-9));
  CHECK(!says(*answer, "calibrate.nozzles-differ"_w));
  // In one system of units the two rates read alike and stand once.
  CHECK(results_to_read(*answer, UnitsShown{}, Words(Language::English)).size() == answer->results.size() - 3);
  const auto uneven =
      work("calibrate", "--nozzle \"24 fl oz\" --nozzle \"20 fl oz\" --course \"136 ft\" --swath \"30 in\"");
  CHECK(says(*uneven, "calibrate.nozzles-differ"_w));
  CHECK(work("calibrate", "--nozzle \"24 fl oz\" --catch \"24 fl oz\" --course \"136 ft\" --swath \"30 in\"")
            .error()
            .word == "calibrate.catch-or-nozzle"_w);
  CHECK(!work("calibrate", "--catch \"45 fl oz\" --course \"136 ft\" --swath \"30 in\" --walk \"0 s\""));
}

TEST_CASE("calculation: a bare number takes the unit beside its field, and only there") {
  const Calculation& oxygen = *find_calculation("oxygen");
  const InputSpec& temperature = oxygen.inputs[0];
  CHECK(read_value(temperature, "68", {}).error().kind == Trouble::Ask);
  CHECK(read_value(temperature, "68", {}, &unit("degF"))->text == "68 degF");
  CHECK(read_value(temperature, "20 C", {}, &unit("degF"))->text == "20 degC");
}

TEST_CASE("calculation: kilograms typed where pounds were meant are asked about, not changed") {
  const auto answer = work("recipe", "--reference \"110 gal\" --vessel \"110 gal\" --line \"compost; 22 lb; ; 22 kg\"");
  CHECK(says(*answer, "recipe.slip"_w));
  CHECK(!says(*work("recipe", "--reference \"110 gal\" --vessel \"110 gal\" --line \"compost; 22 lb; ; 22 lb\""),
              "recipe.slip"_w));
}

TEST_CASE("calculation: a fixed unit for programs, the reader's unit for people") {
  const auto answer = work("oxygen", "--temperature \"68 F\"");
  const ResultValue& saturation = answer->results.front();
  CHECK(saturation.spec->unit == "mg/L");
  CHECK(result_text(saturation, UnitsShown{}, Words(Language::English), true) == "9.09 mg/L");
  UnitsShown metric;
  metric.system = System::Metric;
  metric.mark = DecimalMark::Comma;
  CHECK(result_text(saturation, metric, Words(Language::Spanish), true) == "9,09 mg/L");
}

TEST_CASE("calculation: figures of steps are plain and short") {
  CHECK(figure(0) == "0");
  CHECK(figure(340.3125) == "340.312");
  CHECK(figure(86.9) == "86.9");
  CHECK(figure(4.096e9) == "4.096·10^9");
  CHECK(figure(0.0000012) == "1.2·10^-6");
  CHECK(figure(-2.5) == "-2.5");
}

TEST_CASE("calculation: numbers stand below their formula after a sign, unless they name themselves") {
  CHECK(Step{"", 0, "", "5940 × 0.79 / (3 × 18) = 86.9"}.below() == "= 5940 × 0.79 / (3 × 18) = 86.9");
  CHECK(Step{"", 0, "", "86.9 gal/acre"}.below() == "= 86.9 gal/acre");
  CHECK(Step{"", 0, "", "t = 20 °C, S = 0 → 8.7 mg/L"}.below() == "t = 20 °C, S = 0 → 8.7 mg/L");
}

TEST_CASE("calculation: no harvest by dates and by hours") {
  const std::string given =
      "--finish \"2026-06-03 18:20\" --harvest \"farm; 14 days\" --harvest \"B; 7 days\" --entry \"B; 12 h\"";
  CHECK(text(*work("hold", given), "no-harvest-until") == "2026-06-17 00:00");
  CHECK(text(*work("hold", given + " --counting hours"), "no-harvest-until") == "2026-06-17 18:20");
  CHECK(text(*work("hold", given), "no-entry-until") == "2026-06-04 06:20");
  const auto unknown = work("hold", given + " --harvest \"B, radish; not on label\"");
  CHECK(text(*unknown, "harvest-state") == "no-end-known");
  CHECK(says(*unknown, "hold.not-on-label"_w));
  CHECK(work("hold", "--finish \"2026-03-08 02:30\"").error().kind == Trouble::Ask);
}

}  // namespace

namespace {

/// A result as a person reads it.
std::string shown(std::string_view calculation, std::string_view line, std::string_view result,
                  System system = System::Us, Language language = Language::English) {
  const auto answer = work(calculation, line);
  REQUIRE(answer);
  UnitsShown units;
  units.system = system;
  for (const ResultValue& value : answer->results)
    if (value.name == result) return result_text(value, units, Words(language));
  return "(none)";
}

}  // namespace

TEST_CASE("calculation: results are told as people measure them") {
  // 15 gal, one in four: 3.75 of tea and 11.25 of water make 15.
  CHECK(shown("ratio", "--ratio \"1 in 4\" --spray \"15 gal\"", "tea") == "3.75 gal");
  CHECK(shown("ratio", "--ratio \"1 in 4\" --spray \"15 gal\"", "water") == "11.25 gal");
  CHECK(shown("ratio", "--ratio \"1 in 4\" --spray \"15 gal\"", "spray") == "15 gal");
  CHECK(shown("ratio", "--ratio \"1:6\" --spray \"15 gal\"", "water") == "12.86 gal");  // and 2.14 of tea
  CHECK(shown("ratio", "--ratio \"1:6\" --spray \"15 gal\"", "tea") == "2.14 gal");
  // On the course for it, fluid ounces are gal/acre; 0.33 gal would hide that.
  const std::string catches = "--catch \"41 fl oz\" --catch \"43 fl oz\" --course \"136 ft\" --swath \"30 in\"";
  CHECK(shown("calibrate", catches, "mean-catch") == "42 fl oz");
  CHECK(shown("calibrate", catches, "mean-catch", System::Metric) == "1242 mL");
  // 50 gal at 2 mg/L: 378.5 mg of chlorine, 2.484 times as much ascorbic acid.
  const std::string water = "--volume \"50 gal\" --chlorine \"2 mg/L\" --disinfectant free-chlorine";
  CHECK(shown("water", water, "molar-dose") == "0.940 g");
  CHECK(shown("recipe", "--reference \"11 gal\" --vessel \"35 gal\" --line \"humic; 1 cup\"", "line-1-as-written") ==
        "3.18 cups");
  // A range of one amount is told once.
  const auto one_amount = work("recipe", "--reference \"11 gal\" --vessel \"35 gal\" --line \"compost; 5 lb\"");
  CHECK(one_amount->results.size() == results_to_read(*one_amount, {}, Words(Language::English)).size() + 1);
  const std::string due = "--interval \"farm; 14\" --tea 2026-05-14 --today 2026-05-29";
  CHECK(shown("due", due, "interval-days") == "14 days");
  CHECK(shown("due", due, "stretch-1-days-left") == "1 day overdue");
  CHECK(shown("due", due, "stretch-1-days-left", System::Us, Language::Spanish) == "1 día de retraso");
  const std::string spray = std::string(find_calculation("spray-time")->example);
  CHECK(shown("spray-time", spray, "span-1-from") == "2026-06-03 00:00");
}

TEST_CASE("calculation: what is dissolved in water is in mg/L without its unit, a density is asked about") {
  CHECK(number(*work("oxygen", "--temperature \"60 F\" --oxygen 8.1"), "oxygen-share") ==
        doctest::Approx(81.3).epsilon(0.001));
  CHECK(work("convert", "--amount \"2 cups\" --to lb --density 450").error().word == "work.density-unit"_w);
  CHECK(work("convert", "--amount \"2 cups\" --to lb").error().word == "work.give-density"_w);
  CHECK(work("convert", "--amount \"2 cups\" --to ft").error().word == "work.no-such-unit"_w);
}
