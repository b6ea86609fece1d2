// What stays in a rig's tank when a pass ends is sprayed with the next pass: its volume, its waits, its trace.
#include <algorithm>

#include "book/bed_states.h"
#include "book/reviews.h"
#include "book/trace.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

Stamp minutes_after(const Stamp& stamp, std::int64_t minutes) {
  return {stamp.at + minutes * kMinute, stamp.offset_minutes};
}

/// Two passes of yesterday with one backpack: sulfur on the first bed, then water on the second.
struct TwoPasses {
  FarmBook farm{0, 4};
  Stamp first_start{Moment{(farm.now().ms - kDay) / kMinute * kMinute}, -240};
  Stamp second_start = minutes_after(first_start, 120);
  Id sulfur = farm.material("Wettable sulfur", "pesticide", true);
  Id lot = farm.lot(sulfur, "S-1", "1 kg");
  Id first, second;

  Book& book() { return farm.book(); }
  Id pass(const Stamp& start, const Id& rig) {
    return add(book(), "pass",
               {reference_value("farm", farm.farm), reference_value("rig", rig), word_value("aim", "leaf"),
                instant_value("start", start), instant_value("finish", minutes_after(start, 60))});
  }
  Id load(const Id& of, int number, const Stamp& filled, std::vector<FieldValue> more) {
    more.push_back(reference_value("pass", of));
    more.push_back(number_value("number", std::to_string(number)));
    more.push_back(quantity_value("mix.water", "2 gal"));
    more.push_back(quantity_value("mix.tea", "0 gal"));
    more.push_back(instant_value("filled", filled));
    more.push_back(instant_value("closed", minutes_after(filled, 30)));
    return add(book(), "load", more);
  }
  Id dose(const Id& of, const Id& bed, const Stamp& finish) {
    return add(
        book(), "dose",
        {reference_value("what.load", of), reference_value("what.bed", bed), quantity_value("what.from", "0 ft"),
         quantity_value("what.to", "100 ft"), word_value("what.how", "done"), instant_value("when.finish", finish)});
  }
  void put_sulfur(const Id& into) {
    add(book(), "load-line",
        {reference_value("load", into), reference_value("amount.lot", lot), quantity_value("amount.amount", "30 g")});
  }
  /// `left`: fields of the first pass's load.
  explicit TwoPasses(std::vector<FieldValue> left) {
    farm.label(sulfur, "", "7 day", "48 h");
    first = load(pass(first_start, farm.rig), 1, first_start, std::move(left));
    put_sulfur(first);
    dose(first, farm.beds[0], minutes_after(first_start, 10));
    second = load(pass(second_start, farm.rig), 1, second_start, {});
    dose(second, farm.beds[1], minutes_after(second_start, 10));
  }
  void use_another_rig(const Id& of_load) {
    const Id other = add(book(), "rig", {text_field_value("name", "Backpack 2")});
    edit(book(), got(read_load(book(), of_load)).pass, {reference_value("rig", other)});
  }
  void wash(std::int64_t after_start) {
    add(book(), "wash",
        {reference_value("of", farm.rig), text_field_value("how.method", "3 rinses"),
         instant_value("at", minutes_after(first_start, after_start))});
  }
  bool holds(std::size_t bed) {
    const BedStates states = got(bed_states(book(), farm.farm, farm.now()));
    CHECK(states.beds[bed].holds_harvest(states.at) == states.beds[bed].holds_entry(states.at));
    return states.beds[bed].holds_harvest(states.at);
  }
  LoadSheet second_sheet() {
    const Load load = got(read_load(book(), second));
    return got(load_sheets(book(), got(read_pass(book(), load.pass)))).front();
  }
};

std::vector<FieldValue> left(std::string_view amount) { return {quantity_value("left", std::string(amount))}; }

bool goes_through(const Trace& trace, const Id& record) {
  return std::any_of(trace.nodes.begin(), trace.nodes.end(),
                     [&](const TraceNode& node) { return node.record == record; });
}

bool has_finding(const Book& book, const Id& record, std::string_view word) {
  const std::vector<Review> all = got(book.reviews());
  return std::any_of(all.begin(), all.end(),
                     [&](const Review& review) { return review.record == record && review.why.key == word; });
}

}  // namespace

