// Copies that meet only through lines: what facts, strikes and people come to.
#include "book/fold.h"
#include "two_copies.h"

using namespace steep;
using namespace steep::test;

TEST_CASE("the same file twice brings nothing new") {
  Two farm;
  const auto batches = farm.office.book->batches()->size();
  const auto outcome = take_all(farm.office, farm.ana);
  CHECK(outcome.added == 0);
  CHECK(outcome.known == 2);
  CHECK(outcome.touched.empty());
  CHECK(farm.office.book->batches()->size() == batches);
  farm.same();
}

TEST_CASE("different groups of one record: both kept; one group: a conflict with both values, the same stand-in") {
  Two farm;
  edit(*farm.ana.book, farm.rig, {quantity_value("tank.volume", "4.5 gal")});
  edit(*farm.office.book, farm.rig, {quantity_value("swath", "30 in")});
  farm.same();
  CHECK_FALSE(differs(*farm.ana.book, farm.rig));
  CHECK(text_of(*farm.office.book, farm.rig, "tank.volume") == "4.5 gal");
  CHECK(text_of(*farm.ana.book, farm.rig, "swath") == "30 in");

  // Fields of one group are one fact: nobody wrote 5 gal with 1 pt that cannot be reached.
  edit(*farm.ana.book, farm.rig, {quantity_value("tank.volume", "5 gal")});
  edit(*farm.office.book, farm.rig, {quantity_value("tank.volume", "4.5 gal"), quantity_value("tank.dead", "1 pt")});
  farm.same();
  CHECK(differs(*farm.ana.book, farm.rig));
  const auto record = farm.ana.book->record(farm.rig);
  const Group* tank = nullptr;
  for (const Group& group : (*record)->groups)
    if (group.key == "tank") tank = &group;
  REQUIRE(tank);
  CHECK(tank->heads.size() == 2);
  CHECK(text_of(*farm.ana.book, farm.rig, "tank.volume") == text_of(*farm.office.book, farm.rig, "tank.volume"));
  CHECK(reviews(*farm.ana.book, "review.differs") == 1);
  auto wide = farm.office.book->db().query("SELECT differs FROM k_rig");
  REQUIRE(wide.next());
  CHECK(wide.text(0) == "tank");

  // Somebody who sees both settles it.
  edit(*farm.office.book, farm.rig, {quantity_value("tank.volume", "5 gal"), quantity_value("tank.dead", "1 pt")});
  farm.same();
  CHECK_FALSE(differs(*farm.ana.book, farm.rig));
  CHECK(reviews(*farm.ana.book, "review.differs") == 0);
}

TEST_CASE("equal amounts in other words are agreement: 1.5 gal = 192 fl oz (1 US gal = 128 US fl oz)") {
  Two farm;
  edit(*farm.ana.book, farm.rig, {quantity_value("tank.volume", "1.5 gal")});
  edit(*farm.office.book, farm.rig, {quantity_value("tank.volume", "192 fl oz")});
  farm.same();
  CHECK_FALSE(differs(*farm.ana.book, farm.rig));
  CHECK(farm.ana.book->history(farm.rig)->size() == 3);
}

TEST_CASE("two resolutions differ or agree") {
  Two farm;
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "A")});
  edit(*farm.office.book, farm.rig, {text_field_value("name", "B")});
  farm.same();
  const bool alike = true;
  for (const bool same : {alike, !alike}) {
    edit(*farm.ana.book, farm.rig, {text_field_value("name", "C")});
    edit(*farm.office.book, farm.rig, {text_field_value("name", same ? "C" : "D")});
    farm.same();
    CHECK(differs(*farm.ana.book, farm.rig) == !same);
  }
}

TEST_CASE("struck stays struck; who edited unaware goes to review; whoever saw it may restore") {
  Two farm;
  edit(*farm.ana.book, farm.rig, {text_field_value("struck", "sold")});
  edit(*farm.office.book, farm.rig, {text_field_value("name", "Backpack 2")});
  farm.same();
  CHECK((*farm.office.book->record(farm.rig))->struck == "sold");
  CHECK(reviews(*farm.office.book, "review.edited_unaware") == 1);
  auto wide = farm.office.book->db().query("SELECT struck, name FROM k_rig");
  REQUIRE(wide.next());
  CHECK(wide.text(0) == "sold");
  CHECK(wide.text(1) == "Backpack 2");

  edit(*farm.office.book, farm.rig, {not_taken("struck")});
  farm.same();
  CHECK((*farm.ana.book->record(farm.rig))->struck.empty());
  CHECK(reviews(*farm.ana.book, "review.edited_unaware") == 0);
  CHECK(farm.ana.book->history(farm.rig)->size() == 4);

  // Both strike it: struck, and two reasons to look at.
  edit(*farm.ana.book, farm.rig, {text_field_value("struck", "sold")});
  edit(*farm.office.book, farm.rig, {text_field_value("struck", "broken")});
  farm.same();
  CHECK_FALSE((*farm.ana.book->record(farm.rig))->struck.empty());
  CHECK(reviews(*farm.ana.book, "review.differs") == 1);
  // An edit by somebody who knows of the strike is no surprise.
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "Backpack 3")});
  CHECK(reviews(*farm.ana.book, "review.edited_unaware") == 0);
}

