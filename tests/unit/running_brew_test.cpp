// A brew as it stands: the estimate of when it may be ready, and when none is given.
#include "book/running_brew.h"

#include "book/saves.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

struct Brewing : FarmBook {
  Brewing() {
    recipe = add(book(), "recipe",
                 {text_field_value("name", "Leaf 3"), quantity_value("reference", "5 gal"),
                  quantity_value("brewing.time", "24 h"), quantity_value("brewing.temperature", "68 degF")});
  }
  Id brew_of(const Id& of, double hours) {
    const Id id = FarmBook::brew(hours);
    REQUIRE(book().write(got(change_save(book(), id, {reference_value("recipe", of)})), ana));
    return id;
  }
  void read(const Id& brew, std::string_view typed) {
    ReadingGiven reading;
    reading.of = brew;
    reading.quantity = "temperature";
    reading.value = q(typed);
    done(add_reading(book(), reading, by_ana("as read")));
  }
  RunningBrew stands(const Id& brew) { return got(running_brew(book(), nullptr, brew, now())); }
  Id recipe;
};

double hours(Moment from, Moment to) { return static_cast<double>(to - from) / kHour; }

}  // namespace

TEST_CASE("running brew: at the recipe's temperature the estimate is the recipe's time, a quarter either way") {
  Brewing farm;
  const Id brew = farm.brew_of(farm.recipe, 12);
  farm.read(brew, "68 degF");
  const RunningBrew now = farm.stands(brew);
  const Moment begun = now.sheet.brew.air_on->at;
  REQUIRE(now.outlook);
  CHECK(now.outlook->temperatures == 1);
  CHECK(hours(begun, now.outlook->window.expected) == doctest::Approx(24).epsilon(1e-4));
  CHECK(hours(begun, now.outlook->window.earliest) == doctest::Approx(18).epsilon(1e-4));
  CHECK(hours(begun, now.outlook->window.latest) == doctest::Approx(30).epsilon(1e-4));
  CHECK(now.age->hours() == doctest::Approx(12).epsilon(1e-4));
}

TEST_CASE("running brew: warmer is sooner, by a Q10 of 2") {
  Brewing farm;
  const Id brew = farm.brew_of(farm.recipe, 1);
  farm.read(brew, "86 degF");  // 10 °C above the recipe's.
  const RunningBrew now = farm.stands(brew);
  REQUIRE(now.outlook);
  CHECK(hours(now.sheet.brew.air_on->at, now.outlook->window.expected) == doctest::Approx(12).epsilon(1e-4));
}

TEST_CASE("running brew: no estimate without temperature, time, or once somebody has judged or the air is off") {
  Brewing farm;
  const Id untouched = farm.brew_of(farm.recipe, 6);
  CHECK(!farm.stands(untouched).outlook);
  const Id timeless =
      add(farm.book(), "recipe", {text_field_value("name", "Root 1"), quantity_value("reference", "5 gal")});
  const Id without = farm.brew_of(timeless, 6);
  farm.read(without, "68 degF");
  CHECK(!farm.stands(without).outlook);
  farm.read(untouched, "68 degF");
  CHECK(farm.stands(untouched).outlook);
  done(set_verdict(farm.book(), untouched, "ready", "smells of woods", farm.by_ana("early")));
  CHECK(!farm.stands(untouched).outlook);
  const Id off = farm.brew_of(farm.recipe, 6);
  farm.read(off, "68 degF");
  farm.pass_time(kMinute);
  done(set_air_off(farm.book(), off, farm.now(), farm.by_ana("early")));
  CHECK(!farm.stands(off).outlook);
}

TEST_CASE("running brew: a bare limit of oxygen is meant in mg/L, on every page") {
  Brewing farm;
  const Id brew = farm.brew_of(farm.recipe, 6);
  ReadingGiven reading;
  reading.of = brew;
  reading.quantity = "oxygen";
  reading.value = q("5.9 mg/L");
  done(add_reading(farm.book(), reading, farm.by_ana("as read")));
  add(farm.book(), "limit",
      {reference_value("farm", farm.farm), word_value("which", "oxygen"), number_value("limit.value", "6"),
       text_field_value("limit.by", "Ana Leland")});
  const Places places = got(read_places(farm.book(), farm.farm));
  const RunningBrew now = got(running_brew(farm.book(), &places, brew, farm.now()));
  REQUIRE(now.oxygen_floor);
  CHECK(*now.oxygen_floor == doctest::Approx(0.006));
  CHECK(now.oxygen_floor_typed == "6 mg/L");
  CHECK(now.oxygen_under);
}

TEST_CASE("running brew: it is over with its last entry, whatever the time since") {
  Brewing farm;
  const Id poured = farm.brew_of(farm.recipe, 20);
  CHECK(!farm.stands(poured).over);
  done(add_discard(farm.book(), poured, q("5 gal"), {}, "on the heap", farm.now(), farm.by_ana()));
  farm.read(poured, "68 degF");
  const Moment last = farm.stands(poured).sheet.readings.back().at->at;
  farm.pass_time(9 * kDay);
  REQUIRE(farm.stands(poured).over);
  CHECK(std::abs(*farm.stands(poured).over - last) < kSecond);  // Times are written down to the second.
  const Id sour = farm.brew_of(farm.recipe, 20);
  done(set_verdict(farm.book(), sour, "do-not-use", "sour", farm.by_ana()));
  CHECK(farm.stands(sour).over);
}
