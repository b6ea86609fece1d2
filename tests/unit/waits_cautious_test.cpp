// Where the record does not say it, a wait holds: what stays in a tank, clocks that run ahead, stretches from the far
// end, passes of another farm.
#include <algorithm>
#include <set>

#include "book/bed_states.h"
#include "book/same_bed.h"
#include "book/totals.h"
#include "book/trace.h"
#include "book/wait_days.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

Stamp at(std::string_view text) { return *parse_stamp(text); }
Stamp after(const Stamp& stamp, std::int64_t ms) { return {stamp.at + ms, stamp.offset_minutes}; }

/// Entered after the fact, on the morning before the farm's clock.
struct Paper {
  FarmBook farm;
  Stamp start;
  Id pass;
  explicit Paper(std::optional<int> tea_days = 14, int beds = 3) : farm(tea_days, beds) {
    start = {Moment{(farm.now().ms - kDay) / kMinute * kMinute}, -240};
    pass = pass_of(farm.farm);
  }
  Book& book() { return farm.book(); }
  Id pass_of(const Id& of) {
    return add(book(), "pass",
               {reference_value("farm", of), number_value("number", "7"), word_value("aim", "leaf"),
                instant_value("start", start), instant_value("finish", after(start, kHour))});
  }
  Id load(int number, std::vector<FieldValue> fields, const Id& of = {}) {
    fields.push_back(reference_value("pass", of.is_nil() ? pass : of));
    fields.push_back(number_value("number", std::to_string(number)));
    return add(book(), "load", fields);
  }
  Id dose(const Id& load, const Id& bed, std::optional<Stamp> finish = {}) {
    return add(
        book(), "dose",
        {reference_value("what.load", load), reference_value("what.bed", bed), quantity_value("what.from", "0 ft"),
         quantity_value("what.to", "100 ft"), word_value("what.how", "done"),
         instant_value("when.finish", finish.value_or(after(start, 10 * kMinute)))});
  }
  Id product(const Id& load, std::string wait, std::string entry) {
    const Id material = farm.material("Wettable sulfur", "pesticide", true);
    farm.label(material, "", wait, entry);
    return add(book(), "load-line",
               {reference_value("load", load), reference_value("amount.lot", farm.lot(material, "PB1", "1 kg")),
                quantity_value("amount.amount", "30 mL")});
  }
  BedStates states() { return states_at(farm.now()); }
  BedStates states_at(Moment moment) { return got(bed_states(book(), farm.farm, moment)); }
  std::optional<Moment> no_harvest_until(std::size_t bed = 0) { return states().beds[bed].harvest.hold.until; }
};
std::vector<FieldValue> water(std::string_view amount, std::vector<FieldValue> more = {}) {
  more.push_back(quantity_value("mix.tea", "0 gal"));
  more.push_back(quantity_value("mix.water", std::string(amount)));
  return more;
}

}  // namespace

TEST_CASE("what stays in the tank brings its waits to the beds of the next load") {
  Paper paper(0);
  const Stamp closed = after(paper.start, 30 * kMinute);
  const auto two_loads = [&](std::vector<FieldValue> first, std::vector<FieldValue> second) {
    const Id one = paper.load(1, water("4 gal", std::move(first)));
    paper.product(one, "7 day", "48 h");
    paper.dose(one, paper.farm.beds[0]);
    paper.dose(paper.load(2, water("1 gal", std::move(second))), paper.farm.beds[1]);
    return one;
  };
  const auto held = [&] {
    const BedStates states = paper.states();
    CHECK(states.beds[0].holds_harvest(states.at));
    CHECK(states.beds[0].holds_entry(states.at));
    CHECK(states.beds[1].holds_harvest(states.at) == states.beds[1].holds_entry(states.at));
    return states.beds[1].holds_harvest(states.at);
  };
  SUBCASE("a gallon stayed") {
    two_loads({quantity_value("left", "1 gal"), instant_value("closed", closed)}, {});
    CHECK(held());
  }
  SUBCASE("nobody wrote what stayed") {
    two_loads({}, {});
    CHECK(held());
  }
  SUBCASE("nothing stayed") {
    two_loads({quantity_value("left", "0 gal"), instant_value("closed", closed)}, {});
    CHECK_FALSE(held());
  }
  SUBCASE("what stayed was poured away") {
    const Id one = two_loads({quantity_value("left", "1 gal"), instant_value("closed", closed)}, {});
    add(paper.book(), "discard",
        {reference_value("of", one), quantity_value("volume", "1 gal"), instant_value("at", closed)});
    CHECK_FALSE(held());
  }
  SUBCASE("the tank was cleaned before the next") {
    two_loads({quantity_value("left", "1 gal"), instant_value("closed", closed)},
              {yes_no_value("before.cleaned", true)});
    CHECK_FALSE(held());
  }
  SUBCASE("a struck load leaves nothing") {
    const Id one = two_loads({quantity_value("left", "1 gal")}, {});
    done(strike(paper.book(), one, "never filled", paper.farm.by_ana()));
    const BedStates states = paper.states();
    CHECK_FALSE(states.beds[1].holds_harvest(states.at));
  }
}

