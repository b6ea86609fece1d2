#include "book/bed_states.h"
#include "book/bed_page.h"
#include "book/checks.h"
#include "book/differing.h"
#include "book/questions.h"
#include "book/report_data.h"
#include "book/same_bed.h"
#include "book/settle_commands.h"
#include "book/totals.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

BedStates states_of(const FarmBook& farm) { return got(bed_states(farm.book(), farm.farm, farm.now())); }

/// A pass entered after the fact: one load of `brew` (nil = none), doses one by one.
struct PaperPass {
  Id pass, load;
};
PaperPass paper_pass(Book& book, const Id& farm, Stamp start, const Id& brew, std::string aim = "leaf") {
  PaperPass made;
  made.pass = add(book, "pass",
                  {reference_value("farm", farm), number_value("number", "7"), word_value("aim", aim),
                   instant_value("start", start), instant_value("finish", {start.at + kHour, start.offset_minutes})});
  std::vector<FieldValue> fields{reference_value("pass", made.pass), number_value("number", "1")};
  if (!brew.is_nil()) fields.push_back(reference_value("mix.brew", brew));
  made.load = add(book, "load", fields);
  return made;
}
Id paper_dose(Book& book, const PaperPass& pass, const Id& bed, Stamp start, Stamp finish, std::string from = "0 ft",
              std::string to = "100 ft", std::string how = "done") {
  return add(book, "dose",
             {reference_value("what.load", pass.load), reference_value("what.bed", bed),
              quantity_value("what.from", from), quantity_value("what.to", to), quantity_value("what.width", "30 in"),
              word_value("what.how", how), instant_value("when.start", start), instant_value("when.finish", finish)});
}
Stamp at(std::string_view text) { return *parse_stamp(text); }

}  // namespace

TEST_CASE("a wait counts from the bed's own finish; one day is never less than 24 hours") {
  FarmBook farm(1, 3);
  const Id pass = farm.start(farm.choices(farm.brew(), farm.beds));
  farm.spray(pass, farm.beds[0]);
  const Moment first = farm.state(pass).beds[0].finish.value();
  farm.spray(pass, farm.beds[1]);
  const BedStates states = states_of(farm);
  CHECK(states.no_harvest == 2);
  CHECK(states.no_entry == 0);
  REQUIRE(states.beds[0].harvest.hold.until);
  CHECK(*states.beds[0].harvest.hold.until == on_the_minute(first + kDay));
  CHECK(states.beds[0].says == StripSays::NoHarvest);
  CHECK(states.beds[0].harvest.rule()->source.kind == RuleSource::Kind::FarmTea);
  CHECK(states.beds[0].last_tea);
  CHECK(states.beds[2].says == StripSays::Nothing);
}

// Bed B7, 0–40 ft Monday, 40–100 ft Tuesday, two brews.
TEST_CASE("a bed done in two parts on two days with two brews") {
  FarmBook farm(1, 8);
  Book& book = farm.book();
  const Id bed = farm.beds[6];
  const Id t14 = add(book, "brew", {number_value("number", "14")}),
           t15 = add(book, "brew", {number_value("number", "15")});
  const PaperPass monday = paper_pass(book, farm.farm, at("2026-05-11T07:10:00-04:00"), t14);
  paper_dose(book, monday, bed, at("2026-05-11T07:10:00-04:00"), at("2026-05-11T07:20:00-04:00"), "0 ft", "40 ft",
             "part");
  const BedStates after_monday = got(bed_states(book, farm.farm, at("2026-05-11T12:00:00-04:00").at));
  REQUIRE(after_monday.beds[6].stretches.size() == 2);
  CHECK(after_monday.beds[6].stretches[0].stretch.to.feet() == doctest::Approx(40));
  CHECK(after_monday.beds[6].stretches[0].leaf);
  CHECK_FALSE(after_monday.beds[6].stretches[1].leaf);
  CHECK_FALSE(after_monday.beds[6].stretches[1].harvest.hold.holds_at(after_monday.at));

  const PaperPass tuesday = paper_pass(book, farm.farm, at("2026-05-12T06:50:00-04:00"), t15);
  paper_dose(book, tuesday, bed, at("2026-05-12T06:50:00-04:00"), at("2026-05-12T07:00:00-04:00"), "40 ft", "100 ft",
             "part");
  const BedStates states = got(bed_states(book, farm.farm, at("2026-05-12T12:00:00-04:00").at));
  // The whole bed may be picked only when the later part may.
  CHECK(*states.beds[6].harvest.hold.until == at("2026-05-13T07:00:00-04:00").at);
  REQUIRE(states.beds[6].stretches.size() == 2);
  CHECK(states.beds[6].stretches[0].leaf->brew == t14);
  CHECK(states.beds[6].stretches[1].leaf->brew == t15);
  CHECK(states.beds[6].questions.empty());
  const FarmTotals totals = got(farm_totals(book, farm.farm, {2026, 5, 11}, {2026, 5, 12}));
  CHECK(totals.tea_area.square_feet() == doctest::Approx(250));
  const BedPage page = got(bed_page(book, bed, states.at));
  REQUIRE(page.history.size() == 2);
  CHECK(page.history[0].brew_code == "15");
  CHECK(page.history[0].part);
  CHECK(page.season.tea_passes == 2);
  CHECK(book.reviews()->empty());
}

