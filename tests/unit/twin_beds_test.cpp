// One piece of ground in several records (scenarios 25 and 33): what was done on one holds on the other, everywhere
// that a wait is asked for, until somebody says that they are two. Copies meet through files alone.
#include "book/bed_page.h"
#include "book/checks.h"
#include "book/enter.h"
#include "book/report_data.h"
#include "book/same_bed.h"
#include "book/settle_commands.h"
#include "book/today.h"
#include "book/totals.h"
#include "book/trace.h"
#include "book/twins.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

constexpr std::string_view kStart = "2026-05-14T17:04:00-04:00", kFinish = "2026-05-14T17:09:00-04:00";

/// A pass of tea on leaves with one load, entered after the fact.
Id load_of(FarmBook& farm, std::string number) {
  const Id brew = farm.brew();
  const Id pass =
      add(farm.book(), "pass",
          {reference_value("farm", farm.farm), number_value("number", std::move(number)), word_value("aim", "leaf"),
           reference_value("rig", farm.rig), instant_value("start", at("2026-05-14T17:00:00-04:00")),
           instant_value("finish", at("2026-05-14T18:00:00-04:00"))});
  return add(farm.book(), "load",
             {reference_value("pass", pass), number_value("number", "1"), reference_value("mix.brew", brew),
              quantity_value("mix.tea", "0.5 gal"), quantity_value("mix.water", "0.5 gal")});
}

/// Phone and laptop each started the farm (scenario 33): North, beds N1 … N4 of 100 ft. The laptop waits two days
/// after tea, the phone one. The laptop sprayed its N1.
struct TwoStarts {
  FarmBook phone{1, 4}, laptop{2, 4, "Laptop", 22};
  Id load, dose;

  TwoStarts() {
    load = load_of(laptop, "3");
    dose = Farm2::paper_dose(laptop.copy, load, laptop.beds[0], kStart, kFinish);
    phone.copy.clock = laptop.copy.clock = at("2026-05-14T18:30:00-04:00").at.ms;
  }
  void meet() {
    take_file(laptop.copy, file_of(phone.copy), phone.book().name());
    hand(laptop.copy, phone.copy);
    REQUIRE(agree(laptop.copy, phone.copy));
  }
  /// On both copies and both farms alike.
  template <class Check>
  void everywhere(Check check) {
    for (const Copy* copy : {&phone.copy, &laptop.copy})
      for (const FarmBook* farm : {&phone, &laptop}) {
        CAPTURE(copy->book->copy_label());
        CAPTURE(farm->copy.book->copy_label());
        check(*copy->book, *farm);
      }
  }
  Id block(const FarmBook& farm) { return got(read_bed(phone.book(), farm.beds[0])).block; }
  BedStates states(const Book& book, const FarmBook& farm) { return got(bed_states(book, farm.farm, phone.now())); }
};

Moment after(std::string_view finish, int days) { return at(finish).at + days * kDay; }

Id pick(FarmBook& farm, const Id& bed, std::string_view when) {
  return add(farm.book(), "harvest",
             {reference_value("bed", bed), quantity_value("amount", "18 lb"), instant_value("at", at(when))});
}

}  // namespace

TEST_CASE("scenario 33: two starts meet: blocks with beds of equal names are offered as one, once, on every copy") {
  TwoStarts two;
  two.meet();
  for (const Copy* copy : {&two.phone.copy, &two.laptop.copy}) {
    int offered = 0;
    for (const OpenQuestion& question : got(open_questions(*copy->book))) {
      if (question.word != "question.same-ground"_w) continue;
      ++offered;
      CHECK(question.values[1] == "4");
      CHECK(std::set<Id>{question.record, question.other} == std::set<Id>{two.block(two.phone), two.block(two.laptop)});
    }
    CHECK(offered == 1);
    CHECK(got(twin_beds(*copy->book)).size() == 4);
  }
}