TEST_CASE("a trace follows what stayed in the tank into the next load") {
  Paper paper(0);
  const auto trace_of = [&](std::vector<FieldValue> first) {
    const Id pass = paper.pass_of(paper.farm.farm);
    const Id one = paper.load(1, water("4 gal", std::move(first)), pass);
    const Id line = paper.product(one, "7 day", "48 h");
    const Id lot = *Id::parse(text_of(paper.book(), line, "amount.lot"));
    paper.dose(one, paper.farm.beds[0]);
    const Id second = paper.dose(paper.load(2, water("1 gal"), pass), paper.farm.beds[1]);
    const Trace trace = got(trace_forward(paper.book(), lot));
    const auto meets = [&](const Trace& of, const Id& record) {
      return std::any_of(of.nodes.begin(), of.nodes.end(),
                         [&](const TraceNode& node) { return node.record == record; });
    };
    CHECK(meets(got(trace_backward(paper.book(), second)), lot) == meets(trace, second));
    return meets(trace, second);
  };
  CHECK(trace_of({quantity_value("left", "1 gal")}));
  CHECK(trace_of({}));
  CHECK_FALSE(trace_of({quantity_value("left", "0 gal")}));
}

TEST_CASE("a crop that is not on the label of what stayed is found") {
  Paper paper(0);
  paper.farm.plant(paper.farm.beds[1], "Kale");
  const Id one = paper.load(1, water("4 gal", {quantity_value("left", "1 gal")}));
  const Id material = paper.farm.material("Copper soap", "pesticide", true);
  paper.farm.label(material, "lettuce", "1 day");
  add(paper.book(), "load-line",
      {reference_value("load", one), reference_value("amount.lot", paper.farm.lot(material, "CS1", "1 kg"))});
  const Id dose = paper.dose(paper.load(2, water("1 gal")), paper.farm.beds[1]);
  const auto reviews = got(paper.book().reviews());
  CHECK(std::any_of(reviews.begin(), reviews.end(), [&](const Review& review) {
    return review.record == dose && review.why == "finding.crop-not-on-label"_w;
  }));
}

TEST_CASE("tea that stayed makes the water of the next load tea") {
  Paper paper(14);
  paper.load(1, {reference_value("mix.brew", paper.farm.brew()), quantity_value("mix.tea", "2 gal"),
                 quantity_value("left", "1 gal")});
  const Stamp finish = after(paper.start, 50 * kMinute);
  paper.dose(paper.load(2, water("1 gal")), paper.farm.beds[0], finish);
  CHECK(paper.no_harvest_until());
}

TEST_CASE("a tank of which nobody wrote what was in it may have held tea") {
  Paper paper(14);
  paper.dose(paper.load(1, {quantity_value("mix.water", "2 gal")}), paper.farm.beds[0]);
  CHECK(paper.no_harvest_until());
  // Water alone is said to be water alone.
  const Id other = paper.pass_of(paper.farm.farm);
  paper.dose(paper.load(1, water("2 gal"), other), paper.farm.beds[1]);
  CHECK_FALSE(paper.no_harvest_until(1));
}