// Two phones, no signal, one bed.
TEST_CASE("the same bed by two phones is one question; totals the earlier, waits the later") {
  FarmBook ana(1, 4);
  const Id brew = ana.brew();
  Copy marek("Marek's phone", 9);
  marek.checks = begin_checks;
  marek.open();
  meet(ana.copy, marek);
  const Id bed = ana.beds[2];
  const PaperPass p1 = paper_pass(ana.book(), ana.farm, at("2026-05-14T07:30:00-04:00"), brew);
  const Id first = paper_dose(ana.book(), p1, bed, at("2026-05-14T07:40:00-04:00"), at("2026-05-14T07:46:00-04:00"));
  const PaperPass p2 = paper_pass(*marek.book, ana.farm, at("2026-05-14T07:30:00-04:00"), brew);
  const Id second = paper_dose(*marek.book, p2, bed, at("2026-05-14T07:42:00-04:00"), at("2026-05-14T07:50:00-04:00"));
  CHECK(got(same_bed_pairs(ana.book())).empty());
  take_all(ana.copy, marek);
  const auto again = take_all(ana.copy, marek);
  CHECK(again.added == 0);

  const std::vector<DosePair> pairs = got(same_bed_pairs(ana.book()));
  REQUIRE(pairs.size() == 1);
  CHECK(pairs[0].first == first);
  CHECK(pairs[0].second == second);
  const FarmTotals totals = got(farm_totals(ana.book(), ana.farm, {2026, 5, 14}, {2026, 5, 14}));
  CHECK(totals.tea_area.square_feet() == doctest::Approx(250));
  CHECK(totals.beds_once == 1);
  const Moment noon = at("2026-05-14T12:00:00-04:00").at;
  BedStates states = got(bed_states(ana.book(), ana.farm, noon));
  CHECK(*states.beds[2].harvest.hold.until == at("2026-05-15T07:50:00-04:00").at);
  CHECK(states.beds[2].to_settle == 2);
  CHECK(states.beds[2].questions.size() == 2);
  CHECK(states.with_question == 1);
  const std::vector<OpenQuestion> questions = got(open_questions(ana.book(), ana.farm));
  REQUIRE_FALSE(questions.empty());
  CHECK(questions[0].kind == QuestionKind::SameBedTwice);
  const TwiceSheet sheet = got(twice_sheet(ana.book(), first, second, noon));
  CHECK(sheet.overlap_to - sheet.overlap_from == 4 * kMinute);
  CHECK(sheet.second.copy == "Marek's phone");
  CHECK(sheet.first.pass_code != sheet.second.pass_code);

  TwiceRequest answer;
  answer.first = first;
  answer.second = second;
  SUBCASE("same work: one is struck, pointing at the kept one") {
    answer.answer = TwiceAnswer::SameWork;
    answer.kept = first;
    done(answer_same_bed_twice(ana.book(), answer, ana.by_ana()));
    CHECK(text_of(ana.book(), second, "struck") == kLoggedTwice);
    CHECK(text_of(ana.book(), second, "same_as") == first.text());
    states = got(bed_states(ana.book(), ana.farm, noon));
    CHECK(*states.beds[2].harvest.hold.until == at("2026-05-15T07:46:00-04:00").at);
    CHECK(states.beds[2].to_settle == 0);
  }
  SUBCASE("each did a part: two stretches that meet") {
    answer.answer = TwiceAnswer::EachAPart;
    answer.met = quantity_value("met", "60 ft");
    done(answer_same_bed_twice(ana.book(), answer, ana.by_ana()));
    CHECK(text_of(ana.book(), first, "what.to") == "60 ft");
    CHECK(text_of(ana.book(), second, "what.from") == "60 ft");
    CHECK(got(farm_totals(ana.book(), ana.farm, {2026, 5, 14}, {2026, 5, 14})).tea_area.square_feet() ==
          doctest::Approx(250));
    answer.met = quantity_value("met", "200 ft");
    CHECK(refusal(answer_same_bed_twice(ana.book(), answer, ana.by_ana())) == "settle.met-outside");
  }
  SUBCASE("both sprayed all of it: both stand") {
    done(answer_same_bed_twice(ana.book(), answer, ana.by_ana()));
    CHECK(got(farm_totals(ana.book(), ana.farm, {2026, 5, 14}, {2026, 5, 14})).tea_area.square_feet() ==
          doctest::Approx(500));
  }
  CHECK(got(same_bed_pairs(ana.book())).empty());
  // The answer travels: no copy asks again.
  take_all(marek, ana.copy);
  CHECK(got(same_bed_pairs(*marek.book)).empty());
}