TEST_CASE(
    "scenario 33: offered as one: the wait stands on both farms' bed on both copies, by the longer of both rules") {
  TwoStarts two;
  two.meet();
  two.everywhere([&](const Book& book, const FarmBook& farm) {
    const BedStates states = two.states(book, farm);
    const BedState* state = states.bed(farm.beds[0]);
    REQUIRE(state);
    CHECK(state->harvest.hold.until == std::optional(after(kFinish, 2)));
    CHECK(state->harvest.source()->dose == two.dose);
    CHECK(state->last_tea->dose == two.dose);
    CHECK(state->says == StripSays::NoHarvest);
    CHECK(state->to_settle == 0);  // Two rules stand side by side; nobody disputes the dose.
    CHECK_FALSE(states.bed(farm.beds[1])->holds_harvest(states.at));
    CHECK(states.no_harvest == 1);
  });
}

TEST_CASE("a hold set by hand on one record of the ground closes the other") {
  TwoStarts two;
  two.meet();
  done(set_hold(two.phone.book(), two.phone.beds[2], true, true, std::nullopt, "flooded", two.phone.by_ana()));
  exchange(two.phone.copy, two.laptop.copy);
  two.everywhere([&](const Book& book, const FarmBook& farm) {
    const BedStates states = two.states(book, farm);
    CHECK(states.bed(farm.beds[2])->holds_entry(states.at));
    CHECK(states.bed(farm.beds[2])->set_by_hand);
    const Today today = got(read_today(book, states, farm.ana, states.at));
    REQUIRE(today.closures.size() == 1);
    CHECK(today.closures[0].beds == std::vector<Id>{farm.beds[2]});
  });
}

TEST_CASE("'picked inside a wait' is said when the picking is entered on the other record of the ground") {
  TwoStarts two;
  two.meet();
  HarvestGiven given;
  given.bed = two.phone.beds[0];
  given.amount = q("18 lb");
  const Outcome asked = got(add_harvest(two.phone.book(), given, two.phone.by_ana()));
  CHECK_FALSE(asked.written);
  CHECK(has_caution(asked.cautions, "check.picked-inside-wait"));
  given.bed = two.phone.beds[1];
  CHECK(got(add_harvest(two.phone.book(), given, two.phone.by_ana())).written);
}

TEST_CASE("'picked inside a wait' is found when the starts meet, and taken back when they are said to be two") {
  TwoStarts two;
  const Id picked = pick(two.phone, two.phone.beds[0], "2026-05-16T07:00:00-04:00");  // One day is over, two are not.
  pick(two.phone, two.phone.beds[0], "2026-05-16T17:09:00-04:00");                    // The end itself is over.
  pick(two.phone, two.phone.beds[1], "2026-05-15T07:00:00-04:00");                    // Not sprayed by anybody.
  CHECK(reviews(two.phone.book(), "finding.picked-inside-wait") == 0);
  two.meet();
  for (const Copy* copy : {&two.phone.copy, &two.laptop.copy}) {
    CHECK(reviews(*copy->book, "finding.picked-inside-wait") == 1);
    for (const Review& review : got(copy->book->reviews()))
      if (review.why == "finding.picked-inside-wait"_w) CHECK(review.record == picked);
  }
  done(say_not_same(two.laptop.book(), two.block(two.laptop), two.block(two.phone), two.laptop.by_ana()));
  exchange(two.phone.copy, two.laptop.copy);
  two.everywhere([&](const Book& book, const FarmBook& farm) {
    CHECK(reviews(book, "finding.picked-inside-wait") == 0);
    CHECK(got(twin_beds(book)).empty());
    const BedStates states = two.states(book, farm);
    const bool own = &farm == &two.laptop;
    CHECK(states.bed(farm.beds[0])->holds_harvest(states.at) == own);
  });
}

TEST_CASE("a spray that comes later is held against what was picked on the other record") {
  TwoStarts two;
  two.meet();
  const Id picked = pick(two.phone, two.phone.beds[3], "2026-05-15T07:00:00-04:00");
  exchange(two.phone.copy, two.laptop.copy);
  Farm2::paper_dose(two.laptop.copy, two.load, two.laptop.beds[3], kStart, kFinish);
  CHECK(reviews(two.laptop.book(), "finding.picked-inside-wait") == 1);  // At the save itself.
  CHECK(hand(two.laptop.copy, two.phone.copy).findings >= 1);            // And where the file brought it.
  CHECK(reviews(two.phone.book(), "finding.picked-inside-wait") == 1);
  CHECK(got(two.phone.book().reviews()).front().record == picked);
}