TEST_CASE("a finish ahead of the clock hides no dose") {
  Paper paper(14);
  const Id load = paper.load(1, {reference_value("mix.brew", paper.farm.brew())});
  const Stamp ahead = {Moment{(paper.farm.now().ms + 5 * kHour) / kMinute * kMinute}, -240};
  paper.dose(load, paper.farm.beds[0], ahead);
  const BedStates states = paper.states();
  CHECK(states.beds[0].holds_harvest(states.at));
  CHECK_FALSE(states.beds[0].last_tea);  // It does not count as done before its time.
  // Asked about a moment before anybody wrote it, it was not there.
  const BedStates before = paper.states_at(paper.start.at - kDay);
  CHECK_FALSE(before.beds[0].holds_harvest(before.at));
  // Yesterday's, corrected to a time to come, was written down yesterday.
  const Id earlier = paper.dose(load, paper.farm.beds[1]);
  paper.farm.pass_time(2 * kDay);
  edit(paper.book(), earlier, {instant_value("when.finish", {paper.farm.now() + kDay / 2, -240})});
  const BedStates then = paper.states();
  CHECK(then.beds[1].holds_harvest(then.at));
  const BedStates in_between = paper.states_at(paper.farm.now() - kDay);
  CHECK(in_between.beds[1].holds_harvest(in_between.at));
}

TEST_CASE("a release lets go from its hour on") {
  FarmBook farm(0, 1);
  const Id hold = done(set_hold(farm.book(), farm.beds[0], true, true, std::nullopt, "glass", farm.by_ana())).record;
  const Stamp later = {Moment{(farm.now().ms / kMinute + 60) * kMinute}, -240};
  add(farm.book(), "release",
      {reference_value("hold", hold), text_field_value("why", "found"), instant_value("at", later)});
  const auto held = [&](Moment moment) {
    return got(bed_states(farm.book(), farm.farm, moment)).beds[0].holds_harvest(moment);
  };
  CHECK(held(farm.now()));
  CHECK_FALSE(held(later.at));
}

TEST_CASE("stretches count from either end, and beyond a bed's end they are anywhere on it") {
  Paper paper(14);
  const auto hold = [&](std::size_t bed, std::string from, std::string to) {
    add(paper.book(), "hold",
        {reference_value("bed", paper.farm.beds[bed]), word_value("what", "both"), text_field_value("why", "glass"),
         quantity_value("stretch.from", from), quantity_value("stretch.to", to)});
  };
  hold(0, "50 ft", "0 ft");
  hold(1, "500 ft", "600 ft");
  add(paper.book(), "planting",
      {reference_value("bed", paper.farm.beds[2]), text_field_value("crop", "Kale"),
       date_value("planted", *parse_date("2026-04-09")), quantity_value("stretch.from", "100 ft"),
       quantity_value("stretch.to", "0 ft")});
  paper.dose(paper.load(1, {reference_value("mix.brew", paper.farm.brew())}), paper.farm.beds[2]);
  const BedStates states = paper.states();
  for (const BedState& bed : states.beds) CHECK(bed.holds_harvest(states.at));
  REQUIRE(states.beds[0].stretches.size() == 2);
  CHECK(states.beds[0].stretches[0].stretch.to == as<Length>(q("50 ft")));
}

TEST_CASE("a bed sprayed in another farm's pass has its own farm's wait") {
  Paper paper(14);
  FarmGiven other;
  other.name = "Lower Field";
  other.zone_name = "America/New_York";
  other.tea_wait_days = 0;
  const Id lower = got(start_farm(paper.book(), other, paper.farm.by_ana())).farm;
  const Id load = paper.load(1, {reference_value("mix.brew", paper.farm.brew())}, paper.pass_of(lower));
  const Id dose = paper.dose(load, paper.farm.beds[0]);
  CHECK(paper.no_harvest_until());

  // Sprayed at the same time in its own farm's pass too: a pair of both farms, which their totals count once.
  for (const Id& farm : {lower, paper.farm.farm}) CHECK(got(same_bed_pairs(paper.book(), farm)).empty());
  const Id own = paper.dose(paper.load(1, {reference_value("mix.brew", paper.farm.brew())}), paper.farm.beds[0]);
  int left_out = 0;
  for (const Id& farm : {lower, paper.farm.farm}) {
    const auto pairs = got(same_bed_pairs(paper.book(), farm));
    REQUIRE(pairs.size() == 1);
    CHECK(std::set<Id>{pairs[0].first, pairs[0].second} == std::set<Id>{dose, own});
    left_out += got(farm_totals(paper.book(), farm, {2026, 1, 1}, {2026, 12, 31})).beds_once;
  }
  CHECK(left_out == 1);
}

