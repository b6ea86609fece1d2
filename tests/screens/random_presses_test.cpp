// Random presses, typing, going back, time, kills: whatever somebody does, the screen stays readable and leads on, and the
// book whole. STEEPBOOK_PRESSES says how many seeds each start gets, STEEPBOOK_PRESS_SEED=N takes that one alone.
#include <doctest/doctest.h>

#include <cstdlib>

#include "demo/demo.h"
#include "handover/give.h"
#include "tests/screens/farm_run.h"
#include "tests/screens/random_hand.h"

using namespace steep;
using namespace steep::test;

namespace {

long number_of(const char* name, long otherwise) {
  const char* text = std::getenv(name);
  return text ? std::atol(text) : otherwise;
}

/// Alder Reach, made once, and what its second phone gives.
struct Demo {
  TempBook file{"random-demo"}, phone_file{"random-demo-phone"};
  File given, phone_gives;
  Demo() {
    FakePlatform platform(file.path), phone(phone_file.path);
    DemoWish wish;
    wish.now = platform.clock;
    wish.zone_name = platform.zone;
    REQUIRE(make_demo(platform.book_place(), wish));
    const Book book = open_book(platform);
    given = give(book, {})->file;
    REQUIRE(make_demo_phone(phone.book_place(), book, wish));
    phone_gives = give(open_book(phone), {})->file;
  }
};
const Demo& demo() {
  static const Demo once;
  return once;
}

enum class Start { Empty, Farm, Demo };
std::string name_of(Start start) {
  return start == Start::Empty ? "an empty book" : start == Start::Farm ? "a farm just started" : "the demo farm";
}

void lay_out(Start start, WatchedPlatform& platform) {
  if (start == Start::Farm) make_farm(platform, 4);
  if (start == Start::Demo) std::filesystem::copy_file(demo().file.path, platform.path);
  platform.saved();
}

/// What the journal says is what the tables say, and what is read when the program starts anew.
void check_book(WatchedPlatform& platform, AppRun& run) {
  const std::string code = run.book().digest_code();
  run.kill_and_open();
  CHECK(run.book().digest_code() == code);
  const auto health = run.book().check();
  REQUIRE(health);
  CHECK(health->sqlite == "ok");
  CHECK(health->broken_chains.empty());
  CHECK(health->tables_match);
  CHECK(health->waiting == 0);
  REQUIRE(run.book().rebuild());
  CHECK(run.book().digest_code() == code);
  (void)platform;
}

void press_about(Start start, std::uint64_t seed, int presses) {
  TempBook file("random");
  WatchedPlatform platform(file.path);
  lay_out(start, platform);
  AppRun run(platform, small_phone());
  Hand hand(run, platform, seed);
  hand.files = {{"torn.steepbook", "torn", {}}, {"photo.jpg", "\xFF\xD8\xFF\xE0 a photo", {}}};
  if (start != Start::Farm) hand.files.push_back(demo().phone_gives);
  for (int i = 0; i < presses; ++i) {
    hand.act();
    const std::string fault = hand.fault();
    INFO("from ", name_of(start), ", seed ", seed, ", press ", i, "\n", hand.story());
    REQUIRE(fault == "");
    if (i % 40 == 39) REQUIRE(hand.go_home());
  }
  check_book(platform, run);
}

TEST_CASE("random presses: from an empty book, a farm just started, the demo farm") {
  const long seeds = number_of("STEEPBOOK_PRESSES", 2), only = number_of("STEEPBOOK_PRESS_SEED", -1);
  for (const Start start : {Start::Empty, Start::Farm, Start::Demo}) {
    for (long seed = only < 0 ? 1 : only; seed <= (only < 0 ? seeds : only); ++seed)
      press_about(start, static_cast<std::uint64_t>(seed), 120);
  }
}

}  // namespace
