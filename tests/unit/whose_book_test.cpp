// Whose book this is, which copy wrote what, and what others confirm: through files taken, set aside and restored.
#include "book/pass_end.h"
#include "book/questions.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

bool lacks_house(const Copy& copy) {
  const auto open = got(open_questions(*copy.book));
  return std::any_of(open.begin(), open.end(),
                     [](const OpenQuestion& question) { return question.word == "question.no-house"_w; });
}

/// Another business's file and a demo's are refused.
void check_refuses_others(Copy& copy) {
  FarmBook valley(1, 2, "Valley", 41);
  const auto refused = take_in(*copy.book, file_of(valley.copy));
  REQUIRE_FALSE(refused);
  CHECK(refused.error().word.key == "take.other_book");
  CHECK(refused.error().values.back() == "Alder Reach");
  Copy demo("Demo", 42);
  REQUIRE(demo.book->start("Alder Reach", true));
  CHECK(refusal(take_in(*copy.book, file_of(demo))) == "take.demo_real");
  CHECK(copy.book->joined().size() == 1);
}

}  // namespace

TEST_CASE("the file that a book began with cannot be set aside, others can") {
  Farm2 farm;
  const Hash digest = farm.office.book->digest();
  const auto first = got(farm.office.book->batches()).back().row;
  CHECK(refusal(farm.office.book->set_aside(first, true)) == "book.begins_here");
  CHECK(farm.office.book->digest() == digest);
  CHECK(farm.office.book->files_aside() == 0);
  add(farm.book(), "rig", {text_field_value("name", "Cart")});
  hand(farm.ana.copy, farm.office);
  REQUIRE(farm.office.book->set_aside(got(farm.office.book->batches()).front().row, true));
  check_refuses_others(farm.office);
}

TEST_CASE("a book whose own record was set aside, by an older program, stays that business's book") {
  Farm2 farm;
  const Id id = farm.office.book->id();
  farm.office.tamper("UPDATE batch SET aside=1");
  farm.office.open();
  REQUIRE(farm.office.book->rebuild());
  CHECK(farm.office.book->is_started());
  CHECK_FALSE(farm.office.book->has_house());
  CHECK(farm.office.book->id() == id);
  CHECK(refusal(farm.office.book->start("Another", false)) == "journal.write.started");
  check_refuses_others(farm.office);
  CHECK(farm.office.book->set_aside(got(farm.office.book->batches()).back().row, false));
  CHECK(farm.office.book->has_house());
  CHECK(farm.both_agree());
}

TEST_CASE("a file of parts without the house makes the empty book that business's, and says what is missing") {
  Farm2 farm;
  Copy phone("Marek's phone", 43);
  GiveRequest ground;
  ground.parts = {*Part::parse(farm.ana.farm.text() + "/base")};
  CHECK(hand(farm.ana.copy, phone, ground).added > 0);
  phone.open();
  CHECK(phone.book->is_started());
  CHECK(phone.book->id() == farm.book().id());
  CHECK(phone.book->name() == "Alder Reach");
  CHECK_FALSE(phone.book->has_house());
  CHECK(lacks_house(phone));
  check_refuses_others(phone);
  FarmBook valley(1, 2, "Valley", 44);
  CHECK(refusal(take_in(*phone.book, file_of(valley.copy), "Alder Reach")) == "take.no_house");

  hand(farm.ana.copy, phone);
  CHECK(phone.book->has_house());
  CHECK_FALSE(lacks_house(phone));
  CHECK(agree(farm.ana.copy, phone));
}

TEST_CASE("a file without a line makes nobody's book of an empty one") {
  Farm2 farm;
  Copy phone("Marek's phone", 45);
  GiveRequest nothing;
  nothing.parts = {*Part::parse(farm.ana.farm.text() + "/1999")};
  CHECK(hand(farm.ana.copy, phone, nothing).added == 0);
  CHECK_FALSE(phone.book->is_started());
  FarmBook valley(1, 2, "Valley", 46);
  hand(valley.copy, phone);
  CHECK(phone.book->id() == valley.book().id());
}