TEST_CASE("part of a day is a day; what cannot be a number of days is no rule") {
  CHECK(whole_wait_days(0.4) == 1);
  CHECK(whole_wait_days(1.4) == 2);
  CHECK(whole_wait_days(14.0) == 14);
  CHECK(whole_wait_days(0.0) == 0);
  CHECK_FALSE(whole_wait_days(-3.0));
  CHECK_FALSE(whole_wait_days(1e14));
  Paper paper(1);
  edit(paper.book(), paper.farm.farm, {number_value("tea_wait.days", "1.4"), text_field_value("tea_wait.by", "Ana")});
  const Stamp finish = after(paper.start, 10 * kMinute);
  paper.dose(paper.load(1, {reference_value("mix.brew", paper.farm.brew())}), paper.farm.beds[0], finish);
  CHECK(*paper.no_harvest_until() >= finish.at + 2 * kDay);
}

TEST_CASE("where a zone cannot be read, a wait by dates is as many whole days") {
  Paper paper(3);
  edit(paper.book(), paper.farm.farm,
       {text_field_value("zone.name", "Nowhere/Land"), text_field_value("zone.rule", "garbage")});
  const Stamp finish = at("2026-05-13T23:30:00-04:00");
  paper.dose(paper.load(1, {reference_value("mix.brew", paper.farm.brew())}), paper.farm.beds[0], finish);
  CHECK(*paper.no_harvest_until() == finish.at + 3 * kDay);
}

TEST_CASE("ground whose stretch cannot be read holds whole") {
  Paper paper(14);
  const Id old = paper.farm.beds[0];
  paper.dose(paper.load(1, {reference_value("mix.brew", paper.farm.brew())}), old);
  edit(paper.book(), old, {date_value("valid.to", *parse_date("2026-05-13"))});
  const auto block = got(paper.book().record(old))->field("block")->text;
  const auto held_on = [&](std::string origin) {
    const Id renamed = add(paper.book(), "bed",
                           {reference_value("block", *Id::parse(block)), text_field_value("name", "N20x"),
                            quantity_value("size.length", "100 ft"), quantity_value("size.width", "30 in"),
                            date_value("valid.from", *parse_date("2026-05-14")),
                            list_value("origin.beds", {std::move(origin)}), word_value("origin.how", "renamed")});
    const BedStates states = paper.states();
    const BedState* bed = states.bed(renamed);
    REQUIRE(bed);
    return bed->holds_harvest(states.at);
  };
  CHECK(held_on(old.text() + " 0 ft 100 ft"));
  CHECK(held_on(old.text() + " 100 ft 0 ft"));
  CHECK(held_on(old.text()));
}

TEST_CASE("a picking is asked about by its own stretch of the bed") {
  Paper paper(14);
  const Id load = paper.load(1, {reference_value("mix.brew", paper.farm.brew())});
  add(paper.book(), "dose",
      {reference_value("what.load", load), reference_value("what.bed", paper.farm.beds[0]),
       quantity_value("what.from", "0 ft"), quantity_value("what.to", "40 ft"), word_value("what.how", "part"),
       instant_value("when.finish", after(paper.start, 10 * kMinute))});
  const auto asked = [&](std::optional<Written> from, std::optional<Written> to) {
    HarvestGiven picked;
    picked.bed = paper.farm.beds[0];
    picked.from = from;
    picked.to = to;
    return !got(harvest_cautions(paper.book(), picked, paper.farm.now())).empty();
  };
  CHECK(asked({}, {}));
  CHECK(asked(q("10 ft"), q("30 ft")));
  CHECK(asked(q("90 ft"), q("30 ft")));
  CHECK_FALSE(asked(q("50 ft"), q("90 ft")));
}