// A mixed tank on intercropped beds.
TEST_CASE("before work a label without the crop stops; after the fact it holds, no date known") {
  FarmBook farm(14, 4);
  Book& book = farm.book();
  farm.copy.clock = at("2026-06-03T18:00:00-04:00").at.ms;
  const Id a = farm.material("Product A", "biological", true), b = farm.material("Product B", "biological", true);
  farm.label(a, "lettuce", "0 day");
  farm.label(a, "radish", "0 day");
  farm.label(b, "lettuce", "7 day");
  const Id lot_a = farm.lot(a, "A-1", "10 lb"), lot_b = farm.lot(b, "B-1", "10 lb");
  const Id d2 = farm.beds[1], d3 = farm.beds[2], d4 = farm.beds[3];
  farm.plant(d2, "lettuce");
  farm.plant(d2, "radish");
  farm.plant(d3, "lettuce");
  farm.plant(d4, "cilantro");
  const Id brew = farm.brew();
  StartChoices chosen = farm.choices(brew, {d2, d3, d4});
  chosen.products = {{lot_a, q("1 lb")}, {lot_b, q("1 lb")}};

  SUBCASE("the pass cannot start over D2 and D4, with tea alone it can") {
    const StartSheet sheet = got(start_sheet(book, chosen, farm.now()));
    // B lacks radish; A and B lack cilantro.
    CHECK(sheet.stops.size() == 3);
    CHECK(refusal(start_pass(book, chosen, farm.by_ana())) == "check.crop-not-on-label");
    chosen.products.clear();
    CHECK(got(start_sheet(book, chosen, farm.now())).stops.empty());
    chosen.products = {{lot_a, q("1 lb")}, {lot_b, q("1 lb")}};
    chosen.beds = {d3};
    const Id pass = farm.start(chosen);
    CHECK_FALSE(farm.state(pass).hand()->stop);
  }
  SUBCASE("entered after the fact: D3 17 June by the tea rule, radish and cilantro held") {
    const PaperPass paper = paper_pass(book, farm.farm, at("2026-06-03T18:00:00-04:00"), brew);
    for (const Id& lot : {lot_a, lot_b})
      add(book, "load-line", {reference_value("load", paper.load), reference_value("amount.lot", lot)});
    const Stamp start = at("2026-06-03T18:10:00-04:00"), finish = at("2026-06-03T18:20:00-04:00");
    farm.copy.clock = finish.at.ms + kMinute;
    for (const Id& bed : {d2, d3, d4}) paper_dose(book, paper, bed, start, finish);
    CHECK(reviews(book, "finding.crop-not-on-label") == 3);
    const BedStates states = got(bed_states(book, farm.farm, finish.at + kHour));
    const BedState &s2 = states.beds[1], &s3 = states.beds[2], &s4 = states.beds[3];
    // The farm counts dates: 3 June + 14 = 17 June, from its first minute.
    CHECK(s3.harvest.hold.state == Hold::State::Until);
    CHECK(*s3.harvest.hold.first_day == Date{2026, 6, 17});
    CHECK(s3.harvest.rule()->source.kind == RuleSource::Kind::FarmTea);
    REQUIRE(s2.plantings.size() == 2);
    for (const PlantingState& planting : s2.plantings) {
      if (planting.crop == "lettuce") CHECK(*planting.harvest.hold.first_day == Date{2026, 6, 17});
      if (planting.crop == "radish") {
        CHECK(planting.harvest.hold.state == Hold::State::NotKnown);
        CHECK(planting.harvest.wait().kind == Wait::Kind::NotOnLabel);
      }
    }
    CHECK(s2.harvest.hold.state == Hold::State::NotKnown);
    CHECK(s4.harvest.hold.state == Hold::State::NotKnown);
    // By hours the same wait ends at 18:20.
    edit(book, farm.farm, {word_value("counting", "hours")});
    const BedStates by_hours = got(bed_states(book, farm.farm, finish.at + kHour));
    CHECK(*by_hours.beds[2].harvest.hold.until == at("2026-06-17T18:20:00-04:00").at);
    // Years later the crop that was never on the label still has no date.
    CHECK(got(bed_states(book, farm.farm, finish.at + 700 * kDay)).beds[3].harvest.hold.state == Hold::State::NotKnown);
  }
}

