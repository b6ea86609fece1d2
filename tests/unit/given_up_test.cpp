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
  farm.check(1, true);  // One answer ends it for both: one question.
  CHECK(got(given_up_for_none(farm.book())).size() == 2);
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

TEST_CASE("what was given up for one that was given up: asked about is the last of them") {
  const auto id = [](std::uint8_t mark) {
    Id made;
    made.bytes = {mark};
    return made;
  };
  const auto asked = [&](std::vector<std::pair<int, std::vector<int>>> all) {
    GivenUpFor given_up;
    for (const auto& [dose, others] : all)
      for (const int other : others)
        given_up[id(static_cast<std::uint8_t>(dose))].push_back(id(static_cast<std::uint8_t>(other)));
    std::vector<int> marks;
    for (const Id& one : to_ask_about(given_up)) marks.push_back(one.bytes[0]);
    return marks;
  };
  CHECK(asked({}) == std::vector<int>{});
  CHECK(asked({{1, {9}}}) == std::vector<int>{1});                      // 9 does not stand, and was given up for none
  CHECK(asked({{1, {2}}, {2, {1}}}) == std::vector<int>{1});            // a ring
  CHECK(asked({{1, {2}}, {2, {9}}}) == std::vector<int>{2});            // a chain
  CHECK(asked({{1, {2}}, {2, {3}}, {3, {2}}}) == std::vector<int>{2});  // a chain into a ring
  CHECK(asked({{1, {2}}, {2, {3}}, {3, {1}}, {4, {8}}}) == std::vector<int>{1, 4});
  CHECK(asked({{1, {2, 9}}, {2, {1}}}) == std::vector<int>{1});
}

TEST_CASE("the preview of a file says what would be given up for none") {
  SprayedTwice farm;
  const auto would = [&](const Copy& from, Copy& to) {
    TakeJob job(*to.book, file_of(from));
    while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
    REQUIRE(job.stage() == TakeJob::Stage::Planned);
    std::vector<Id> doses;
    for (const PlanDiffers& one : job.plan().differs)
      if (one.what == PlanDiffers::What::GivenUp) doses.push_back(one.record);
    job.cancel();
    const std::size_t asked_before = static_cast<std::size_t>(farm.asked(to));
    hand(from, to);
    CHECK(doses.size() == static_cast<std::size_t>(farm.asked(to)) - asked_before);
    return doses;
  };
  SUBCASE("each copy kept another entry") {
    farm.same_work(farm.ana.copy, farm.dose);
    farm.same_work(farm.office, farm.other);
    CHECK(would(farm.office, farm.ana.copy) == std::vector<Id>{std::min(farm.dose, farm.other)});
    CHECK(would(farm.ana.copy, farm.office).size() == 1);
  }
  SUBCASE("the entry that was kept here is struck there") {
    farm.same_work(farm.ana.copy, farm.dose);
    strike_on(farm.office, farm.dose, "never sprayed");
    CHECK(would(farm.office, farm.ana.copy) == std::vector<Id>{farm.other});
    CHECK(would(farm.ana.copy, farm.office) == std::vector<Id>{farm.other});
  }
  SUBCASE("what was given up there is new here, the one that it was given up for struck here") {
    const Id third = Farm2::paper_dose(farm.ana.copy, farm.load, farm.ana.beds[0], "2026-05-14T17:06:00-04:00",
                                       "2026-05-14T17:11:00-04:00");
    done(answer_same_bed_twice(farm.book(), {farm.dose, third, TwiceAnswer::SameWork, farm.dose, {}, true, {}},
                               farm.by()));
    strike_on(farm.office, farm.dose, "never sprayed");
    CHECK(would(farm.ana.copy, farm.office) == std::vector<Id>{third});
  }
  SUBCASE("given up for one that comes with the same file and stands") {
    const Id third = Farm2::paper_dose(farm.ana.copy, farm.load, farm.ana.beds[0], "2026-05-14T17:06:00-04:00",
                                       "2026-05-14T17:11:00-04:00");
    done(answer_same_bed_twice(farm.book(), {farm.dose, third, TwiceAnswer::SameWork, third, {}, true, {}}, farm.by()));
    CHECK(would(farm.ana.copy, farm.office).empty());
  }
  SUBCASE("nothing crossed") {
    farm.same_work(farm.ana.copy, farm.dose);
    CHECK(would(farm.ana.copy, farm.office).empty());
    CHECK(would(farm.office, farm.ana.copy).empty());
  }
}
