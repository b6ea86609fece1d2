// What the book keeps of what was read: the same as read anew, whatever was written since.
#include "book/codes.h"
#include "book/pass_state.h"
#include "book/places.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

std::shared_ptr<const Places> places_of(FarmBook& farm) {
  return got(kept_places(farm.book(), farm.farm, {2026, 5, 14}));
}
std::string first_bed(FarmBook& farm) { return places_of(farm)->bed(farm.beds[0])->name; }

}  // namespace

TEST_CASE("a press leaves the farm's places and codes as they were read; another day or farm is read for itself") {
  FarmBook farm;
  const Id pass = farm.start(farm.choices(farm.brew(), farm.beds));
  const auto before = places_of(farm);
  const Codes codes = got(Codes::read(farm.book()));
  const auto kept_codes = farm.book().kept("codes");
  REQUIRE(kept_codes);
  farm.spray(pass, farm.beds[0]);
  CHECK(places_of(farm) == before);
  CHECK(farm.book().kept("codes") == kept_codes);
  CHECK(got(kept_places(farm.book(), farm.farm, {2026, 5, 15})) != before);
  CHECK(refusal(kept_places(farm.book(), pass, {2026, 5, 14})) == "place.no-farm");
  CHECK(farm.state(pass).beds[0].progress == BedProgress::Done);
}

TEST_CASE("kept places follow what changes them") {
  FarmBook farm;
  CHECK(first_bed(farm) == "N1");
  SUBCASE("a correction") {
    edit(farm.book(), farm.beds[0], {text_field_value("name", "N1 east")});
    CHECK(first_bed(farm) == "N1 east");
  }
  SUBCASE("a planting, struck again") {
    const Id planting =
        add(farm.book(), "planting", {reference_value("bed", farm.beds[0]), text_field_value("crop", "chard")});
    CHECK(places_of(farm)->crop_names(farm.beds[0]) == "chard");
    edit(farm.book(), planting, {text_field_value("struck", "logged twice")});
    CHECK(places_of(farm)->crop_names(farm.beds[0]).empty());
  }
  SUBCASE("a file, set aside, and a rebuild") {
    Copy marek("Marek's phone", 9);
    meet(farm.copy, marek);
    edit(*marek.book, farm.beds[0], {text_field_value("name", "Nut bed")});
    meet(farm.copy, marek);
    CHECK(first_bed(farm) == "Nut bed");
    const auto batches = got(farm.book().batches());
    REQUIRE_FALSE(batches.empty());
    REQUIRE(farm.book().set_aside(batches.front().row, true));
    CHECK(first_bed(farm) == "N1");
    REQUIRE(farm.book().set_aside(batches.front().row, false));
    CHECK(first_bed(farm) == "Nut bed");
    const auto before = places_of(farm);
    REQUIRE(farm.book().rebuild());
    CHECK(places_of(farm) != before);
    CHECK(first_bed(farm) == "Nut bed");
  }
  SUBCASE("another program's write") {
    farm.copy.tamper("UPDATE k_bed SET name='N1 by hand' WHERE name='N1'");
    CHECK(farm.book().changed_elsewhere());
    CHECK(first_bed(farm) == "N1 by hand");
  }
}

TEST_CASE("kept codes follow brews and passes, and which copy gave them") {
  FarmBook farm;
  const Id brew = farm.brew();
  CHECK(got(Codes::read(farm.book())).text(brew) == "31");
  const Id next = farm.brew();
  CHECK(got(Codes::read(farm.book())).text(next) == "31 ≠");
  edit(farm.book(), next, {number_value("number", "7")});
  CHECK(got(Codes::read(farm.book())).text(next) == "7");
  CHECK(got(Codes::read(farm.book())).text(brew) == "31");
  CHECK(got(Codes::read(farm.book())).next("brew") == 32);
  REQUIRE(farm.book().take_new_lanes());
  // Numbers of a copy that it no longer is: the next it gives are counted anew.
  CHECK(got(Codes::read(farm.book())).next("brew") == 1);
}
