#include <doctest/doctest.h>

#include <algorithm>

#include "base/words.h"

using namespace steep;

TEST_CASE("words: both languages, places filled") {
  const Words en(Language::English), es(Language::Spanish);
  CHECK(en("time.today"_w) == "today");
  CHECK(es("time.today"_w) == "hoy");
  CHECK(en("time.day-month-year"_w, {"14", "May", "2026"}) == "14 May 2026");
  CHECK(en("quantity.negative"_w, {"-3"}).starts_with("'-3' "));
}

TEST_CASE("words: counted things") {
  const Words en(Language::English), es(Language::Spanish);
  CHECK(en.count("time.in-days"_w, 1) == "in 1 day");
  CHECK(en.count("time.in-days"_w, 0) == "in 0 days");
  CHECK(es.count("time.in-days"_w, 3) == "en 3 días");
}

TEST_CASE("words: what is unknown or missing is seen, never a crash") {
  const Words en(Language::English);
  CHECK(en("no.such-word"_w) == "[no.such-word]");
  CHECK(en.count("no.such-word"_w, 2) == "[no.such-word.other]");
  CHECK(en("time.day-month"_w, {"14"}) == "14 {1}");
  CHECK(en.stored("no.such-word", "plain") == "plain");
  CHECK(en.has("time.today"));
  CHECK_FALSE(en.has("time.toda"));
}

TEST_CASE("words: values are not filled twice") {
  CHECK(Words(Language::English)("time.day-month"_w, {"{1}", "{0}"}) == "{1} {0}");
}

TEST_CASE("words: a problem becomes its sentence") {
  const Problem problem{Trouble::BadInput, "quantity.ask-one"_w, {"4 oz", "4 fl oz"}, ""};
  CHECK(Words(Language::Spanish)(problem) == "«4 oz»: ¿quiso decir 4 fl oz?");
}

TEST_CASE("words: keys are sorted and language codes known") {
  const auto keys = Words::keys();
  CHECK(std::is_sorted(keys.begin(), keys.end()));
  CHECK(std::adjacent_find(keys.begin(), keys.end()) == keys.end());
  CHECK(language_from_code(language_code(Language::Spanish)) == Language::Spanish);
  CHECK(language_from_code("es-MX") == Language::Spanish);
  CHECK(language_from_code("xx") == Language::English);
}