TEST_CASE("what stays in the tank at the end of a pass goes with its waits and its volume into the rig's next one") {
  TwoPasses passes(left("0.5 gal"));
  CHECK(passes.holds(0));
  CHECK(passes.holds(1));
  CHECK(passes.second_sheet().stayed_water.gallons() == doctest::Approx(0.5));
  CHECK(passes.second_sheet().shares.held->gallons() == doctest::Approx(2.5));
  // From the finish of the second bed on: 7 whole days.
  const BedStates states = got(bed_states(passes.book(), passes.farm.farm, passes.farm.now()));
  CHECK(*states.beds[1].entry.hold.until == minutes_after(passes.second_start, 10 + 48 * 60).at);
  CHECK(goes_through(got(trace_forward(passes.book(), passes.lot)), passes.second));
  CHECK(goes_through(got(trace_backward(passes.book(), passes.second)), passes.lot));
}

TEST_CASE("an empty, poured out or washed tank, or another one, brings nothing along") {
  const auto brings_nothing = [](TwoPasses& passes) {
    CHECK(passes.holds(0));
    CHECK_FALSE(passes.holds(1));
    CHECK(passes.second_sheet().stayed_water.si() == 0);
    CHECK_FALSE(goes_through(got(trace_forward(passes.book(), passes.lot)), passes.second));
    CHECK_FALSE(goes_through(got(trace_backward(passes.book(), passes.second)), passes.lot));
  };
  SUBCASE("nothing was left") {
    TwoPasses passes(left("0 gal"));
    brings_nothing(passes);
  }
  SUBCASE("what was left was poured out") {
    TwoPasses passes(left("0.5 gal"));
    add(passes.book(), "discard",
        {reference_value("of", passes.first), quantity_value("volume", "0.5 gal"),
         text_field_value("where.words", "heap"), instant_value("at", minutes_after(passes.first_start, 40))});
    brings_nothing(passes);
  }
  SUBCASE("washed when the pass ended") {
    TwoPasses passes(left("0.5 gal"));
    passes.wash(30);
    brings_nothing(passes);
  }
  SUBCASE("washed in the minute in which the next began") {
    TwoPasses passes(left("0.5 gal"));
    passes.wash(120);
    brings_nothing(passes);
  }
  SUBCASE("another rig") {
    TwoPasses passes(left("0.5 gal"));
    passes.use_another_rig(passes.second);
    brings_nothing(passes);
  }
}

TEST_CASE("where nobody wrote that the tank was emptied, its label holds on") {
  SUBCASE("what was left was not taken") {
    TwoPasses passes({not_taken("left")});
    CHECK(passes.holds(1));
    CHECK(passes.second_sheet().stayed_water.si() == 0);  // Nobody knows how much.
    CHECK(goes_through(got(trace_forward(passes.book(), passes.lot)), passes.second));
  }
  SUBCASE("washed before the sulfur was filled in, and after the next pass began") {
    TwoPasses passes(left("0.5 gal"));
    passes.wash(0);
    passes.wash(121);
    CHECK(passes.holds(1));
  }
  SUBCASE("a wash that was struck") {
    TwoPasses passes(left("0.5 gal"));
    passes.wash(60);
    CHECK_FALSE(passes.holds(1));
    const Id washed = got(passes.book().records("wash")).front().id;
    done(strike(passes.book(), washed, "the other backpack", passes.farm.by_ana()));
    CHECK(passes.holds(1));
  }
  SUBCASE("the copy that wrote 'cleaned before' did not know of the pass in between") {
    TwoPasses passes(left("0.5 gal"));
    edit(passes.book(), passes.second, {yes_no_value("before.cleaned", true)});
    CHECK(passes.holds(1));
  }
}

TEST_CASE("a struck load was never in the tank: what stayed goes past it") {
  TwoPasses passes(left("0 gal"));
  const Id pass = got(read_load(passes.book(), passes.second)).pass;
  passes.put_sulfur(passes.second);
  const Id struck = passes.load(pass, 2, minutes_after(passes.second_start, 30), {});
  const Id third = passes.load(pass, 3, minutes_after(passes.second_start, 40), {});
  passes.dose(third, passes.farm.beds[2], minutes_after(passes.second_start, 50));
  done(strike(passes.book(), struck, "never filled", passes.farm.by_ana()));
  CHECK(passes.holds(2));
  CHECK(goes_through(got(trace_forward(passes.book(), passes.lot)), third));
}

