// A whole pass on the real screens, pressed by the names that a screen reader speaks.
#include <doctest/doctest.h>

#include "tests/screens/farm_run.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Answers what the sheet asks, as far as it is asked; leaves the start button ready.
void start_a_pass(AppRun& run) {
  REQUIRE(run.press("Start pass…"));
  if (run.shows("At which rates?")) {
    REQUIRE(run.press("At which rates?"));
    REQUIRE(run.press("Tea per area, not answered, type another value"));
    REQUIRE(run.key("Digit 2"));
    REQUIRE(run.key("Digit 0"));
    REQUIRE(run.press("Enter"));
    REQUIRE(run.press("Close"));
  }
  if (run.shows("Which brew, leaf or soil?")) {
    REQUIRE(run.press("Which brew, leaf or soil?"));
    REQUIRE(run.press("Brew: on leaf"));
    REQUIRE(run.press("Brew: Brew 31…"));
  }
  if (!run.find("How do you walk?: Same end each bed")->on) run.press("How do you walk?: Same end each bed");
  if (!run.find("Start from: lane")->on) run.press("Start from: lane");
  REQUIRE(run.press("Weather now: Not taken"));
  REQUIRE(run.press("Start · N1"));
}

void spray_two_beds(AppRun& run) {
  run.platform.wait(kMinute);
  REQUIRE(run.press("N1 done, then N2"));
  run.platform.wait(kMinute);
  REQUIRE(run.press("N2 done, then the end of the pass"));
}

void end_with_a_rest_in_the_tank(AppRun& run) {
  REQUIRE(run.press("End pass…"));
  REQUIRE(run.press("Left over, and where to?: Stays in tank"));
  REQUIRE(run.press("Wash of Backpack 1: Not washed"));
  REQUIRE(run.press("Weather at the end: Not taken"));
  REQUIRE(run.press("End pass"));
}

std::vector<Dose> doses(AppRun& run) {
  const auto open = open_pass(run.book());
  REQUIRE(open);
  REQUIRE(*open);
  const auto all = doses_of_pass(run.book(), **open);
  REQUIRE(all);
  return *all;
}

