// One work in two entries, of which copies each gave up the other: it never disappears (I19), and a person is asked.
#include "book/given_up.h"

#include "book/questions.h"
#include "book/same_bed.h"
#include "book/settle_commands.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Ana and the office both wrote down the spray of bed 1; both know both entries.
struct SprayedTwice : Farm2 {
  Id other_pass, other;

  SprayedTwice() : Farm2(30) {
    other_pass = paper_pass(office, "9");
    Id other_load;
    for (const Record& record : got(office.book->records("load")))
      if (record.field("pass")->text == other_pass.text()) other_load = record.id;
    other = paper_dose(office, other_load, ana.beds[0], "2026-05-14T17:05:00-04:00", "2026-05-14T17:10:00-04:00");
    exchange(ana.copy, office);
    REQUIRE(got(same_bed_pairs(book())).size() == 1);
    REQUIRE(wait_end(ana.copy));
  }
  Going by() const { return {ana.ana, {}, false}; }
  /// 'The same work': `kept` stands.
  void same_work(Copy& copy, const Id& kept) const {
    done(answer_same_bed_twice(*copy.book, {dose, other, TwiceAnswer::SameWork, kept, {}, true, {}}, by()));
  }
  void crossed() {
    same_work(ana.copy, dose);
    same_work(office, other);
    exchange(ana.copy, office);
    REQUIRE(both_agree());
  }
  int asked(const Copy& copy) const {
    const auto open = got(open_questions(*copy.book));
    return static_cast<int>(std::count_if(open.begin(), open.end(), [](const OpenQuestion& question) {
      return question.kind == QuestionKind::GivenUp && question.is_to_settle();
    }));
  }
  /// On both copies alike.
  void check(int questions, bool waits) const {
    for (const Copy* copy : {&ana.copy, &office}) {
      CAPTURE(copy->book->copy_label());
      CHECK(asked(*copy) == questions);
      CHECK(wait_end(*copy).has_value() == waits);
    }
  }
};

}  // namespace

TEST_CASE("given up crosswise: each copy kept another entry; the work counts for waits and is asked about") {
  SprayedTwice farm;
  const Moment end = *farm.wait_end(farm.ana.copy);
  farm.crossed();
  CHECK_FALSE(struck(farm.office, farm.dose).empty());
  CHECK_FALSE(struck(farm.office, farm.other).empty());
  farm.check(2, true);
  CHECK(farm.wait_end(farm.ana.copy) == end);
  CHECK(farm.wait_end(farm.office) == end);

  SUBCASE("one of them counts") {
    CHECK(refusal(count_given_up(farm.book(), farm.dose, " ", farm.by())) == "record.reason-asked");
    done(count_given_up(farm.book(), farm.dose, "sprayed once", farm.by()));
    exchange(farm.ana.copy, farm.office);
    farm.check(0, true);
    CHECK(struck(farm.office, farm.dose).empty());
    CHECK_FALSE(struck(farm.office, farm.other).empty());
    CHECK(got(same_bed_pairs(farm.book())).empty());
  }
  SUBCASE("it never happened") {
    done(leave_given_up(farm.book(), farm.other, "the sprayer was empty", farm.by()));
    exchange(farm.ana.copy, farm.office);
    farm.check(0, false);
    CHECK(struck(farm.office, farm.dose) == "the sprayer was empty");
    CHECK(struck(farm.office, farm.other) == "the sprayer was empty");
  }
  SUBCASE("one copy says that it counts, another that it never happened: it waits until that is settled") {
    done(count_given_up(farm.book(), farm.dose, "sprayed once", farm.by()));
    done(leave_given_up(*farm.office.book, farm.dose, "the sprayer was empty", farm.by()));
    exchange(farm.ana.copy, farm.office);
    farm.check(0, true);
    CHECK(differs(farm.book(), farm.dose));
  }
  SUBCASE("each copy says that another of them counts: the same bed twice again") {
    done(count_given_up(farm.book(), farm.dose, "sprayed once", farm.by()));
    done(count_given_up(*farm.office.book, farm.other, "sprayed once", farm.by()));
    exchange(farm.ana.copy, farm.office);
    farm.check(0, true);
    CHECK(got(same_bed_pairs(farm.book())).size() == 1);
  }
  CHECK(farm.both_agree());
}

TEST_CASE("given up for an entry that somebody struck, skipped or moved without knowing: it still counts") {
  SprayedTwice farm;
  farm.same_work(farm.ana.copy, farm.dose);
  SUBCASE("the pass that holds it is struck") {
    done(strike(*farm.office.book, farm.pass, "never sprayed", farm.by()));
    exchange(farm.ana.copy, farm.office);
    farm.check(1, true);
    done(leave_given_up(farm.book(), farm.other, "neither was", farm.by()));
    exchange(farm.ana.copy, farm.office);
    farm.check(0, false);
  }
  SUBCASE("it was skipped") {
    auto what = farm.what(farm.load, farm.ana.beds[0], "0 ft", "100 ft", not_taken("what.volume"), "skipped");
    done(correct(*farm.office.book, farm.dose, std::move(what), {}, "walked past it", farm.by()));
    exchange(farm.ana.copy, farm.office);
    farm.check(1, true);
  }
  SUBCASE("it was on another bed") {
    auto what = farm.what(farm.load, farm.ana.beds[1], "0 ft", "100 ft", not_taken("what.volume"), "done");
    done(correct(*farm.office.book, farm.dose, std::move(what), {}, "the next bed", farm.by()));
    exchange(farm.ana.copy, farm.office);
    farm.check(1, true);
  }
  SUBCASE("nothing befell it") {
    exchange(farm.ana.copy, farm.office);
    farm.check(0, true);
  }
  CHECK(farm.both_agree());
}

TEST_CASE("given up for an entry whose file is set aside: it counts meanwhile") {
  SprayedTwice farm;
  farm.same_work(farm.ana.copy, farm.other);
  const auto batch = got(farm.book().batches()).front().row;
  REQUIRE(farm.book().set_aside(batch, true));
  CHECK(farm.asked(farm.ana.copy) == 1);
  CHECK(farm.wait_end(farm.ana.copy));
  REQUIRE(farm.book().set_aside(batch, false));
  CHECK(farm.asked(farm.ana.copy) == 0);
}
