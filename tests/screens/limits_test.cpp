// The farm's own numbers on the screen: set, taken back, refused, and what a plan makes of them.
#include <doctest/doctest.h>

#include "book/limit_kinds.h"
#include "tests/screens/demo_farm.h"
#include "tests/screens/farm_run.h"
#include "tests/screens/page_checks.h"

using namespace steep;
using namespace steep::test;

namespace {

bool open(AppRun& run) { return run.press("Book…") && run.press("Settings") && run.press("The farm's own numbers…"); }

bool type_digits(AppRun& run, std::string_view digits) {
  for (const char digit : digits)
    if (!run.key(digit == '.' ? std::string("Decimal mark") : "Digit " + std::string(1, digit))) return false;
  return run.press("Enter");
}

std::optional<double> limit_now(AppRun& run, std::string_view which) {
  const auto all = farms(run.book());
  REQUIRE(all);
  const auto places = read_places(run.book(), all->front().id);
  REQUIRE(places);
  return limit_si(places->limits, which);
}

TEST_CASE("limits: common practice stands as such until the farm sets its own; it can be taken back") {
  Phone phone("limits");
  AppRun run(phone.platform);
  REQUIRE(open(run));
  CHECK(run.shows("Time a load takes, 45 min, common practice, no source"));
  CHECK(run.shows("Longest time off air, not set: nothing is said"));
  REQUIRE(run.press("Time a load takes, …"));
  CHECK(run.shows("Filling, walking and spraying one tankful…"));
  CHECK_FALSE(run.shows("Take it back"));
  REQUIRE(run.press("Set the farm's number"));
  REQUIRE(type_digits(run, "30"));
  CHECK(run.shows("Time a load takes, 30 min, Ana Leland"));
  CHECK(*limit_now(run, "load-time") == 1800);
  REQUIRE(run.press("Take it back"));
  CHECK(run.shows("Time a load takes, 45 min, common practice, no source"));
  CHECK(!limit_now(run, "load-time"));
  CHECK_FALSE(run.shows("Take it back"));
  REQUIRE(run.press("Close"));
  CHECK(run.shows("Longest time off air, not set: nothing is said"));
}

TEST_CASE("limits: a number out of all reason is refused with its range and stays to be mended") {
  Phone phone("limits-odd");
  AppRun run(phone.platform);
  REQUIRE(open(run));
  REQUIRE(run.press("Reserve of tea, …"));
  REQUIRE(run.press("Set the farm's number"));
  REQUIRE(type_digits(run, "140"));
  CHECK(run.shows("From 0% to 100% is possible for 'reserve of tea'."));
  CHECK(!limit_now(run, "reserve"));
  for (int i = 0; i < 3; ++i) REQUIRE(run.key("Delete the last digit"));  // What was typed is still there.
  REQUIRE(type_digits(run, "12.5"));
  CHECK_FALSE(run.shows("From 0% …"));
  CHECK(*limit_now(run, "reserve") == doctest::Approx(0.125));
}

TEST_CASE("limits: hours of the day read as the clock, wind in the reader's unit") {
  Phone phone("limits-clock");
  AppRun run(phone.platform);
  REQUIRE(open(run));
  REQUIRE(run.press("Spraying until, …"));
  REQUIRE(run.press("Set the farm's number"));
  REQUIRE(type_digits(run, "18.5"));
  CHECK(run.shows("Spraying until, 6:30 pm, Ana Leland"));
  REQUIRE(run.press("Close"));
  REQUIRE(run.press("Most wind, …"));
  REQUIRE(run.press("Set the farm's number"));
  REQUIRE(type_digits(run, "8"));
  CHECK(run.shows("Most wind, 8 mph, Ana Leland"));
}

TEST_CASE("limits: of the demo farm, on small phones, the desktop, in Spanish with large text: all can be pressed") {
  DemoFarm demo("limits-demo");
  FakePlatform& platform = demo.platform;
  struct Way {
    const char *language, *text;
    float width, height;
  };
  for (const Way way : {Way{"en", "100", 390, 844}, Way{"es", "100", 360, 740}, Way{"es", "130", 360, 740},
                        Way{"en", "160", 390, 844}, Way{"en", "100", 1440, 900}, Way{"es", "130", 1440, 900}}) {
    const bool es = std::string_view(way.language) == "es";
    CAPTURE(std::string(way.language));
    CAPTURE(std::string(way.text));
    CAPTURE(way.width);
    platform.settings["language"] = way.language;
    platform.settings["text-size"] = way.text;
    Look look;
    look.width = way.width;
    look.height = way.height;
    AppRun run(platform, look);
    if (!look.wide_rail()) REQUIRE(run.press(es ? "Libro…" : "Book…"));
    REQUIRE(run.press(es ? "Ajustes" : "Settings"));
    if (!look.wide_rail()) check_page(run, "settings");  // On the desktop its lines are pointer targets of 44.
    REQUIRE(run.press(es ? "Los números de la finca…" : "The farm's own numbers…"));
    check_page(run, "limits");
    REQUIRE(run.press(es ? "Mayor tiempo sin aire, 4 h, …" : "Longest time off air, 4 h, …"));
    check_page(run, "limit sheet");
    REQUIRE(run.press(es ? "Fijar el número de la finca" : "Set the farm's number"));
    check_page(run, "limit pad");
  }
}

TEST_CASE("limits: nothing is drawn while nothing happens") {
  Phone phone("limits-idle");
  AppRun run(phone.platform);
  REQUIRE(open(run));
  CHECK(run.wait(10000) == 0);
}

}  // namespace