TEST_CASE("pass: six beds, a half, a skip, an undo, a refill and the end") {
  Phone phone("pass");
  AppRun run(phone.platform);
  start_a_pass(run);
  CHECK(phone.platform.awake);
  phone.platform.wait(kMinute);
  REQUIRE(run.press("N1 done, then N2"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("N2 done, then N3"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("Half of N3, lane end"));
  CHECK(run.shows("N4 done, then N5"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("Skip N4, with reason"));
  REQUIRE(run.press("Why skip N4?: wet"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("N5 done, then N6"));
  REQUIRE(run.press("Undo N5"));
  CHECK(run.shows("N5 done, then N6"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("N5 done, then N6"));
  REQUIRE(run.press("Refill, load 2"));
  // By the rate most of the tank is still full: only a person can say.
  CHECK_FALSE(run.find("Refilled, on with N6")->enabled);
  CHECK(run.shows_part("1 answer missing: what is left"));
  REQUIRE(run.press("Is the tank dry?: Ran dry"));
  REQUIRE(run.press("Refilled, on with N6"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("N6 done, then N7"));

  int done = 0, part = 0, skipped = 0;
  for (const Dose& dose : doses(run)) {
    done += dose.how == DoseHow::Done;
    part += dose.how == DoseHow::Part;
    skipped += dose.how == DoseHow::Skipped;
  }
  CHECK(done >= 4);
  CHECK(part >= 1);
  CHECK(skipped == 1);

  SUBCASE("killed and opened again, the same bed is in hand") {
    run.kill_and_open();
    CHECK(run.shows("N7 done, then N8"));
  }
}

/// Fourteen beds, the tank filled anew behind the ninth.
void walk_fourteen(AppRun& run) {
  for (int bed = 1; bed <= 13; ++bed) {
    run.platform.wait(kMinute);
    REQUIRE(run.press("N" + std::to_string(bed) + " done, then N" + std::to_string(bed + 1)));
    if (bed != 9) continue;
    REQUIRE(run.press("Refill, load 2"));
    REQUIRE(run.press("Is the tank dry?: About…"));
    REQUIRE(run.press("Refilled, on with N10"));
  }
  run.platform.wait(kMinute);
  REQUIRE(run.press("N14 done, then the end of the pass"));
}

TEST_CASE("pass: fourteen beds with one refill take at most 20 presses from Today") {
  TempBook file("presses");
  FakePlatform platform(file.path);
  make_farm(platform, 14);
  AppRun run(platform);
  // The first pass of a farm answers who, with what, and how it walks; the next one knows.
  start_a_pass(run);
  walk_fourteen(run);
  end_with_a_rest_in_the_tank(run);
  platform.wait(14 * kDay);
  run.kill_and_open();
  run.presses = 0;
  REQUIRE(run.press("Start pass…"));
  REQUIRE(run.press("Weather now: Not taken"));
  REQUIRE(run.press("Start · N1"));
  CHECK(run.presses <= 4);
  walk_fourteen(run);
  CHECK(run.presses <= 20);
  MESSAGE("from Today to the last bed: ", run.presses, " presses");
}

TEST_CASE("pass: a tap on another strip takes that bed in hand, and the walk goes on from there") {
  Phone phone("tap");
  AppRun run(phone.platform);
  start_a_pass(run);
  REQUIRE(run.press("N9 chard, waiting"));
  CHECK(run.shows("N9 done, then N10"));
  phone.platform.wait(kMinute);
  REQUIRE(run.press("N9 done, then N10"));
  CHECK(run.shows("N10 done, then N11"));
  REQUIRE(run.press("N2 chard, waiting…"));  // Passed over: it stands behind the last one.
  CHECK(run.shows("N2 done, then N3"));
}

TEST_CASE("pass: ended with what was left over, the wash and the weather") {
  TempBook file("end");
  FakePlatform platform(file.path);
  make_farm(platform, 2);
  AppRun run(platform);
  start_a_pass(run);
  spray_two_beds(run);
  end_with_a_rest_in_the_tank(run);
  CHECK(run.shows("Today"));
  const auto open = open_pass(run.book());
  REQUIRE(open);
  CHECK_FALSE(*open);
  CHECK_FALSE(platform.awake);
  const auto passes_here = passes(run.book(), *Id::parse(platform.settings["farm"]));
  REQUIRE(passes_here);
  REQUIRE(passes_here->size() == 1);
  CHECK(passes_here->front().finish.is_there());
  CHECK(passes_here->front().weather_finish.not_taken);
  const auto tank = loads(run.book(), passes_here->front().id);
  REQUIRE(tank);
  REQUIRE(tank->size() == 1);
  CHECK(tank->front().is_closed());
  CHECK(tank->front().left.is_there());
  CHECK(run.book().records("wash")->empty());
  CHECK(run.book().records("discard")->empty());
}

TEST_CASE("pass: what stayed in the tank is counted at the next start, until its wash is written down") {
  TempBook file("stayed");
  FakePlatform platform(file.path);
  make_farm(platform, 2);
  AppRun run(platform);
  start_a_pass(run);
  spray_two_beds(run);
  end_with_a_rest_in_the_tank(run);
  platform.wait(14 * kDay);
  run.kill_and_open();
  REQUIRE(run.press("Start pass…"));
  CHECK(run.shows_part("0.15 gal still in the tank from pass 1"));
  REQUIRE(run.press("It was cleaned since"));
  REQUIRE(run.type("How was it washed?", "3 rinses, well water"));
  REQUIRE(run.press("Write the wash down"));
  CHECK_FALSE(run.shows_part("still in the tank"));
  CHECK_FALSE(run.shows("It was cleaned since"));
  const auto washes = run.book().records("wash");
  REQUIRE(washes);
  CHECK(washes->size() == 1);
}

TEST_CASE("pass: at rest no frame is drawn between the ticks of the clock") {
  Phone phone("rest");
  AppRun run(phone.platform);
  run.wait(kMinute);  // Up to a tick.
  CHECK(run.wait(10 * kSecond) <= 1);
}

TEST_CASE("pass: a start sheet half filled survives a kill") {
  Phone phone("draft");
  AppRun run(phone.platform);
  REQUIRE(run.press("Start pass…"));
  REQUIRE(run.press("Weather now: Not taken"));
  run.wait(kSecond);
  CHECK(run.shows("Draft saved…"));
  run.kill_and_open();
  REQUIRE(run.press("Start pass…"));
  const Item* cell = run.find("Weather now: Not taken");
  REQUIRE(cell);
  CHECK(cell->on);
}

}  // namespace
