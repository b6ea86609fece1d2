// Merge scenarios: struck here, edited there. Nothing is erased, nothing comes back by itself.
#include "book/record_commands.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

TEST_CASE("scenario 06: struck here, edited unaware there: stays struck, in review, in history and in the wait") {
  Farm2 farm;
  const auto wait = farm.wait_end(farm.office);
  REQUIRE(wait);
  strike_on(farm.ana.copy, farm.dose, "logged twice");
  edit(*farm.office.book, farm.dose, farm.volume("2 gal"));
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    CHECK(struck(*copy, farm.dose) == "logged twice");
    CHECK(reviews(*copy->book, "review.edited_unaware") == 1);
    CHECK(text_of(*copy->book, farm.dose, "what.volume") == "2 gal");
    CHECK(got(copy->book->history(farm.dose)).size() == 3);
    CHECK(farm.wait_end(*copy) == wait);  // Until somebody settles it.
  }
}

TEST_CASE(
    "scenario 07: struck, and restored by one who saw it: not struck, nothing to review, both reasons kept; a blank "
    "reason is refused") {
  Farm2 farm;
  const Going going{farm.ana.ana, "", false};
  CHECK_FALSE(strike(farm.book(), farm.dose, " \t ", going));
  CHECK_FALSE(farm.book().write(edit_of(farm.book(), farm.dose, {text_field_value("struck", "  ")}), {}));
  done(strike(farm.book(), farm.dose, "wrong bed", going));
  hand(farm.ana.copy, farm.office);
  CHECK_FALSE(restore(*farm.office.book, farm.dose, true, "", going));
  done(restore(*farm.office.book, farm.dose, true, "it was this bed", going));
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
  CHECK(struck(farm.ana.copy, farm.dose).empty());
  CHECK(got(farm.book().reviews()).empty());
  const auto history = got(farm.book().history(farm.dose));
  REQUIRE(history.size() == 3);
  CHECK(text_in(history[1].change.fields, "struck") == "wrong bed");
  CHECK(text_in(history[2].change.fields, "struck") == "(not taken)");
  CHECK(history[2].change.why == "it was this bed");
}

TEST_CASE("scenario 08: a file from before a strike, months later, brings nothing back") {
  Farm2 farm;
  const File old = file_of(farm.office);
  strike_on(farm.ana.copy, farm.dose, "logged twice");
  farm.ana.copy.clock += 90 * kDay;
  const Hash digest = farm.book().digest();
  CHECK(take_file(farm.ana.copy, old).added == 0);
  CHECK(farm.book().digest() == digest);
  CHECK(struck(farm.ana.copy, farm.dose) == "logged twice");
  hand(farm.ana.copy, farm.office);
  CHECK(struck(farm.office, farm.dose) == "logged twice");
  CHECK(farm.both_agree());
}

TEST_CASE("scenario 09: created, struck, created anew with one name, in three syncs: two records everywhere") {
  Farm2 farm;
  const Id first = add(farm.book(), "rig", {text_field_value("name", "Cart")});
  hand(farm.ana.copy, farm.office);
  strike_on(farm.ana.copy, first, "sold");
  hand(farm.ana.copy, farm.office);
  const Id second = add(farm.book(), "rig", {text_field_value("name", "Cart")});
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    CHECK(got(copy->book->records("rig")).size() == 3);  // With the backpack.
    CHECK(struck(*copy, first) == "sold");
    CHECK(struck(*copy, second).empty());
  }
}

TEST_CASE(
    "scenario 10: both strike it with different reasons: struck, both reasons to look at, a third copy the same") {
  Farm2 farm;
  strike_on(farm.ana.copy, farm.dose, "logged twice");
  strike_on(farm.office, farm.dose, "wrong bed");
  exchange(farm.ana.copy, farm.office);
  Copy third("Marek's phone", 3);
  third.checks = begin_checks;
  third.open();
  hand(farm.office, third);
  for (const Copy* copy : std::initializer_list<const Copy*>{&farm.ana.copy, &farm.office, &third}) {
    CHECK_FALSE(struck(*copy, farm.dose).empty());
    CHECK(reviews(*copy->book, "review.differs") == 1);
    const Group strike = group_at(*copy, farm.dose, "struck");
    REQUIRE(strike.heads.size() == 2);
    CHECK(text_in(strike.heads[0].fields, "struck") != text_in(strike.heads[1].fields, "struck"));
  }
  CHECK(farm.both_agree());
  CHECK(agree(third, farm.office));
}

TEST_CASE(
    "scenario 35: a pass struck here, a dose of it from another phone: it stands, counts for waits, is in review") {
  Farm2 farm;
  const Going going{farm.ana.ana, "", false};
  const Id other = Farm2::paper_dose(farm.office, farm.load, farm.ana.beds[1], "2026-05-14T17:10:00-04:00",
                                     "2026-05-14T17:15:00-04:00");
  done(strike(farm.book(), farm.pass, "never happened", going));
  CHECK(struck(farm.ana.copy, farm.dose) == "never happened");  // Seen, so struck with it.
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    CHECK(struck(*copy, other).empty());
    CHECK(reviews(*copy->book, "review.late_child") == 1);
    const BedState bed = farm.states(*copy).beds[1];
    CHECK(bed.harvest.hold.until == std::optional(at("2026-05-15T17:15:00-04:00").at));
    CHECK(bed.last_tea);
  }
}