TEST_CASE("a child that comes after its parent was struck stands, and goes to review on every copy") {
  Two farm;
  edit(*farm.ana.book, farm.rig, {text_field_value("struck", "sold")});
  const Id calibration = add(*farm.office.book, "calibration", {reference_value("rig", farm.rig)});
  CHECK(reviews(*farm.office.book, "review.late_child") == 0);
  farm.same();
  for (const Book* book : {farm.ana.book.get(), farm.office.book.get()}) {
    CHECK((*book->record(calibration))->struck.empty());
    CHECK(reviews(*book, "review.late_child") == 1);
  }
  REQUIRE(farm.ana.book->rebuild());
  CHECK(reviews(*farm.ana.book, "review.late_child") == 1);
  SUBCASE("struck too") { edit(*farm.ana.book, calibration, {text_field_value("struck", "sold")}); }
  SUBCASE("the parent restored") { edit(*farm.ana.book, farm.rig, {not_taken("struck")}); }
  SUBCASE("looked at") { edit(*farm.ana.book, calibration, {list_value("settled", {farm.rig.text()})}); }
  CHECK(reviews(*farm.ana.book, "review.late_child") == 0);
}

TEST_CASE("a form opened before a file came in overrules nothing it did not show") {
  Two farm;
  const Save opened = edit_of(*farm.office.book, farm.rig, {text_field_value("name", "Cart")});
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "Boom")});
  take_all(farm.office, farm.ana);
  write(*farm.office.book, opened);
  CHECK(differs(*farm.office.book, farm.rig));
  farm.same();
}

TEST_CASE("a clock of 2038 cannot hold a group") {
  Two farm;
  farm.ana.clock = 2'147'483'647'000;
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "from the future")});
  take_all(farm.office, farm.ana);
  edit(*farm.office.book, farm.rig, {text_field_value("name", "today")});
  farm.same();
  CHECK(text_of(*farm.ana.book, farm.rig, "name") == "today");
  CHECK_FALSE(differs(*farm.ana.book, farm.rig));
  // Our own clock followed by no more than a day.
  const auto history = farm.office.book->history(farm.rig);
  CHECK(history->back().change.t < farm.office.clock + 2 * kDay);
  CHECK(history->back().change.fields[0].text == "today");
}

TEST_CASE("one id in two parts is two records, and a person is told") {
  Two farm;
  ForeignLane far(9, Part{{}, 2026});
  far.add(farm.rig, "rig", {text_field_value("name", "double")});
  REQUIRE(take(*farm.ana.book, {far.section()}));
  CHECK(reviews(*farm.ana.book, "review.two_parts") == 2);
  CHECK(text_of(*farm.ana.book, farm.rig, "name") == "double");  // 'house/2026' sorts before 'house/base'.
  REQUIRE(farm.ana.book->set_aside((*farm.ana.book->batches())[0].row, true));
  CHECK(reviews(*farm.ana.book, "review.two_parts") == 0);
  CHECK(text_of(*farm.ana.book, farm.rig, "name") == "Backpack");
}

TEST_CASE("history goes by cause first, time second") {
  Two farm;
  farm.ana.clock = 2'147'483'647'000;
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "one")});
  take_all(farm.office, farm.ana);
  edit(*farm.office.book, farm.rig, {text_field_value("name", "two")});
  farm.same();
  const auto history = farm.ana.book->history(farm.rig);
  REQUIRE(history->size() == 3);
  CHECK((*history)[1].change.fields[0].text == "one");
  CHECK((*history)[2].change.fields[0].text == "two");
  CHECK((*farm.office.book->history(farm.rig))[1].clock_doubtful);
  CHECK((*history)[1].mine);
  CHECK_FALSE((*history)[2].mine);
}

TEST_CASE("300 versions of one group: one conflict, settled by one save") {
  Two farm;
  const auto seen = heads(*farm.ana.book, farm.rig);
  ForeignLane far(9);
  for (int i = 0; i < 300; ++i)
    far.add(farm.rig, "rig", {text_field_value("name", "version " + std::to_string(i))}, seen);
  REQUIRE(take(*farm.ana.book, {far.section()}));
  CHECK(heads(*farm.ana.book, farm.rig).size() == 301);  // The tank is still the first line's.
  CHECK(reviews(*farm.ana.book, "review.differs") == 1);
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "settled")});
  CHECK_FALSE(differs(*farm.ana.book, farm.rig));
  farm.same();
}
