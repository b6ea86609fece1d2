#include "trade/step_words.h"

#include <doctest/doctest.h>

#include <fstream>
#include <set>

#include "quantity/unit.h"

using namespace steep;

namespace {

const Words kEnglish(Language::English), kSpanish(Language::Spanish);

std::string spanish(std::string_view text) { return step_words(text, kSpanish); }

/// The words of a formula: letters alone, three or more, small ones: symbols have capitals or are shorter.
std::set<std::string> words_in(std::string_view formula) {
  std::set<std::string> all;
  std::string word;
  for (const char c : std::string(formula) + ' ') {
    if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_') {
      word += c;
      continue;
    }
    if (word.size() >= 3 && word.find_first_not_of("abcdefghijklmnopqrstuvwxyz") == std::string::npos) all.insert(word);
    word.clear();
  }
  return all;
}

}  // namespace

TEST_CASE("step words: a formula in Spanish, its symbols and units as they are") {
  CHECK(spanish("spray = tea + water") == "mezcla = té + agua");
  CHECK(spanish("tea = spray · tea rate / spray rate") == "té = mezcla · dosis de té / dosis de mezcla");
  CHECK(spanish("t = (C − floor) / OUR") == "t = (C − mínimo) / OUR");
  CHECK(spanish("= 45 gal/acre × 0.131 acres = 5.89 gal") == "= 45 gal/acre × 0.131 acres = 5.89 gal");
  CHECK(spanish("√μ = b (T − Tmin)") == "√μ = b (T − Tmin)");
  CHECK(spanish("").empty());
}

TEST_CASE("step words: units behind their number, one or several of them") {
  CHECK(spanish("2.5 cup × 4 = 10 cup") == "2.5 tazas × 4 = 10 tazas");
  CHECK(spanish("1 cup") == "1 taza");
  CHECK(spanish("1/2 cup, 2 1/2 cup") == "1/2 taza, 2 1/2 tazas");
  CHECK(spanish("10–20 tbsp → 0.5–1 cup") == "10–20 cdas → 0.5–1 tazas");
  CHECK(spanish("3 fl oz/1000 ft2 × 250 ft2") == "3 fl oz/1000 pies² × 250 pies²");
  CHECK(spanish("7 day / 2 week") == "7 días / 2 semanas");
  CHECK(spanish("20 degC + 4 metric cup = 1 imperial gal") == "20 °C + 4 tazas métricas = 1 gal imperial");
  CHECK(spanish("cup, 3 cupola, 4  cup, cups 3") == "cup, 3 cupola, 4  cup, cups 3");
  CHECK(step_words("10 cup, 250 ft2", kEnglish) == "10 cup, 250 ft2");
}

TEST_CASE("step words: a recipe in cups and spoons is explained in Spanish ones") {
  const Calculation* recipe = find_calculation("recipe");
  REQUIRE(recipe);
  const auto inputs =
      read_inputs(*recipe,
                  read_command_line("--reference \"25 gal\" --vessel \"50 gal\" --line \"kelp; 1/2 cup\" "
                                    "--line \"humic; 1 tbsp; 2 tbsp\""),
                  Habits{});
  REQUIRE(inputs);
  const auto answer = recipe->run(*inputs);
  REQUIRE(answer);
  std::set<std::string> shown;
  for (const Step& step : answer->steps)
    if (step.named) shown.insert(show_step(step, {}, kSpanish).below);
  CHECK(shown == std::set<std::string>{"= 0.5 tazas × 2 = 1 taza", "= 1–2 cdas × 2 = 2–4 cdas"});
}

TEST_CASE("step words: the longest phrase that fits, and never a part of a word") {
  CHECK(spanish("spray on the beds / loads") == "mezcla en las camas / cargas");
  CHECK(spanish("spray on the floor") == "mezcla on the mínimo");
  CHECK(spanish("teapot, steam, tea_2") == "teapot, steam, tea_2");
  CHECK(spanish("rate  rate") == "dosis  dosis");
  CHECK(spanish("tea ") == "té ");
}