TEST_CASE("what the office has of a copy's former life confirms nothing that it wrote since its restore") {
  Farm2 farm;
  hand(farm.office, farm.ana.copy);
  const auto confirmed = got(farm.book().handed_over()).confirmed;
  REQUIRE(confirmed > 0);
  auto backup = farm.ana.copy.clone("Ana's phone", 80, true);
  for (const char* name : {"Lost 1", "Lost 2", "Lost 3"}) add(farm.book(), "rig", {text_field_value("name", name)});
  hand(farm.ana.copy, farm.office);
  for (const char* name : {"Own 1", "Own 2"}) add(*backup->book, "rig", {text_field_value("name", name)});
  const Id former = backup->book->copy();

  CHECK(hand(farm.office, *backup).twin);
  auto over = got(backup->book->handed_over());
  CHECK(over.confirmed == confirmed);
  CHECK(over.not_given == 2);
  CHECK(over.given == 0);

  // The former self's own file confirms nothing either, and is no other copy's.
  hand(farm.ana.copy, *backup);
  CHECK(got(backup->book->handed_over()).not_given == 2);
  for (const Book::Peer& peer : got(backup->book->peers())) CHECK(peer.copy != former);

  // Both branches' ends come back once the office has them.
  const Given given = got(give(*backup->book, {}));
  REQUIRE(backup->book->note_given(given.tips, false));
  CHECK(got(backup->book->handed_over()).given == 2);
  take_file(farm.office, given.file);
  hand(farm.office, *backup);
  over = got(backup->book->handed_over());
  CHECK(over.confirmed == confirmed + 2);
  CHECK(over.not_given + over.given == 0);
}

TEST_CASE("a taken file set aside makes no difference between what it replaced and what replaced it") {
  Farm2 farm;
  const Id rig = farm.ana.rig;
  edit(*farm.office.book, rig, {text_field_value("name", "Backpack B")});
  hand(farm.office, farm.ana.copy);
  edit(farm.book(), rig, {text_field_value("name", "Backpack C")});
  REQUIRE(farm.book().set_aside(got(farm.book().batches()).front().row, true));
  CHECK_FALSE(differs(farm.book(), rig));
  CHECK(text_of(farm.book(), rig, "name") == "Backpack C");
  CHECK(group_at(farm.ana.copy, rig, "name").heads.size() == 1);
  CHECK(got(farm.book().check()).tables_match);
  // What nobody replaced comes back.
  edit(*farm.office.book, rig, {quantity_value("tank.volume", "5 gal"), quantity_value("tank.dead", "0.1 gal")});
  hand(farm.office, farm.ana.copy);
  edit(farm.book(), rig, {text_field_value("name", "Backpack D")});
  REQUIRE(farm.book().set_aside(got(farm.book().batches()).front().row, true));
  CHECK(text_of(farm.book(), rig, "tank.volume") == "4 gal");
  CHECK_FALSE(differs(farm.book(), rig));
  for (const Book::Batch& one : got(farm.book().batches())) REQUIRE(farm.book().set_aside(one.row, false));
  hand(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
}

TEST_CASE("no file is set aside or brought back while a pass is open") {
  Farm2 farm;
  add(*farm.office.book, "rig", {text_field_value("name", "Cart")});
  hand(farm.office, farm.ana.copy);
  const auto batch = got(farm.book().batches()).front().row;
  REQUIRE(farm.book().set_aside(batch, true));
  farm.ana.start(farm.ana.choices(farm.brew, {farm.ana.beds[1]}));
  const Hash digest = farm.book().digest();
  CHECK(refusal(farm.book().set_aside(batch, false)) == "book.pass_open_aside");
  CHECK(farm.book().files_aside() == 1);
  CHECK(farm.book().digest() == digest);
}