TEST_CASE("ground of a bed on which nothing is written to grow is held like a bare bed") {
  FarmBook farm(1, 1);
  Book& book = farm.book();
  const Id bed = farm.beds[0];
  add(book, "planting",
      {reference_value("bed", bed), text_field_value("crop", "lettuce"), date_value("planted", {2026, 4, 9}),
       quantity_value("stretch.from", "0 ft"), quantity_value("stretch.to", "50 ft")});
  const auto state = [&] { return got(bed_states(book, farm.farm, farm.now())).beds[0]; };
  SUBCASE("a hold that a person set there") {
    add(book, "hold",
        {reference_value("bed", bed), quantity_value("stretch.from", "50 ft"), quantity_value("stretch.to", "100 ft"),
         word_value("what", "harvest"), text_field_value("why", "herbs along the edge")});
    CHECK_FALSE(state().plantings[0].harvest.hold.holds_at(farm.now()));
  }
  SUBCASE("tea on its leaves") {
    const Id pass = farm.start(farm.choices(farm.brew(), {bed}));
    farm.pass_time(kMinute);
    done(bed_half(book, pass, bed, true, farm.by_ana()));
    CHECK_FALSE(state().plantings[0].harvest.hold.holds_at(farm.now()));
  }
  CHECK(state().holds_harvest(farm.now()));
  REQUIRE(state().stretches.size() == 2);
  CHECK(state().stretches[1].stretch.from.feet() == doctest::Approx(50));
  CHECK(state().stretches[1].harvest.hold.holds_at(farm.now()));
}

TEST_CASE("a wait that nobody wrote down holds for years: before entry whatever was planted since") {
  Paper paper(0, 1);
  const Id load = paper.load(1, water("4 gal"));
  const Id material = paper.farm.material("Wettable sulfur", "pesticide", true);
  add(paper.book(), "load-line",
      {reference_value("load", load), reference_value("amount.lot", paper.farm.lot(material, "PB1", "1 kg"))});
  paper.dose(load, paper.farm.beds[0]);
  paper.farm.plant(paper.farm.beds[0], "lettuce", "2027-09-01");
  const BedStates states = paper.states_at(paper.farm.now() + 500 * kDay);
  CHECK(states.beds[0].entry.hold.state == Hold::State::NotKnown);
  // What was sown a year after the spray cannot have been on the plants that it hit.
  CHECK_FALSE(states.beds[0].holds_harvest(states.at));
}

TEST_CASE("a bed of no length, as a file may bring it, is held as one that nobody measured") {
  Paper paper(14, 1);
  const Id bed = paper.farm.beds[0];
  edit(paper.book(), bed, {quantity_value("size.length", "0 ft"), quantity_value("size.width", "30 in")});
  const Id load = paper.load(1, {reference_value("mix.brew", paper.farm.brew())});
  paper.dose(load, bed);
  CHECK(paper.states().beds[0].holds_harvest(paper.farm.now()));
}

TEST_CASE("a wait to a midnight of another zone is no whole day on the farm's clock") {
  Paper paper(14, 1);
  FarmBook& farm = paper.farm;
  paper.dose(paper.load(1, {reference_value("mix.brew", farm.brew())}), farm.beds[0]);
  Copy office("Office", 9);
  office.open();
  meet(farm.copy, office);
  edit(farm.book(), farm.farm, {text_field_value("zone.name", "America/New_York")});
  edit(*office.book, farm.farm, {text_field_value("zone.name", "America/Los_Angeles")});
  meet(farm.copy, office);
  for (const Book* book : {&farm.book(), office.book.get()}) {
    const BedStates states = got(bed_states(*book, farm.farm, farm.now()));
    const Hold& hold = states.beds[0].harvest.hold;
    // 13 May + 14 days: midnight in Los Angeles is three hours after that in New York.
    REQUIRE(hold.until);
    CHECK(*hold.until == at("2026-05-27T00:00:00-07:00").at);
    const Zone& zone = states.places.farm.zone;
    CHECK(hold.whole_day == (zone.start_of(*hold.first_day) == *hold.until));
  }
}