TEST_CASE("a finish that people disagree about: picked inside the later one is found") {
  TwoStarts two;
  two.meet();
  const auto when = [&](std::string_view finish) {
    return std::vector<FieldValue>{instant_value("when.start", at(kStart)), instant_value("when.finish", at(finish))};
  };
  pick(two.phone, two.phone.beds[0], "2026-05-16T17:20:00-04:00");
  edit(two.phone.book(), two.dose, when("2026-05-14T17:30:00-04:00"));
  two.laptop.copy.clock += kHour;  // The laptop's version is the stand-in, and ends earlier.
  edit(two.laptop.book(), two.dose, when("2026-05-14T17:08:00-04:00"));
  exchange(two.phone.copy, two.laptop.copy);
  for (const Copy* copy : {&two.phone.copy, &two.laptop.copy}) {
    CHECK(text_of(*copy->book, two.dose, "when.finish") == stamp_text(at("2026-05-14T17:08:00-04:00")));
    CHECK(reviews(*copy->book, "finding.picked-inside-wait") == 1);
  }
}

TEST_CASE(
    "before work: crops of the other record ask for their label, and an entry there in the same time is asked about") {
  TwoStarts two;
  const Id soap = two.phone.material("Soap", "pesticide", true);
  const Id lot = two.phone.lot(soap, "S-1", "1 gal");
  two.phone.label(soap, "kale", "1 day");
  two.laptop.plant(two.laptop.beds[1], "Lettuce");
  two.meet();
  const Places places = got(read_places(two.phone.book(), two.phone.farm));
  CHECK(places.crop_names(two.phone.beds[1]) == "Lettuce");
  const auto stops =
      got(label_stops(two.phone.book(), {lot}, {}, places, std::vector<Id>{two.phone.beds[1], two.phone.beds[2]}));
  REQUIRE(stops.size() == 1);
  CHECK(stops[0].word == "check.crop-not-on-label"_w);
  CHECK(stops[0].values == std::vector<std::string>{"N2", "Soap", "Lettuce"});
  const Stretch whole{Length{}, Length::from_feet(100)};
  CHECK(got(overlapping_doses(two.phone.book(), two.phone.beds[0], whole, at("2026-05-14T17:06:00-04:00").at,
                              at("2026-05-14T17:12:00-04:00").at, {})) == std::vector<Id>{two.dose});
  CHECK(got(overlapping_doses(two.phone.book(), two.phone.beds[1], whole, at("2026-05-14T17:06:00-04:00").at,
                              at("2026-05-14T17:12:00-04:00").at, {}))
            .empty());
}

TEST_CASE("a pass on one record: what it would start now, and what it started, count by the longer of both rules") {
  TwoStarts two;
  add(two.laptop.book(), "plan",
      {word_value("what", "pick"), reference_value("farm", two.laptop.farm),
       list_value("beds", {two.laptop.beds[2].text()}), instant_value("at", at("2026-05-16T06:00:00-04:00"))});
  two.meet();
  const Id pass = two.phone.start(two.phone.choices(two.phone.brew(), {two.phone.beds[2]}), "two rules");
  const Moment now = two.phone.now();
  const PassState before = got(pass_state(two.phone.book(), pass, {}, now));
  CHECK(before.harvest_if_now.until == std::optional(on_the_minute(now + 2 * kDay)));
  CHECK(before.beds[0].pick_inside_wait);  // By the laptop's rule, of a picking that is planned on the laptop's record.
  two.phone.pass_time(kMinute);
  const DoneRequest press{pass, two.phone.beds[2], {}, {}, {}, {}};
  CHECK(has_caution(got(bed_done(two.phone.book(), press, two.phone.by_ana())).cautions, "check.pick-planned"));
  done(bed_done(two.phone.book(), press, two.phone.by_ana("the picking is put off")));
  const EndSheet sheet = got(end_sheet(two.phone.book(), pass, two.phone.now()));
  REQUIRE(sheet.waits.size() == 1);
  CHECK(sheet.waits[0].harvest.until == std::optional(on_the_minute(sheet.waits[0].finish + 2 * kDay)));
}

