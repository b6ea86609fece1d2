#include "trade/tea_time.h"
#include "trade/teastatus.h"

#include <doctest/doctest.h>
#include <set>
#include <string>

#include "base/words.h"

using namespace steep;

namespace {

constexpr Moment kMet{1'780'000'000'000};  // Any moment will do.
Moment after(std::int64_t minutes, std::int64_t seconds = 0) { return kMet + minutes * kMinute + seconds * kSecond; }

TEST_CASE("tea_time: 60 minutes pass as extract, 61 are tea") {
  CHECK(tea_time(kMet, after(60))->liquid == Liquid::ExtractSoonTea);
  CHECK(tea_time(kMet, after(60))->minutes == 60);
  CHECK(tea_time(kMet, after(61))->liquid == Liquid::Tea);
  CHECK(tea_time(kMet, after(61))->minutes == 61);
  CHECK(tea_time(kMet, after(24 * 60))->liquid == Liquid::Tea);
}

TEST_CASE("tea_time: a part of a minute over the hour is tea") {
  CHECK(tea_time(kMet, after(60, 1))->liquid == Liquid::Tea);
  CHECK(tea_time(kMet, after(60, 1))->minutes == 61);
}

TEST_CASE("tea_time: says from 50 minutes on that time runs out") {
  CHECK(tea_time(kMet, after(0))->liquid == Liquid::Extract);
  CHECK(tea_time(kMet, after(49))->liquid == Liquid::Extract);
  CHECK(tea_time(kMet, after(50))->liquid == Liquid::ExtractSoonTea);
  CHECK(extract_until(kMet) == after(60));
}

TEST_CASE("tea_time: cannot finish before compost met water") {
  const auto time = tea_time(kMet, after(-1));
  REQUIRE(!time);
  CHECK(time.error().kind == Trouble::BadInput);
}

TEST_CASE("tea status: every outcome has a word of its own, with a text in both languages") {
  std::set<std::string> words;
  for (const auto outcome :
       {NosbOutcome::NoInterval, NosbOutcome::Interval, NosbOutcome::SoilOnlyInterval, NosbOutcome::NotForSprouts})
    words.insert(outcome_word(outcome));
  for (const auto outcome : {PsrOutcome::NotAnimal, PsrOutcome::NotATea, PsrOutcome::Untreated, PsrOutcome::TreatedB,
                             PsrOutcome::TreatedA, PsrOutcome::NotCovered})
    words.insert(outcome_word(outcome));
  CHECK(words.size() == 10);
  for (const std::string& word : words)
    for (const Language language : {Language::English, Language::Spanish})
      CHECK_MESSAGE(Words(language).has("answer." + word), word);
}

}  // namespace
