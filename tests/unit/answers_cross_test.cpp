// What two people decide at the same time about one thing, or about different ones, on copies that meet through files.
#include "book/audit.h"
#include "book/enter.h"
#include "book/questions.h"
#include "book/settle_commands.h"
#include "book/things.h"
#include "book/twins.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Ana's phone and the office, and rigs of one name that both know.
struct Alike : Farm2 {
  std::vector<Id> hoses;

  explicit Alike(std::size_t n) {
    for (std::size_t i = 0; i < n; ++i) hoses.push_back(add(book(), "rig", {text_field_value("name", "Hose")}));
    hand(ana.copy, office);
  }
  Going by() const { return {ana.ana, {}, false}; }
  Book& desk() { return *office.book; }
  int asked(const Book& of, std::string_view word) const {
    const auto open = got(open_questions(of));
    return static_cast<int>(
        std::count_if(open.begin(), open.end(), [&](const OpenQuestion& q) { return q.word.key == word; }));
  }
  void meet() {
    exchange(ana.copy, office);
    REQUIRE(both_agree());
  }
};

}  // namespace

TEST_CASE("three of one name: every pair is asked about, whatever was said of another") {
  Alike farm(3);
  CHECK(farm.asked(farm.book(), "question.same-thing") == 3);
  done(say_not_same(farm.book(), farm.hoses[1], farm.hoses[0], farm.by()));
  done(say_not_same(farm.book(), farm.hoses[1], farm.hoses[2], farm.by()));
  CHECK(farm.asked(farm.book(), "question.same-thing") == 1);
}

TEST_CASE("names are alike whatever their capitals, beyond ASCII too") {
  Farm2 farm;
  add(farm.book(), "person", {text_field_value("name", "José Núñez")});
  add(farm.book(), "person", {text_field_value("name", "JOSÉ NÚÑEZ")});
  const auto open = got(open_questions(farm.book()));
  CHECK(std::count_if(open.begin(), open.end(),
                      [](const OpenQuestion& q) { return q.kind == QuestionKind::SameThing; }) == 1);
}

TEST_CASE("answers about different pairs are no difference: both hold on every copy") {
  Alike farm(3);
  done(say_not_same(farm.book(), farm.hoses[1], farm.hoses[0], farm.by()));
  done(say_not_same(farm.desk(), farm.hoses[1], farm.hoses[2], farm.by()));
  farm.meet();
  for (Book* book : {&farm.book(), &farm.desk()}) {
    CHECK_FALSE(differs(*book, farm.hoses[1]));
    CHECK(reviews(*book, "review.differs") == 0);
    CHECK(farm.asked(*book, "question.same-thing") == 1);
    CHECK(got(book->record(farm.hoses[1]))->field("not_same")->items.size() == 2);
    REQUIRE(book->rebuild());
    CHECK(farm.asked(*book, "question.same-thing") == 1);
    CHECK(got(book->check()).tables_match);
  }
  // The next answer has all of them in it, as one head again.
  done(say_not_same(farm.desk(), farm.hoses[1], farm.ana.rig, farm.by()));
  CHECK(group_at(farm.office, farm.hoses[1], "not_same").heads.size() == 1);
  CHECK(got(farm.desk().record(farm.hoses[1]))->field("not_same")->items.size() == 3);
}

TEST_CASE("two copies each join another start: the book answers to all three") {
  FarmBook ana(1, 2), valley(1, 2, "Valley", 31), hill(1, 2, "Hill", 32);
  edit(valley.book(), valley.book().id(), {text_field_value("name", "Valley Farm")});
  edit(hill.book(), hill.book().id(), {text_field_value("name", "Hill Farm")});
  Copy office("Office", 33);
  hand(ana.copy, office);
  take_file(ana.copy, file_of(valley.copy), "Valley Farm");
  take_file(office, file_of(hill.copy), "Hill Farm");
  exchange(ana.copy, office);
  Copy third("Tablet", 34);
  hand(office, third);
  for (const Copy* copy : {&ana.copy, &office, &third}) {
    CAPTURE(copy->book->copy_label());
    CHECK(copy->book->joined().size() == 3);
    CHECK(reviews(*copy->book, "review.differs") == 0);
    CHECK(agree(ana.copy, *copy));
  }
}

TEST_CASE("two copies join the same two, each the other way: one of them is shown, the same on both") {
  Alike farm(2);
  const Id shown = std::min(farm.hoses[0], farm.hoses[1]), hidden = std::max(farm.hoses[0], farm.hoses[1]);
  done(join_same(farm.book(), farm.hoses[0], farm.hoses[1], "one hose", farm.by()));
  done(join_same(farm.desk(), farm.hoses[1], farm.hoses[0], "one hose", farm.by()));
  farm.meet();
  for (Book* book : {&farm.book(), &farm.desk()}) {
    CHECK(got(find_record(*book, "rig", "Hose", {})) == shown);
    CHECK(farm.asked(*book, "question.same-thing") == 0);
  }
  // Parted once, they are two again.
  done(part_same(farm.book(), hidden, "two hoses", farm.by()));
  farm.meet();
  CHECK(refusal(find_record(farm.desk(), "rig", "Hose", {})) == "enter.several");
}

