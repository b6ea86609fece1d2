// Merge scenarios: struck here, edited there. Nothing is erased, nothing comes back by itself.
#include "book/questions.h"
#include "book/record_commands.h"
#include "book/report_data.h"
#include "book/settle_commands.h"
#include "book/totals.h"
#include "book/trace.h"
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
    CHECK(got(question_counts(*copy->book)).to_settle == 1);  // Struck too, or it stays: somebody has to say.
  }
}

TEST_CASE(
    "the preview of a file tells children that would stand although what they belong to is struck, on either side") {
  Farm2 farm;
  const auto late = [](const Copy& from, Copy& to) {
    TakeJob job(*to.book, file_of(from));
    while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
    REQUIRE(job.stage() == TakeJob::Stage::Planned);
    std::vector<PlanDiffers> found;
    for (const PlanDiffers& one : job.plan().differs)
      if (one.what == PlanDiffers::What::Late) found.push_back(one);
    return found;
  };
  const auto spray = [&](Copy& copy) {
    return Farm2::paper_dose(copy, farm.load, farm.ana.beds[1], "2026-05-14T17:10:00-04:00",
                             "2026-05-14T17:15:00-04:00");
  };
  const std::vector<PlanDiffers> one_dose = {{PlanDiffers::What::Late, farm.load, "load", "dose"}};
  SUBCASE("the parent struck here, the child there, and the other way round") {
    spray(farm.office);
    done(strike(farm.book(), farm.pass, "never happened", farm.ana.by_ana()));
    CHECK(late(farm.office, farm.ana.copy) == one_dose);
    CHECK(late(farm.ana.copy, farm.office) == one_dose);
    exchange(farm.ana.copy, farm.office);
    CHECK(reviews(farm.book(), "review.late_child") == 1);
    CHECK(late(farm.office, farm.ana.copy).empty());
  }
  SUBCASE("struck on both sides, or struck by the file that brings it") {
    spray(farm.office);
    hand(farm.office, farm.ana.copy);
    const Id other = spray(farm.ana.copy);
    done(strike(farm.book(), farm.pass, "never happened", farm.ana.by_ana()));
    CHECK(struck(farm.ana.copy, other) == "never happened");
    CHECK(late(farm.ana.copy, farm.office).empty());
  }
  SUBCASE("nothing is struck") {
    spray(farm.office);
    CHECK(late(farm.office, farm.ana.copy).empty());
  }
}

TEST_CASE(
    "a dose that came after its pass was struck brings along what it was sprayed out of: label, totals, paper, trace") {
  Farm2 farm(0);
  const Id material = farm.ana.material("Copper soap", "pesticide", true);
  farm.ana.label(material, "", "14 day", "48 h");
  const Id lot = farm.ana.lot(material, "PB1", "1 kg");
  add(farm.book(), "load-line",
      {reference_value("load", farm.load), reference_value("amount.lot", lot),
       quantity_value("amount.amount", "30 mL")});
  exchange(farm.ana.copy, farm.office);
  const Id late = Farm2::paper_dose(farm.office, farm.load, farm.ana.beds[1], "2026-05-14T17:10:00-04:00",
                                    "2026-05-14T17:15:00-04:00");
  done(strike(farm.book(), farm.pass, "never happened", farm.ana.by_ana()));
  const auto reaches = [&](const Copy& copy) {
    const auto holds = [](const Trace& trace, const Id& record) {
      return std::any_of(trace.nodes.begin(), trace.nodes.end(),
                         [&](const TraceNode& node) { return node.record == record; });
    };
    CHECK_FALSE(holds(got(trace_forward(*copy.book, lot)), farm.dose));
    CHECK(holds(got(trace_forward(*copy.book, farm.brew)), late) == holds(got(trace_forward(*copy.book, lot)), late));
    CHECK(holds(got(trace_backward(*copy.book, late)), lot) == holds(got(trace_forward(*copy.book, lot)), late));
    return holds(got(trace_forward(*copy.book, lot)), late);
  };
  const auto check = [&](bool counts) {
    CAPTURE(counts);
    for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
      const BedState bed = farm.states(*copy).beds[1];
      CHECK(bed.harvest.hold.until.has_value() == counts);
      CHECK(bed.entry.hold.until.has_value() == counts);
      if (counts) {
        CHECK(*bed.harvest.hold.until >= at("2026-05-28T00:00:00-04:00").at);  // By dates.
        CHECK(*bed.entry.hold.until == at("2026-05-16T17:15:00-04:00").at);
      }
      const FarmTotals totals = got(farm_totals(*copy->book, farm.ana.farm, {2026, 5, 14}, {2026, 5, 14}));
      CHECK(totals.tea.doses == (counts ? 1 : 0));
      const ReportData report = got(report_data(*copy->book, farm.ana.farm, {2026, 5, 14}, {2026, 5, 14}));
      REQUIRE(report.passes.size() == (counts ? 1 : 0));
      if (counts) {
        CHECK(report.passes[0].doses.size() == 1);
        CHECK(report.passes[0].struck.size() == 1);
        CHECK(report.passes[0].products.size() == 1);
      }
      CHECK(reaches(*copy) == counts);
    }
  };
  exchange(farm.ana.copy, farm.office);
  check(true);
  SUBCASE("it stays") {
    done(keep_child(farm.book(), late, "this one was sprayed", farm.ana.by_ana()));
    exchange(farm.ana.copy, farm.office);
    check(true);
  }
  SUBCASE("it is struck too") {
    done(strike(farm.book(), late, "never happened", farm.ana.by_ana()));
    exchange(farm.ana.copy, farm.office);
    check(false);
  }
}

TEST_CASE("a strike that is set aside with its record no longer makes a child late; who kept a child forgets nothing") {
  Farm2 farm;
  Copy marek("Marek's phone", 3);
  const Id rig = add(*farm.office.book, "rig", {text_field_value("name", "Cart")});
  hand(farm.office, marek);
  const Id walked = add(*marek.book, "calibration",
                        {reference_value("rig", rig), quantity_value("result.rate", "45 gal/acre"),
                         word_value("result.area", "bed-top")});
  edit(*marek.book, walked, {list_value("settled", {farm.dose.text()})});
  strike_on(farm.office, rig, "sold");
  hand(farm.office, farm.ana.copy);
  const auto file = got(farm.book().batches()).front().row;
  hand(marek, farm.ana.copy);
  CHECK(reviews(farm.book(), "review.late_child") == 1);
  REQUIRE(farm.book().set_aside(file, true));
  CHECK(reviews(farm.book(), "review.late_child") == 0);
  REQUIRE(farm.book().set_aside(file, false));
  CHECK(reviews(farm.book(), "review.late_child") == 1);
  done(keep_child(farm.book(), walked, "walked before it was sold", farm.ana.by_ana()));
  CHECK(reviews(farm.book(), "review.late_child") == 0);
  CHECK(got(farm.book().record(walked))->field("settled")->items.size() == 2);
}