TEST_CASE("report, bed page and trace follow the ground, whoever wrote it down") {
  TwoStarts two;
  const Id picked = pick(two.phone, two.phone.beds[0], "2026-05-16T07:00:00-04:00");
  two.meet();
  for (const Copy* copy : {&two.phone.copy, &two.laptop.copy}) {
    // The report of the phone's farm, over days on which nothing was sprayed.
    const ReportData report = got(report_data(*copy->book, two.phone.farm, {2026, 5, 15}, {2026, 5, 20}));
    REQUIRE(report.harvests.size() == 1);
    CHECK(report.harvests[0].inside_wait_of == std::vector<Id>{two.dose});
    // That of the laptop's farm says how long its own dose holds: as on screen.
    const ReportData own = got(report_data(*copy->book, two.laptop.farm, {2026, 5, 14}, {2026, 5, 14}));
    REQUIRE(own.passes.size() == 1);
    CHECK(own.passes[0].harvest_last == std::optional(after(kFinish, 2)));

    const BedPage page = got(bed_page(*copy->book, two.phone.beds[0], two.phone.now()));
    CHECK(std::any_of(page.history.begin(), page.history.end(),
                      [&](const BedLine& line) { return line.record == two.dose; }));
    CHECK(page.state.harvest.hold.until == std::optional(after(kFinish, 2)));

    const auto has = [](const Trace& trace, const Id& id) {
      return std::any_of(trace.nodes.begin(), trace.nodes.end(),
                         [&](const TraceNode& node) { return node.record == id; });
    };
    CHECK(has(got(trace_forward(*copy->book, two.dose)), picked));
    CHECK(has(got(trace_backward(*copy->book, picked)), two.dose));
    CHECK(has(got(trace_forward(*copy->book, two.phone.beds[0])), two.dose));
  }
}

TEST_CASE(
    "joined for good: waits stay shared, one question for what both logged, totals the earlier; parted beds alone are "
    "two") {
  TwoStarts two;
  const Id load = load_of(two.phone, "4");
  const Id second = Farm2::paper_dose(two.phone.copy, load, two.phone.beds[0], "2026-05-14T17:06:00-04:00",
                                      "2026-05-14T17:12:00-04:00");
  two.meet();
  for (const Copy* copy : {&two.phone.copy, &two.laptop.copy})
    CHECK(got(same_bed_pairs(*copy->book)).empty());  // Only offered yet.
  done(join_ground(two.laptop.book(), two.block(two.laptop), two.block(two.phone), "one North", two.laptop.by_ana()));
  exchange(two.phone.copy, two.laptop.copy);
  two.everywhere([&](const Book& book, const FarmBook& farm) {
    const auto pairs = got(same_bed_pairs(book, farm.farm));
    REQUIRE(pairs.size() == 1);
    CHECK(pairs[0].first == two.dose);
    CHECK(pairs[0].second == second);
    const BedStates states = two.states(book, farm);
    CHECK(states.bed(farm.beds[0])->harvest.hold.until == std::optional(after("2026-05-14T17:12:00-04:00", 2)));
    CHECK(states.bed(farm.beds[0])->questions == std::vector<Id>{two.dose, second});
    const bool own = &farm == &two.laptop;
    const auto totals = got(farm_totals(book, farm.farm, {2026, 5, 14}, {2026, 5, 14}));
    CHECK(totals.tea_area.square_feet() == doctest::Approx(own ? 250 : 0));
    for (const OpenQuestion& question : got(open_questions(book))) {
      CHECK(question.record_kind != "bed");
      CHECK(question.record_kind != "block");
    }
  });
  TwiceRequest answer;
  answer.first = two.dose;
  answer.second = answer.kept = second;
  answer.answer = TwiceAnswer::SameWork;
  answer.why = "one work";
  done(answer_same_bed_twice(two.phone.book(), answer, two.phone.by_ana()));
  done(say_not_same(two.phone.book(), two.laptop.beds[1], two.phone.beds[1], two.phone.by_ana()));
  done(part_same(two.phone.book(), two.laptop.beds[1], "two strips after all", two.phone.by_ana()));
  Farm2::paper_dose(two.laptop.copy, two.load, two.laptop.beds[1], kStart, kFinish);
  Farm2::paper_dose(two.laptop.copy, two.load, two.laptop.beds[2], kStart, kFinish);
  exchange(two.phone.copy, two.laptop.copy);
  for (const Copy* copy : {&two.phone.copy, &two.laptop.copy}) {
    CHECK(got(same_bed_pairs(*copy->book)).empty());
    const BedStates states = two.states(*copy->book, two.phone);
    CHECK(states.bed(two.phone.beds[0])->harvest.source()->dose == second);
    CHECK_FALSE(states.bed(two.phone.beds[1])->holds_harvest(states.at));
    CHECK(states.bed(two.phone.beds[2])->holds_harvest(states.at));
  }
}