TEST_CASE("what is joined with a record that was struck is found under its own name again") {
  Alike farm(2);
  done(join_same(farm.book(), farm.hoses[0], farm.hoses[1], "one hose", farm.by()));
  done(strike(farm.desk(), farm.hoses[1], "lost", farm.by()));
  farm.meet();
  CHECK(got(find_record(farm.book(), "rig", "Hose", {})) == farm.hoses[0]);
}

TEST_CASE("one copy says that two are one, another that they are two: a person is asked, and either answer ends it") {
  Alike farm(2);
  done(join_same(farm.book(), farm.hoses[0], farm.hoses[1], "one hose", farm.by()));
  done(say_not_same(farm.desk(), farm.hoses[1], farm.hoses[0], farm.by()));
  farm.meet();
  CHECK(farm.asked(farm.book(), "question.one-and-two") == 1);
  CHECK(farm.asked(farm.desk(), "question.one-and-two") == 1);
  SUBCASE("one") {
    done(join_same(farm.desk(), farm.hoses[0], farm.hoses[1], "looked at it", farm.by()));
    farm.meet();
    CHECK(got(find_record(farm.book(), "rig", "Hose", {})) == farm.hoses[1]);
  }
  SUBCASE("two") {
    done(say_not_same(farm.desk(), farm.hoses[0], farm.hoses[1], farm.by()));
    farm.meet();
    CHECK(refusal(find_record(farm.book(), "rig", "Hose", {})) == "enter.several");
  }
  CHECK(farm.asked(farm.book(), "question.one-and-two") == 0);
  CHECK(farm.asked(farm.book(), "question.same-thing") == 0);
  CHECK(farm.asked(farm.desk(), "question.one-and-two") == 0);
}

TEST_CASE("a block that is parted again takes the beds along that were joined with it, and no other") {
  FarmBook laptop(1, 4, "Laptop", 21), phone(1, 4, "Ana's phone", 22);
  take_file(laptop.copy, file_of(phone.copy), "Alder Reach");
  const Going by{laptop.ana, {}, false};
  const auto block_of = [&](const FarmBook& farm) { return got(read_bed(laptop.book(), farm.beds[0])).block; };
  // Bed 1 was joined before, by a decision of its own.
  done(join_same(laptop.book(), laptop.beds[0], phone.beds[0], "walked it", by));
  done(join_ground(laptop.book(), block_of(laptop), block_of(phone), "one field", by));
  for (const TwinBeds& pair : got(twin_beds(laptop.book()))) CHECK(pair.said);
  hand(laptop.copy, phone.copy);
  SUBCASE("parted") { done(part_same(phone.book(), block_of(laptop), "two fields", by)); }
  SUBCASE("said to be two") { done(say_not_same(phone.book(), block_of(phone), block_of(laptop), by)); }
  hand(phone.copy, laptop.copy);
  REQUIRE(agree(laptop.copy, phone.copy));
  int said = 0;
  for (const TwinBeds& pair : got(twin_beds(laptop.book()))) said += pair.said;
  CHECK(said == 1);
  CHECK(got(laptop.book().record(laptop.beds[0]))->field("same_as")->text == phone.beds[0].text());
}

TEST_CASE("all of one side: two phones of one label are told apart, and asked about") {
  Alike farm(2);
  Copy second("Office", 5);
  hand(farm.ana.copy, second);
  edit(farm.book(), farm.hoses[0], {text_field_value("name", "Hose A")});
  edit(farm.desk(), farm.hoses[0], {text_field_value("name", "Hose B")});
  edit(farm.book(), farm.hoses[1], {text_field_value("name", "Hose C")});
  edit(*second.book, farm.hoses[1], {text_field_value("name", "Hose D")});
  hand(farm.office, farm.ana.copy);
  hand(second, farm.ana.copy);
  CHECK(got(sides(farm.book())).size() == 3);
  const auto which = side_called(farm.book(), "Office");
  REQUIRE_FALSE(which);
  CHECK(which.error().word.key == "settle.which-side");
  const Side side = got(side_called(farm.book(), second.book->copy().text()));
  CHECK(side.called != "Office");
  CHECK(side.facts == 1);
  CHECK(got(side_called(farm.book(), side.called)).copy == side.copy);
  done(settle_side(farm.book(), side.copy, "it has the papers", farm.by()));
  CHECK(text_of(farm.book(), farm.hoses[1], "name") == "Hose D");
  CHECK(differs(farm.book(), farm.hoses[0]));  // The other office's version is not swept along.
}

TEST_CASE("the audit of a kind has records too that stand only in a file set aside") {
  Alike farm(1);
  add(farm.desk(), "vessel", {text_field_value("name", "Brewer")});
  hand(farm.office, farm.ana.copy);
  const std::size_t rows = got(audit_table(farm.book(), {.kind = "vessel"})).rows.size();
  const std::size_t brews = got(audit_table(farm.book(), {.kind = "brew"})).rows.size();
  REQUIRE(rows == 1);
  REQUIRE(farm.book().set_aside(got(farm.book().batches()).front().row, true));
  CHECK(got(audit_table(farm.book(), {.kind = "vessel"})).rows.size() == rows);
  CHECK(got(audit_table(farm.book(), {.kind = "brew"})).rows.size() == brews);
}
