// From the demo farm to an own one, on the one place that a device has for a book.
#include <doctest/doctest.h>

#include "book/leave_demo.h"
#include "book/places.h"
#include "tests/screens/demo_farm.h"
#include "tests/screens/farm_run.h"
#include "tests/screens/page_checks.h"

using namespace steep;
using namespace steep::test;

TEST_CASE("demo: Today leads out of it, once more asked, to the ways of a new device; an own farm is begun there") {
  DemoFarm demo("leave-demo");
  AppRun run(demo.platform, small_phone());
  run.settle();
  const Id demo_book = run.book().id();
  REQUIRE(run.press("Demo farm: invented…"));
  check_page(run, "leave-demo");
  REQUIRE(run.press("Stay in the demo"));
  CHECK(run.book().id() == demo_book);
  REQUIRE(run.press("Demo farm: invented…"));
  REQUIRE(run.press("Leave the demo farm"));
  CHECK_FALSE(run.book().is_started());
  CHECK(run.shows_part("Take the farm from a file"));
  REQUIRE(run.press("Start a farm here…"));
  run.app().back();
  run.settle();
  // After a kill nothing of the demo comes back.
  run.kill_and_open();
  CHECK_FALSE(run.book().is_started());
  CHECK(run.book().lanes().empty());
  FarmGiven given;
  given.name = "Mill Bend";
  given.zone_name = "America/New_York";
  given.person_name = "Rosa Ortiz";
  REQUIRE(start_farm(run.book(), given, {}));
  run.kill_and_open();
  CHECK_FALSE(run.book().is_demo());
  CHECK_FALSE(run.book().notice());
  CHECK_FALSE(run.shows_part("Demo farm"));
  CHECK(run.book().check()->tables_match);
  REQUIRE(farms(run.book())->size() == 1);
  CHECK(farms(run.book())->front().name == "Mill Bend");
}

TEST_CASE("demo: in Spanish with large text too; a real book is never emptied") {
  {
    DemoFarm demo("leave-demo");
    demo.platform.settings["language"] = "es";
    demo.platform.settings["text-size"] = "130";
    Look look = small_phone();
    look.width = 360;
    AppRun run(demo.platform, look);
    REQUIRE(run.press("Finca de muestra…"));
    check_page(run, "leave-demo, es");
    REQUIRE(run.press("Dejar la finca de muestra"));
    CHECK_FALSE(run.book().is_started());
  }
  TempBook file("leave-real");
  FakePlatform platform(file.path);
  Id farm;
  {
    auto book = Book::open(platform.book_place(), needs_of(platform));
    REQUIRE(book);
    FarmGiven given;
    given.name = "Mill Bend";
    given.zone_name = "America/New_York";
    const auto started = start_farm(*book, given, {});
    REQUIRE(started);
    farm = started->farm;
  }
  const auto left = leave_demo(platform.book_place());
  REQUIRE_FALSE(left);
  CHECK(left.error().word == "demo.is_real"_w);
  auto book = Book::open(platform.book_place(), needs_of(platform));
  REQUIRE(book);
  CHECK(read_farm(*book, farm));
}