TEST_CASE("an undecided tea rule is a hold, with the button that sets it") {
  FarmBook farm(std::nullopt, 2);
  const Id pass = farm.start(farm.choices(farm.brew(), farm.beds), "picking waits");
  farm.spray(pass, farm.beds[0]);
  BedStates states = states_of(farm);
  CHECK(states.beds[0].harvest.hold.state == Hold::State::NotKnown);
  CHECK(states.beds[0].rule_undecided);
  done(set_farm_rule(farm.book(), farm.farm, 1, "Ana Leland", farm.by_ana("asked the certifier")));
  states = states_of(farm);
  CHECK(states.beds[0].harvest.hold.state == Hold::State::Until);
  CHECK_FALSE(states.beds[0].rule_undecided);
}

TEST_CASE("intervals fill the strip, and only doses with that aim start them anew") {
  FarmBook farm(0, 2);
  Book& book = farm.book();
  done(set_interval(book, farm.farm, {}, "", false, 14, farm.by_ana()));
  const Id brew = farm.brew();
  const PaperPass leaf = paper_pass(book, farm.farm, at("2026-05-01T18:00:00-04:00"), brew);
  paper_dose(book, leaf, farm.beds[0], at("2026-05-01T18:00:00-04:00"), at("2026-05-01T18:05:00-04:00"));
  const PaperPass soil = paper_pass(book, farm.farm, at("2026-05-10T18:00:00-04:00"), brew, "soil");
  paper_dose(book, soil, farm.beds[0], at("2026-05-10T18:00:00-04:00"), at("2026-05-10T18:05:00-04:00"));
  BedStates states = got(bed_states(book, farm.farm, at("2026-05-13T12:00:00-04:00").at));
  REQUIRE(states.beds[0].leaf);
  CHECK(states.beds[0].days_left() == 2);
  CHECK(states.beds[0].says == StripSays::DaysLeft);
  CHECK(states.beds[1].is_due());
  states = got(bed_states(book, farm.farm, at("2026-05-17T12:00:00-04:00").at));
  CHECK(states.beds[0].days_left() == -2);
  CHECK(states.beds[0].says == StripSays::Late);
  done(set_interval(book, farm.farm, {}, "", false, std::nullopt, farm.by_ana("no interval")));
  CHECK_FALSE(states_of(farm).beds[0].leaf);
}

TEST_CASE("holds set by hand, with and without an end, and their release") {
  FarmBook farm(0, 2);
  const Outcome hold = done(set_hold(farm.book(), farm.beds[0], true, true, std::nullopt, "flooded", farm.by_ana()));
  BedStates states = states_of(farm);
  CHECK(states.beds[0].holds_harvest(states.at));
  CHECK(states.beds[0].holds_entry(states.at));
  CHECK(states.beds[0].set_by_hand);
  CHECK(states.beds[0].entry.source()->who == "Ana Leland");
  done(release_hold(farm.book(), hold.record, "dry again", farm.by_ana()));
  CHECK_FALSE(states_of(farm).beds[0].holds_entry(farm.now()));
  const Moment until{(farm.now().ms / kHour + 5) * kHour};  // stamps keep whole seconds
  done(set_hold(farm.book(), farm.beds[1], false, true, until, "ladder out", farm.by_ana()));
  states = states_of(farm);
  CHECK(*states.beds[1].entry.hold.until == until);
  CHECK_FALSE(states.beds[1].holds_harvest(states.at));
  CHECK_FALSE(got(bed_states(farm.book(), farm.farm, until)).beds[1].holds_entry(until));
}

