// Readings of a brew, pressed on the real screens by the names that a screen reader speaks.
#include <doctest/doctest.h>

#include "book/work.h"
#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

std::vector<Reading> readings_of_newest(AppRun& run) {
  const auto all = brews(run.book());
  REQUIRE(all);
  REQUIRE(!all->empty());
  const auto taken = readings(run.book(), all->front().id);
  REQUIRE(taken);
  return *taken;
}

TEST_CASE("reading: saved, and on to the next kind; a note goes with it; a refused one stays to be mended") {
  Phone phone("reading");
  AppRun run(phone.platform);
  REQUIRE(run.press("Add reading…"));
  for (const char* key : {"Digit 6", "Decimal mark", "Digit 4"}) REQUIRE(run.key(key));
  REQUIRE(run.press("Note"));
  REQUIRE(run.type("Note beside this reading", "stirred just before"));
  REQUIRE(run.press("Save…"));
  auto taken = readings_of_newest(run);
  REQUIRE(taken.size() == 1);
  CHECK(taken[0].quantity == "oxygen");
  const auto beside = notes(run.book(), taken[0].id);
  REQUIRE(beside);
  REQUIRE(beside->size() == 1);
  CHECK(beside->front().text == "stirred just before");
  CHECK(!run.shows("Note beside this reading"));  // The next reading begins without one.

  // 75 is no pH: nothing is written, and what was typed stands there still.
  REQUIRE(run.press("pH"));
  for (const char* key : {"Digit 7", "Digit 5"}) REQUIRE(run.key(key));
  REQUIRE(run.press("Save…"));
  CHECK(readings_of_newest(run).size() == 1);
  CHECK(run.find("pH")->on);
  REQUIRE(run.key("Delete the last digit"));
  REQUIRE(run.press("Save…"));
  taken = readings_of_newest(run);
  REQUIRE(taken.size() == 2);
  CHECK(taken[1].quantity == "ph");
  CHECK(*taken[1].number == doctest::Approx(7));
}

TEST_CASE("reading: one that is hardly right and yet may be is asked about, and kept for a reason") {
  Phone phone("unusual");
  AppRun run(phone.platform);
  REQUIRE(run.press("Add reading…"));
  REQUIRE(run.press("Temp"));
  for (const char* key : {"Digit 6", "Digit 8", "Digit 5"}) REQUIRE(run.key(key));
  REQUIRE(run.press("Save…"));
  CHECK(run.shows_part("685"));
  CHECK(run.shows_part("68.5"));
  CHECK(readings_of_newest(run).empty());
  REQUIRE(run.press("Leave it"));
  CHECK(readings_of_newest(run).empty());
  REQUIRE(run.press("Save…"));
  REQUIRE(run.type("Reason to go on", "a probe in the kiln, tried for fun"));
  REQUIRE(run.press("Write it"));
  const auto taken = readings_of_newest(run);
  REQUIRE(taken.size() == 1);
  CHECK(taken[0].value->text == "685 degF");
}

}  // namespace