TEST_CASE(
    "scenario 25: one bed made on two phones and joined: a picking on one is held against a spray on the other; "
    "parted, no more") {
  Farm2 farm;
  const Id block = got(farm.book().records("block")).front().id;
  const auto fields = [&] {
    return std::vector<FieldValue>{reference_value("block", block), text_field_value("name", "N9"),
                                   quantity_value("size.length", "70 ft"), quantity_value("size.width", "30 in")};
  };
  const Id here = add(farm.book(), "bed", fields()), there = add(*farm.office.book, "bed", fields());
  Farm2::paper_dose(farm.office, farm.load, there, kStart, kFinish);
  const Id picked = add(farm.book(), "harvest",
                        {reference_value("bed", here), quantity_value("amount", "18 lb"),
                         instant_value("at", at("2026-05-15T07:00:00-04:00"))});
  exchange(farm.ana.copy, farm.office);
  CHECK(reviews(farm.book(), "finding.picked-inside-wait") == 0);
  done(join_same(farm.book(), here, there, "one bed", farm.ana.by_ana()));
  exchange(farm.ana.copy, farm.office);
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    REQUIRE(reviews(*copy->book, "finding.picked-inside-wait") == 1);
    CHECK(got(copy->book->reviews()).front().record == picked);
    const BedStates states = farm.states(*copy);
    CHECK(states.bed(here)->harvest.hold.until == std::optional(after(kFinish, 1)));
    CHECK(states.bed(there) == states.bed(here));
  }
  done(part_same(*farm.office.book, here, "the other one lies behind the shed", farm.ana.by_ana()));
  exchange(farm.ana.copy, farm.office);
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    CHECK(reviews(*copy->book, "finding.picked-inside-wait") == 0);
    CHECK_FALSE(farm.states(*copy).bed(here)->holds_harvest(Moment{copy->clock}));
  }
  CHECK(farm.both_agree());
}

TEST_CASE(
    "a bed cut in two: what was sprayed on its first half holds on that half alone, and is found in what was picked "
    "there") {
  FarmBook farm(1, 2);
  const Id load = load_of(farm, "3");
  std::vector<FieldValue> what = Farm2::what(load, farm.beds[0], "0 ft", "40 ft", not_taken("what.volume"), "part");
  what.push_back(instant_value("when.start", at(kStart)));
  what.push_back(instant_value("when.finish", at(kFinish)));
  const Id dose = add(farm.book(), "dose", std::move(what));
  const Id block = got(read_bed(farm.book(), farm.beds[0])).block;
  const auto half = [&](std::string name, std::string from, std::string to) {
    return add(farm.book(), "bed",
               {reference_value("block", block), text_field_value("name", std::move(name)),
                quantity_value("size.length", "50 ft"), quantity_value("size.width", "30 in"),
                date_value("valid.from", {2026, 5, 15}),
                list_value("origin.beds", {farm.beds[0].text() + " " + from + " ft " + to + " ft"}),
                word_value("origin.how", "split")});
  };
  const Id lane_half = half("N1a", "0", "50"), creek_half = half("N1b", "50", "100");
  edit(farm.book(), farm.beds[0], {date_value("valid.to", {2026, 5, 14})});
  const Id picked = pick(farm, lane_half, "2026-05-15T07:00:00-04:00");
  pick(farm, creek_half, "2026-05-15T07:00:00-04:00");
  REQUIRE(reviews(farm.book(), "finding.picked-inside-wait") == 1);
  CHECK(got(farm.book().reviews()).front().record == picked);
  const BedStates states = got(bed_states(farm.book(), farm.farm, at("2026-05-15T08:00:00-04:00").at));
  CHECK(states.bed(lane_half)->holds_harvest(states.at));
  CHECK_FALSE(states.bed(creek_half)->holds_harvest(states.at));
  const Trace trace = got(trace_forward(farm.book(), dose));
  REQUIRE(trace.nodes.size() == 2);
  CHECK(trace.nodes[1].record == picked);
}