TEST_CASE("waits never use a stand-in") {
  FarmBook ana(1, 3);
  const Id brew = ana.brew();
  const PaperPass paper = paper_pass(ana.book(), ana.farm, at("2026-05-14T07:00:00-04:00"), brew);
  const Id dose =
      paper_dose(ana.book(), paper, ana.beds[0], at("2026-05-14T07:00:00-04:00"), at("2026-05-14T07:10:00-04:00"));
  Copy marek("Marek's phone", 9);
  marek.checks = begin_checks;
  marek.open();
  meet(ana.copy, marek);
  const Moment noon = at("2026-05-14T12:00:00-04:00").at;

  SUBCASE("two finishes: the later counts on both copies") {
    const auto when = [](std::string_view finish) {
      return std::vector<FieldValue>{instant_value("when.start", at("2026-05-14T07:00:00-04:00")),
                                     instant_value("when.finish", at(finish))};
    };
    edit(ana.book(), dose, when("2026-05-14T09:30:00-04:00"));
    edit(*marek.book, dose, when("2026-05-14T07:20:00-04:00"));
    meet(ana.copy, marek);
    for (const Book* book : {&ana.book(), marek.book.get()}) {
      const BedStates states = got(bed_states(*book, ana.farm, noon));
      CHECK(*states.beds[0].harvest.hold.until == at("2026-05-15T09:30:00-04:00").at);
      CHECK(states.beds[0].to_settle == 1);
    }
    const DifferingRecord differs_in = got(differing(ana.book(), dose));
    REQUIRE(differs_in.groups.size() == 1);
    CHECK(differs_in.groups[0].group == "when");
    REQUIRE(differs_in.groups[0].versions.size() == 2);
    CHECK(differs_in.groups[0].versions[0].not_seen.size() == 1);
    CHECK_FALSE(differs_in.groups[0].before.empty());
    const FactChoice second{"when", 1, {}};
    done(settle_facts(ana.book(), dose, std::span(&second, 1), "Marek wrote the right time", ana.by_ana()));
    CHECK(got(bed_states(ana.book(), ana.farm, noon)).beds[0].to_settle == 0);
    CHECK_FALSE(differs(ana.book(), dose));
  }
  SUBCASE("two beds: both are held") {
    const auto what = [&](const Id& bed) {
      return std::vector<FieldValue>{reference_value("what.load", paper.load), reference_value("what.bed", bed),
                                     quantity_value("what.from", "0 ft"),      quantity_value("what.to", "100 ft"),
                                     quantity_value("what.width", "30 in"),    word_value("what.how", "done")};
    };
    edit(ana.book(), dose, what(ana.beds[1]));
    edit(*marek.book, dose, what(ana.beds[2]));
    meet(ana.copy, marek);
    const BedStates states = got(bed_states(ana.book(), ana.farm, noon));
    CHECK(states.beds[1].holds_harvest(noon));
    CHECK(states.beds[2].holds_harvest(noon));
    CHECK_FALSE(states.beds[0].holds_harvest(noon));
  }
  SUBCASE("struck here, edited there: it counts") {
    edit(ana.book(), dose, {text_field_value("struck", "not sprayed")});
    CHECK_FALSE(got(bed_states(ana.book(), ana.farm, noon)).beds[0].holds_harvest(noon));
    edit(*marek.book, dose, {text_field_value("note", "wind dropped")});
    take_all(ana.copy, marek);
    const BedStates states = got(bed_states(ana.book(), ana.farm, noon));
    CHECK(states.beds[0].holds_harvest(noon));
    CHECK(states.beds[0].to_settle == 1);
  }
  SUBCASE("two farm rules: the longer one") {
    edit(ana.book(), ana.farm, {number_value("tea_wait.days", "0")});
    edit(*marek.book, ana.farm, {number_value("tea_wait.days", "14")});
    meet(ana.copy, marek);
    CHECK(*got(bed_states(ana.book(), ana.farm, noon)).beds[0].harvest.hold.first_day == Date{2026, 5, 28});
  }
  SUBCASE("a change that waits for an earlier one counts as far as it can be read") {
    // Marek corrects twice; only the second change arrives.
    edit(*marek.book, dose,
         {instant_value("when.start", at("2026-05-14T07:00:00-04:00")),
          instant_value("when.finish", at("2026-05-14T10:00:00-04:00"))});
    edit(*marek.book, dose,
         {instant_value("when.start", at("2026-05-14T07:00:00-04:00")),
          instant_value("when.finish", at("2026-05-14T11:00:00-04:00"))});
    std::vector<Section> sections;
    for (const Lane& lane : marek.book->lanes()) {
      Section section = section_of(*marek.book, lane);
      if (lane.mine && lane.part.year != 0 && section.lines.size() > 1)
        section.lines.erase(section.lines.begin(), section.lines.end() - 1);
      sections.push_back(std::move(section));
    }
    const auto outcome = take(ana.book(), sections, marek.book.get());
    REQUIRE(outcome);
    const BedStates states = got(bed_states(ana.book(), ana.farm, noon));
    CHECK(*states.beds[0].harvest.hold.until == at("2026-05-15T11:00:00-04:00").at);
    CHECK(states.beds[0].to_settle == 1);
  }
}