TEST_CASE("a picking is judged anew when the rest in the tank, or its wash, becomes known later") {
  TwoPasses passes(left("0.5 gal"));
  const Id picked = add(passes.book(), "harvest",
                        {reference_value("bed", passes.farm.beds[1]), quantity_value("amount", "10 lb"),
                         instant_value("at", minutes_after(passes.second_start, 60))});
  CHECK(has_finding(passes.book(), picked, "finding.picked-inside-wait"));
  SUBCASE("a wash written down late") {
    passes.wash(90);
    CHECK_FALSE(has_finding(passes.book(), picked, "finding.picked-inside-wait"));
  }
  SUBCASE("nothing had been left") {
    edit(passes.book(), passes.first, left("0 gal"));
    CHECK_FALSE(has_finding(passes.book(), picked, "finding.picked-inside-wait"));
    edit(passes.book(), passes.first, left("0.2 gal"));
    CHECK(has_finding(passes.book(), picked, "finding.picked-inside-wait"));
  }
  SUBCASE("it was poured out") {
    add(passes.book(), "discard",
        {reference_value("of", passes.first), quantity_value("volume", "0.5 gal"),
         text_field_value("where.words", "heap")});
    CHECK_FALSE(has_finding(passes.book(), picked, "finding.picked-inside-wait"));
  }
  SUBCASE("the first pass was made with another rig") {
    passes.use_another_rig(passes.first);
    CHECK_FALSE(has_finding(passes.book(), picked, "finding.picked-inside-wait"));
  }
  SUBCASE("the first pass was made after the second") {
    edit(passes.book(), got(read_load(passes.book(), passes.first)).pass,
         {instant_value("start", minutes_after(passes.second_start, 70))});
    CHECK_FALSE(has_finding(passes.book(), picked, "finding.picked-inside-wait"));
  }
}

TEST_CASE("a rest that goes on from pass to pass is followed to the last") {
  TwoPasses passes(left("0.5 gal"));
  edit(passes.book(), passes.second, left("0.5 gal"));
  const Stamp third_start = minutes_after(passes.second_start, 120);
  const Id third = passes.load(passes.pass(third_start, passes.farm.rig), 1, third_start, {});
  passes.dose(third, passes.farm.beds[2], minutes_after(third_start, 10));
  CHECK(passes.holds(2));
  CHECK(goes_through(got(trace_forward(passes.book(), passes.lot)), third));
  edit(passes.book(), passes.first, left("0 gal"));
  CHECK_FALSE(passes.holds(2));
}

TEST_CASE("the sheet of the next pass counts what is in the tank, and stops where its label lacks a crop") {
  FarmBook farm(0, 4);
  const Id sulfur = farm.material("Wettable sulfur", "pesticide", true);
  farm.label(sulfur, "apple", "7 day", "48 h");
  const Id lot = farm.lot(sulfur, "S-1", "1 kg");
  const Id brew = farm.brew();
  StartChoices with_sulfur = farm.choices(brew, {farm.beds[0]});
  with_sulfur.products.push_back({lot, q("30 g")});
  const Id first = farm.start(with_sulfur);
  farm.spray(first, farm.beds[0]);
  EndRequest end;
  end.pass = first;
  end.where = LeftOver::StaysInTank;
  end.left = q("0.5 gal");
  done(end_pass(farm.book(), end, farm.by_ana("the pump stopped")));
  farm.pass_time(kHour);
  farm.plant(farm.beds[1], "Lettuce");

  const StartChoices chosen = farm.choices(brew, {farm.beds[1], farm.beds[2], farm.beds[3]});
  const StartSheet sheet = got(start_sheet(farm.book(), chosen, farm.now()));
  CHECK(sheet.stays().gallons() == doctest::Approx(0.5));
  CHECK(sheet.rest_code == "1");
  // 3 beds × 250 sq ft × 45 gal/acre = 0.775 gal, and 0.15 gal that the pump leaves: 0.925; 0.5 of it is in the tank.
  CHECK(sheet.load_spray->gallons() == doctest::Approx(0.925).epsilon(0.01));
  CHECK(as<Volume>(*sheet.chosen.tea).gallons() + as<Volume>(*sheet.chosen.water).gallons() ==
        doctest::Approx(0.425).epsilon(0.03));
  REQUIRE(sheet.stops.size() == 1);
  CHECK(sheet.stops.front().word.key == "check.crop-not-on-label");
  CHECK(refusal(start_pass(farm.book(), chosen, farm.by_ana("no time"))) == "check.crop-not-on-label");

  done(add_wash(farm.book(), farm.rig, "3 rinses", farm.now(), farm.by_ana()));
  const StartSheet washed = got(start_sheet(farm.book(), chosen, farm.now()));
  CHECK(washed.stays().si() == 0);
  CHECK(washed.stops.empty());
  const Id second = farm.start(chosen);
  CHECK(farm.state(second).entry_if_now.state == Hold::State::None);
}