TEST_CASE("step words: English stays as the calculation wrote it") {
  for (const Calculation* calculation : all_calculations()) {
    const auto inputs = read_inputs(*calculation, read_command_line(calculation->example), Habits{});
    REQUIRE(inputs);
    const auto answer = calculation->run(*inputs);
    REQUIRE(answer);
    for (const Step& step : answer->steps) {
      const StepShown shown = show_step(step, {}, kEnglish);
      CHECK(shown.formula == step.formula);
      CHECK(shown.below == step.below());
    }
  }
}

TEST_CASE("step words: a name that somebody gave stays as it was given") {
  const Calculation* recipe = find_calculation("recipe");
  REQUIRE(recipe);
  const auto inputs = read_inputs(
      *recipe, read_command_line("--reference \"25 gal\" --vessel \"50 gal\" --line \"tea water; 5 lb\""), Habits{});
  REQUIRE(inputs);
  const auto answer = recipe->run(*inputs);
  REQUIRE(answer);
  int named = 0, ours = 0;
  for (const Step& step : answer->steps) {
    const StepShown shown = show_step(step, {}, kSpanish);
    if (shown.formula == "tea water") ++named;
    if (shown.formula == "factor = llenado / referencia") ++ours;
  }
  CHECK(named == 1);
  CHECK(ours == 1);
}

TEST_CASE("step words: a reader of commas reads commas, sections of rules stay") {
  const UnitsShown commas{.mark = DecimalMark::Comma};
  const auto shown = [&](std::string formula, std::string numbers) {
    return show_step({"x", 0, std::move(formula), std::move(numbers), false}, commas, kSpanish);
  };
  CHECK(shown("p = 101.325 (1 − 0.0065 h / 288.15)^5.2559", "365.76 m → 0.95739 atm").formula ==
        "p = 101,325 (1 − 0,0065 h / 288,15)^5,2559");
  CHECK(shown("C = C0", "t = 20 °C, P = 0.95739 atm, S = 0 → 8.69612 mg/L").below ==
        "t = 20 °C, P = 0,95739 atm, S = 0 → 8,69612 mg/L");
  CHECK(shown("7 CFR 205.203(c)(2)(iii)", "16 d").formula == "7 CFR 205.203(c)(2)(iii)");
  CHECK(shown("n", "3.").below == "= 3.");
}

TEST_CASE("step words: every word of every formula has its Spanish one") {
  // Functions of mathematics, statistics and the calendar; the same in both languages.
  const std::set<std::string> kSame = {"exp", "log", "cos", "sin",      "tan", "atan",
                                       "max", "min", "opt", "imperial", "iii"};
  std::ifstream list(STEEPBOOK_SOURCE_DIR "/tests/same/lines.txt");
  std::vector<std::pair<const Calculation*, std::string>> asked;
  for (const Calculation* calculation : all_calculations()) asked.emplace_back(calculation, calculation->example);
  for (std::string line; std::getline(list, line);) {
    if (line.empty() || line.front() == '#') continue;
    const std::size_t blank = line.find(' ');
    asked.emplace_back(find_calculation(line.substr(0, blank)), line.substr(blank + 1));
  }
  int formulas = 0;
  for (const auto& one : asked) {
    const Calculation* calculation = one.first;  // named: a lambda of C++20 in clang 14 takes no parts of a pair
    const std::string& line = one.second;
    REQUIRE(calculation);
    const auto inputs = read_inputs(*calculation, read_command_line(line), Habits{});
    if (!inputs) continue;
    const auto answer = calculation->run(*inputs);
    if (!answer) continue;
    for (const Step& step : answer->steps) {
      if (step.named) continue;
      ++formulas;
      // A word that stands in Spanish as in English is one of the list too: 'factor', 'final'.
      const std::set<std::string> after = words_in(spanish(step.formula));
      for (const std::string& word : words_in(step.formula))
        CHECK_MESSAGE(
            (after.count(word) == 0 || kSame.count(word) == 1 || find_unit(word) || kSpanish.has("formula." + word)),
            calculation->name, ": '", word, "' in '", step.formula, "'");
    }
  }
  CHECK(formulas > 200);
}