TEST_CASE("after a take: picked inside a wait that the file brought") {
  FarmBook ana(14, 2);
  const Id brew = ana.brew();
  Copy marek("Marek's phone", 9);
  marek.checks = begin_checks;
  marek.open();
  meet(ana.copy, marek);
  HarvestGiven harvest;
  harvest.bed = ana.beds[0];
  harvest.amount = q("42 lb");
  harvest.at = at("2026-05-02T07:20:00-04:00").at;
  const Id picked = done(add_harvest(ana.book(), harvest, ana.by_ana())).record;
  CHECK(text_of(ana.book(), picked, "code") == "N1-122-" + short_code(ana.book().copy()));
  const PaperPass paper = paper_pass(*marek.book, ana.farm, at("2026-05-01T18:00:00-04:00"), brew);
  paper_dose(*marek.book, paper, ana.beds[0], at("2026-05-01T18:00:00-04:00"), at("2026-05-01T18:10:00-04:00"));
  CHECK(reviews(ana.book(), "finding.picked-inside-wait") == 0);
  take_all(ana.copy, marek);
  CHECK(reviews(ana.book(), "finding.picked-inside-wait") == 1);
  // Struck, it goes; a rebuild finds the same.
  REQUIRE(ana.book().rebuild());
  CHECK(reviews(ana.book(), "finding.picked-inside-wait") == 1);
  done(strike(ana.book(), paper.pass, "other farm", ana.by_ana()));
  CHECK(reviews(ana.book(), "finding.picked-inside-wait") == 0);
}

TEST_CASE("history follows the ground when a bed is split") {
  FarmBook farm(14, 2);
  Book& book = farm.book();
  const PaperPass paper = paper_pass(book, farm.farm, at("2026-05-13T18:00:00-04:00"), farm.brew());
  paper_dose(book, paper, farm.beds[0], at("2026-05-13T18:00:00-04:00"), at("2026-05-13T18:10:00-04:00"), "0 ft",
             "30 ft", "part");
  edit(book, farm.beds[0], {date_value("valid.to", {2026, 5, 13})});
  const Id block = got(read_bed(book, farm.beds[0])).block;
  const auto half = [&](std::string name, std::string from, std::string to) {
    return add(
        book, "bed",
        {reference_value("block", block), text_field_value("name", name), quantity_value("size.length", "50 ft"),
         quantity_value("size.width", "30 in"), date_value("valid.from", {2026, 5, 14}),
         list_value("origin.beds", {farm.beds[0].text() + " " + from + " " + to}), word_value("origin.how", "split")});
  };
  const Id near = half("N1a", "0 ft", "50 ft"), far = half("N1b", "50 ft", "100 ft");
  const BedStates states = states_of(farm);
  REQUIRE(states.bed(near));
  CHECK(states.bed(near)->holds_harvest(states.at));
  CHECK(states.bed(near)->stretches.size() == 2);
  CHECK_FALSE(states.bed(far)->holds_harvest(states.at));
  CHECK(got(bed_page(book, near, states.at)).history.front().earlier_bed);
}
