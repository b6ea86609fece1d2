// I19 beyond doses: holds set by hand, labels, what is in a tank. Under every head and every readable line that waits the
// most cautious governs.
#include <algorithm>

#include "book/report_data.h"
#include "book/settle_commands.h"
#include "tests/unit/scenario_farm.h"
#include "tests/unit/two_copies.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Ana and the office disagree about one record: each writes its own value without knowing of the other's.
struct Disagreeing : Farm2 {
  explicit Disagreeing(std::optional<int> tea_days = 0) : Farm2(tea_days) {}
  void over(const Id& record, std::vector<FieldValue> anas, std::vector<FieldValue> offices) {
    exchange(ana.copy, office);
    edit(book(), record, std::move(anas));
    edit(*office.book, record, std::move(offices));
    exchange(ana.copy, office);
    REQUIRE(both_agree());
    REQUIRE(differs(book(), record));
  }
  bool held(const Copy& copy, std::size_t bed) const {
    const BedStates at = states(copy);
    return at.beds[bed].holds_harvest(at.at);
  }
  bool endless(std::size_t bed) const { return states(ana.copy).beds[bed].harvest.hold.state == Hold::State::NotKnown; }
  /// A binding product in Ana's load.
  Id product(const Id& material) {
    return add(book(), "load-line",
               {reference_value("load", load), reference_value("amount.lot", ana.lot(material, "PB1", "1 kg")),
                quantity_value("amount.amount", "30 mL")});
  }
};

/// Two saves that belong together, of which only the second came: it waits, and can be read.
ForeignLane half_an_act(const Part& part, const Id& record, std::string kind, std::vector<FieldValue> fields) {
  ForeignLane lane(77, part);
  Id other;
  other.bytes = {77, 1};
  lane.add(other, "rig", {text_field_value("name", "Backpack 9")}, {}, 1, false);
  lane.add(record, std::move(kind), std::move(fields), {}, 1, true);
  return lane;
}

Id new_id(std::uint8_t mark) {
  Id id;
  id.bytes = {mark, 5, 5};
  return id;
}

}  // namespace

TEST_CASE("a hold set by hand whose bed copies disagree about holds both beds, in all readings of its end and kind") {
  Disagreeing farm;
  const Id hold =
      done(set_hold(farm.book(), farm.ana.beds[1], false, true, std::nullopt, "flooded", farm.ana.by_ana())).record;
  SUBCASE("two beds") {
    farm.over(hold, {reference_value("bed", farm.ana.beds[2])}, {reference_value("bed", farm.ana.beds[3])});
    for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
      const BedStates states = farm.states(*copy);
      CHECK_FALSE(states.beds[1].holds_entry(states.at));
      CHECK(states.beds[2].holds_entry(states.at));
      CHECK(states.beds[3].holds_entry(states.at));
      CHECK(states.beds[2].to_settle == 1);
    }
  }
  SUBCASE("two ends: the later; with an end and without one: none") {
    const Stamp soon = at("2026-05-15T12:00:00-04:00"), later = at("2026-05-16T12:00:00-04:00");
    farm.over(hold, {instant_value("until", soon)}, {instant_value("until", later)});
    CHECK(farm.states(farm.office).beds[1].entry.hold.until == later.at);
    farm.over(hold, {instant_value("until", soon)}, {not_taken("until")});
    CHECK(farm.states(farm.office).beds[1].entry.hold.state == Hold::State::NotKnown);
  }
  SUBCASE("two stretches: the whole bed, for what lies between may be meant") {
    const auto stretch = [](std::string from, std::string to) {
      return std::vector<FieldValue>{quantity_value("stretch.from", std::move(from)),
                                     quantity_value("stretch.to", std::move(to))};
    };
    farm.over(hold, stretch("0 ft", "20 ft"), stretch("80 ft", "100 ft"));
    const BedStates states = farm.states(farm.office);
    for (const StretchState& part : states.beds[1].stretches) CHECK(part.entry.hold.holds_at(states.at));
  }
  SUBCASE("a release that copies disagree about lets go of nothing") {
    const Id release = add(farm.book(), "release",
                           {reference_value("hold", hold), text_field_value("why", "dry again"),
                            instant_value("at", at("2026-05-14T17:30:00-04:00"))});
    BedStates states = farm.states(farm.ana.copy);
    CHECK_FALSE(states.beds[1].holds_entry(states.at));
    farm.over(release, {instant_value("at", at("2026-05-14T17:20:00-04:00"))},
              {instant_value("at", at("2026-05-14T17:40:00-04:00"))});
    states = farm.states(farm.office);
    CHECK(states.beds[1].holds_entry(states.at));
  }
  SUBCASE("of what: of both") {
    farm.over(hold, {word_value("what", "harvest")}, {word_value("what", "entry")});
    const BedStates states = farm.states(farm.office);
    CHECK(states.beds[1].holds_entry(states.at));
    CHECK(states.beds[1].holds_harvest(states.at));
  }
}

TEST_CASE("a hold known only from a line that waits holds, and is held against what was picked") {
  Farm2 farm(0);
  const Id picked = add(farm.book(), "harvest",
                        {reference_value("bed", farm.ana.beds[1]), quantity_value("amount", "8 lb"),
                         instant_value("at", at("2026-05-15T08:00:00-04:00"))});
  const Id hold = new_id(200);
  ForeignLane lane = half_an_act(Part{farm.ana.farm, 2026}, hold, "hold",
                                 {reference_value("bed", farm.ana.beds[1]), text_field_value("why", "flooded")});
  const auto check = [&](bool waits) {
    CAPTURE(waits);
    CHECK(got(farm.book().waiting()).size() == (waits ? 1 : 0));
    const BedStates states = farm.states(farm.ana.copy);
    CHECK(states.beds[1].holds_harvest(states.at));
    CHECK(states.beds[1].holds_entry(states.at));
    CHECK(states.beds[1].set_by_hand);
    CHECK(states.beds[1].to_settle == waits);
    CHECK_FALSE(states.beds[2].holds_harvest(states.at));
    const auto found = got(farm.book().reviews());
    CHECK(std::count_if(found.begin(), found.end(), [&](const Review& review) {
            return review.record == picked && review.why == "finding.picked-under-hold"_w;
          }) == 1);
  };
  CHECK(reviews(farm.book(), "finding.picked-under-hold") == 0);
  REQUIRE(take(farm.book(), {lane.section(2)}));
  check(true);
  // Its file set aside, it holds nothing.
  const auto file = got(farm.book().batches()).front().row;
  REQUIRE(farm.book().set_aside(file, true));
  BedStates without = farm.states(farm.ana.copy);
  CHECK_FALSE(without.beds[1].holds_harvest(without.at));
  REQUIRE(farm.book().set_aside(file, false));
  check(true);
  REQUIRE(take(farm.book(), {lane.section()}));
  check(false);
}

TEST_CASE("a dose known only from a line that waits holds its bed") {
  Farm2 farm(1);
  std::vector<FieldValue> fields =
      Farm2::what(farm.load, farm.ana.beds[2], "0 ft", "100 ft", not_taken("what.volume"), "done");
  fields.push_back(instant_value("when.finish", at("2026-05-14T17:30:00-04:00")));
  ForeignLane lane = half_an_act(Part{farm.ana.farm, 2026}, new_id(203), "dose", std::move(fields));
  REQUIRE(take(farm.book(), {lane.section(2)}));
  REQUIRE(got(farm.book().waiting()).size() == 1);
  const BedStates states = farm.states(farm.ana.copy);
  CHECK(states.beds[2].harvest.hold.until == on_the_minute(at("2026-05-15T17:30:00-04:00").at));
  CHECK_FALSE(states.beds[3].holds_harvest(states.at));
}

TEST_CASE("a label line that waits, or whose crop copies disagree about, never makes a wait shorter") {
  Disagreeing farm;
  const Id material = farm.ana.material("Copper soap", "pesticide", true);
  const Moment finish = at("2026-05-14T17:09:00-04:00").at;
  farm.product(material);
  farm.ana.plant(farm.ana.beds[0], "Kale");
  SUBCASE("a longer wait for the crop comes in a line that waits") {
    farm.ana.label(material, "", "3 day");
    CHECK(farm.wait_end(farm.ana.copy) < finish + 10 * kDay);
    ForeignLane lane = half_an_act({}, new_id(201), "label-line",
                                   {reference_value("material", material), text_field_value("crop", "kale"),
                                    quantity_value("wait.harvest", "14 day"), quantity_value("wait.entry", "0 h")});
    REQUIRE(take(farm.book(), {lane.section(2)}));
    CHECK(farm.wait_end(farm.ana.copy) > finish + 13 * kDay);
    CHECK_FALSE(farm.endless(0));
    REQUIRE(take(farm.book(), {lane.section()}));
    CHECK(farm.wait_end(farm.ana.copy) > finish + 13 * kDay);
  }
  SUBCASE("the line that waits is the only one for the crop: nothing names it yet") {
    farm.ana.label(material, "lettuce", "3 day");
    ForeignLane lane = half_an_act({}, new_id(201), "label-line",
                                   {reference_value("material", material), text_field_value("crop", "kale"),
                                    quantity_value("wait.harvest", "1 day"), quantity_value("wait.entry", "0 h")});
    REQUIRE(take(farm.book(), {lane.section(2)}));
    CHECK(farm.endless(0));
    REQUIRE(take(farm.book(), {lane.section()}));
    CHECK_FALSE(farm.endless(0));
  }
  SUBCASE("one says lettuce, another kale: under one of them kale is not on the label") {
    const Id line = farm.ana.label(material, "kale", "3 day");
    CHECK_FALSE(farm.endless(0));
    farm.over(line, {text_field_value("crop", "lettuce")}, {text_field_value("crop", "Kale")});
    CHECK(farm.endless(0));
  }
  SUBCASE("struck by one, edited by another") {
    const Id line = farm.ana.label(material, "kale", "3 day");
    exchange(farm.ana.copy, farm.office);
    strike_on(farm.ana.copy, line, "old label");
    edit(*farm.office.book, line, {quantity_value("wait.harvest", "2 day"), quantity_value("wait.entry", "0 h")});
    exchange(farm.ana.copy, farm.office);
    CHECK(farm.endless(0));
  }
}

TEST_CASE("two entry waits of one label line: the longer; a lot of one material or another: of both") {
  Disagreeing farm;
  const Id material = farm.ana.material("Copper soap", "pesticide", true);
  farm.office.clock += kHour;  // What the office says stands in.
  SUBCASE("entry") {
    const Id line = farm.ana.label(material, "", "0 day", "4 h");
    farm.product(material);
    const auto waits = [](std::string entry) {
      return std::vector<FieldValue>{quantity_value("wait.harvest", "0 day"),
                                     quantity_value("wait.entry", std::move(entry))};
    };
    farm.over(line, waits("48 h"), waits("6 h"));
    for (const Copy* copy : {&farm.ana.copy, &farm.office})
      CHECK(farm.states(*copy).beds[0].entry.hold.until == on_the_minute(at("2026-05-16T17:09:00-04:00").at));
  }
  SUBCASE("material") {
    const Id soap = farm.ana.material("Plant wash", "other", false);
    farm.ana.label(material, "", "14 day");
    const Id lot = *Id::parse(text_of(farm.book(), farm.product(material), "amount.lot"));
    farm.over(lot, {reference_value("material", material)}, {reference_value("material", soap)});
    CHECK(farm.held(farm.ana.copy, 0));
    CHECK(farm.held(farm.office, 0));
  }
}

TEST_CASE("whether a label binds: not said by one, denied by another, of what is a pesticide") {
  Disagreeing farm;
  const Id material = farm.ana.material("Copper soap", "pesticide", true);
  farm.product(material);
  farm.ana.label(material, "", "14 day");
  farm.office.clock += kHour;  // What the office says stands in.
  farm.over(material, {not_taken("labelled")}, {yes_no_value("labelled", false)});
  CHECK(farm.held(farm.ana.copy, 0));
  CHECK(farm.held(farm.office, 0));
}

TEST_CASE("what is in a tank, and what was poured out of it, by all that copies say") {
  Disagreeing farm;
  const Id material = farm.ana.material("Copper soap", "pesticide", true);
  farm.ana.label(material, "", "14 day");
  const auto load_of = [&](std::string number, std::vector<FieldValue> more) {
    more.push_back(reference_value("pass", farm.pass));
    more.push_back(number_value("number", std::move(number)));
    more.push_back(quantity_value("mix.tea", "0 gal"));
    more.push_back(quantity_value("mix.water", "2 gal"));
    return add(farm.book(), "load", std::move(more));
  };
  const auto product_in = [&](const Id& load) {
    return add(farm.book(), "load-line",
               {reference_value("load", load), reference_value("amount.lot", farm.ana.lot(material, "PB1", "1 kg"))});
  };
  const auto sprayed = [&](const Id& load, std::size_t bed) {
    Farm2::paper_dose(farm.ana.copy, load, farm.ana.beds[bed], "2026-05-14T17:20:00-04:00",
                      "2026-05-14T17:25:00-04:00");
  };
  SUBCASE("two amounts poured out: something may have stayed") {
    const Id second = load_of("2", {quantity_value("left", "1 gal")}),
             third = load_of("3", {quantity_value("left", "0 gal")});
    product_in(second);
    const Id discard =
        add(farm.book(), "discard", {reference_value("of", second), quantity_value("volume", "0.5 gal")});
    sprayed(third, 2);
    CHECK(farm.held(farm.ana.copy, 2));
    farm.office.clock += kHour;  // What the office says stands in.
    farm.over(discard, {quantity_value("volume", "0.2 gal")}, {quantity_value("volume", "1 gal")});
    CHECK(farm.held(farm.ana.copy, 2));
    CHECK(farm.held(farm.office, 2));
    done(settle(farm.book(), discard, "volume",
                text_in(group_at(farm.ana.copy, discard, "volume").heads[0].fields, "volume") == "1 gal" ? 0 : 1,
                "measured", farm.ana.by_ana()));
    CHECK_FALSE(farm.held(farm.ana.copy, 2));
  }
  SUBCASE("a product struck by one, its amount corrected by another") {
    const Id line = product_in(farm.load);
    CHECK(farm.held(farm.ana.copy, 0));
    exchange(farm.ana.copy, farm.office);
    strike_on(farm.ana.copy, line, "not in this one");
    CHECK_FALSE(farm.held(farm.ana.copy, 0));
    edit(*farm.office.book, line,
         {reference_value("amount.lot", *Id::parse(text_of(farm.book(), line, "amount.lot"))),
          quantity_value("amount.amount", "40 mL")});
    exchange(farm.ana.copy, farm.office);
    CHECK(farm.held(farm.ana.copy, 0));
    CHECK(farm.held(farm.office, 0));
  }
  SUBCASE("a product in one load or the other: in both") {
    const Id second = load_of("2", {quantity_value("left", "0 gal")}),
             third = load_of("3", {quantity_value("left", "0 gal")}),
             fourth = load_of("4", {quantity_value("left", "0 gal")});
    const Id line = product_in(second);
    sprayed(third, 2);
    sprayed(fourth, 3);
    CHECK_FALSE(farm.held(farm.ana.copy, 2));
    farm.over(line, {reference_value("load", third)}, {reference_value("load", fourth)});
    for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
      CHECK(farm.held(*copy, 2));
      CHECK(farm.held(*copy, 3));
    }
  }
}

TEST_CASE("a finish that one copy gives and another takes back: nobody knows when, so the wait has no end") {
  Disagreeing farm(1);
  const auto when = [](FieldValue finish) {
    return std::vector<FieldValue>{instant_value("when.start", at("2026-05-14T17:04:00-04:00")), std::move(finish)};
  };
  CHECK_FALSE(farm.endless(0));
  farm.office.clock += kHour;  // What the office says stands in.
  farm.over(farm.dose, when(not_taken("when.finish")),
            when(instant_value("when.finish", at("2026-05-14T17:08:00-04:00"))));
  CHECK(farm.endless(0));
  CHECK(farm.states(farm.office).beds[0].harvest.hold.state == Hold::State::NotKnown);
  const auto report = got(report_data(farm.book(), farm.ana.farm, {2026, 5, 14}, {2026, 5, 14}));
  CHECK(report.passes.at(0).doses.at(0).harvest.state == Hold::State::NotKnown);
}

TEST_CASE("a dose out of one load or another: on paper too the load that holds longest counts") {
  Disagreeing farm;
  const Id material = farm.ana.material("Copper soap", "pesticide", true);
  farm.ana.label(material, "", "14 day");
  const Id other = add(farm.book(), "load",
                       {reference_value("pass", farm.pass), number_value("number", "2"),
                        quantity_value("mix.tea", "0 gal"), quantity_value("mix.water", "2 gal")});
  add(farm.book(), "load-line",
      {reference_value("load", other), reference_value("amount.lot", farm.ana.lot(material, "PB1", "1 kg"))});
  const auto out_of = [&](const Id& load) {
    return Farm2::what(load, farm.ana.beds[0], "0 ft", "100 ft", not_taken("what.volume"), "done");
  };
  farm.office.clock += kHour;  // What the office says stands in.
  farm.over(farm.dose, out_of(other), out_of(farm.load));
  CHECK(farm.held(farm.office, 0));
  const auto report = got(report_data(*farm.office.book, farm.ana.farm, {2026, 5, 14}, {2026, 5, 14}));
  CHECK(report.passes.at(0).doses.at(0).harvest.until == farm.wait_end(farm.office));
}

TEST_CASE("a load in one pass or another, or in two places of one: the aims and what stayed of both count") {
  Disagreeing farm(14);
  exchange(farm.ana.copy, farm.office);
  const auto pass_of = [&](std::string number, std::string_view aim) {
    return add(farm.book(), "pass",
               {reference_value("farm", farm.ana.farm), number_value("number", std::move(number)),
                word_value("aim", aim), instant_value("start", at("2026-05-14T17:00:00-04:00")),
                instant_value("finish", at("2026-05-14T18:00:00-04:00"))});
  };
  farm.office.clock += kHour;  // What the office says stands in.
  SUBCASE("on leaves by one, on soil by the other") {
    const Id soil = pass_of("8", "soil");
    CHECK(farm.held(farm.ana.copy, 0));
    farm.over(farm.load, {reference_value("pass", farm.pass)}, {reference_value("pass", soil)});
    CHECK(farm.held(farm.ana.copy, 0));
    CHECK(farm.held(farm.office, 0));
    done(settle(farm.book(), farm.load, "pass",
                text_in(group_at(farm.ana.copy, farm.load, "pass").heads[0].fields, "pass") == soil.text() ? 0 : 1,
                "it was the drench", farm.ana.by_ana()));
    CHECK_FALSE(farm.held(farm.ana.copy, 0));
  }
  SUBCASE("the pass itself on leaves by one, on soil by the other") {
    farm.over(farm.pass, {word_value("aim", "leaf")}, {word_value("aim", "soil")});
    CHECK(farm.held(farm.ana.copy, 0));
    CHECK(farm.held(farm.office, 0));
  }
  SUBCASE("the first load by one, the third by the other: what stays in the second goes into it") {
    const Id other = pass_of("9", "leaf"), material = farm.ana.material("Copper soap", "pesticide", true);
    farm.ana.label(material, "", "20 day");
    const auto load_of = [&](std::string number) {
      return add(farm.book(), "load",
                 {reference_value("pass", other), number_value("number", std::move(number)),
                  quantity_value("mix.tea", "0 gal"), quantity_value("mix.water", "2 gal")});
    };
    const Id second = load_of("2"), moved = load_of("3");
    add(farm.book(), "load-line",
        {reference_value("load", second), reference_value("amount.lot", farm.ana.lot(material, "PB1", "1 kg"))});
    Farm2::paper_dose(farm.ana.copy, moved, farm.ana.beds[2], "2026-05-14T17:20:00-04:00", "2026-05-14T17:25:00-04:00");
    CHECK(farm.held(farm.ana.copy, 2));
    farm.over(moved, {number_value("number", "3")}, {number_value("number", "1")});
    CHECK(farm.held(farm.ana.copy, 2));
    CHECK(farm.held(farm.office, 2));
  }
}

TEST_CASE("a bed that copies joined with different ones is each of them until somebody says which") {
  Disagreeing farm(1);
  exchange(farm.ana.copy, farm.office);
  const auto& beds = farm.ana.beds;
  SUBCASE("two answers") {
    done(join_same(farm.book(), beds[0], beds[1], "one bed", farm.ana.by_ana()));
    done(join_same(*farm.office.book, beds[0], beds[2], "one bed", farm.ana.by_ana()));
    exchange(farm.ana.copy, farm.office);
    REQUIRE(differs(farm.book(), beds[0]));
    for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
      const BedStates states = farm.states(*copy);
      CHECK(states.bed(beds[1])->holds_harvest(states.at));
      CHECK(states.bed(beds[2])->holds_harvest(states.at));
      CHECK_FALSE(states.bed(beds[3])->holds_harvest(states.at));
    }
  }
  SUBCASE("one in a line that waits") {
    ForeignLane lane(78, Part{farm.ana.farm});
    Id other;
    other.bytes = {78, 1};
    lane.add(other, "block", {text_field_value("name", "Creek")}, {}, 1, false);
    lane.add(beds[0], "bed", {reference_value("same_as", beds[1])}, heads(farm.book(), beds[0]), 1, true);
    REQUIRE(take(farm.book(), {lane.section(2)}));
    REQUIRE(got(farm.book().waiting()).size() == 1);
    const BedStates states = farm.states(farm.ana.copy);
    CHECK(states.bed(beds[1])->holds_harvest(states.at));
    CHECK_FALSE(states.bed(beds[2])->holds_harvest(states.at));
  }
}

TEST_CASE("two strikes of one dose, of which its editor saw one: which stands in decides nothing about waits (I11)") {
  for (const bool anas_is_later : {true, false}) {
    CAPTURE(anas_is_later);
    Disagreeing farm(1);
    exchange(farm.ana.copy, farm.office);
    (anas_is_later ? farm.ana.copy : farm.office).clock += kHour;
    strike_on(farm.ana.copy, farm.dose, "logged twice");
    edit(farm.book(), farm.dose, {text_field_value("note", "wind dropped")});  // Ana saw her own strike.
    strike_on(farm.office, farm.dose, "logged twice");
    exchange(farm.ana.copy, farm.office);
    CHECK(reviews(farm.book(), "review.edited_unaware") == 1);
    CHECK(farm.held(farm.ana.copy, 0));
    CHECK(farm.held(farm.office, 0));
    CHECK(farm.both_agree());
    done(stay_struck(farm.book(), farm.dose, "it was the next bed", farm.ana.by_ana()));
    exchange(farm.ana.copy, farm.office);
    CHECK_FALSE(farm.held(farm.office, 0));
    CHECK(reviews(farm.book(), "review.edited_unaware") == 0);
  }
}

TEST_CASE("struck, then restored by one and struck anew by another: it counts until somebody settles it") {
  Disagreeing farm(1);
  strike_on(farm.ana.copy, farm.dose, "logged twice");
  CHECK_FALSE(farm.held(farm.ana.copy, 0));
  farm.office.clock += kHour;  // What the office says stands in.
  farm.over(farm.dose, {not_taken("struck")}, {text_field_value("struck", "the next bed")});
  CHECK(struck(farm.ana.copy, farm.dose) == "the next bed");
  CHECK(farm.held(farm.ana.copy, 0));
  CHECK(farm.held(farm.office, 0));
}

TEST_CASE("a struck dose that a line which waits restores or edits counts; one that it strikes again does not") {
  Disagreeing farm(1);
  strike_on(farm.ana.copy, farm.dose, "logged twice");
  CHECK_FALSE(farm.held(farm.ana.copy, 0));
  const auto held_after = [&](FieldValue field) {
    ForeignLane lane = half_an_act(Part{farm.ana.farm, 2026}, farm.dose, "dose", {std::move(field)});
    REQUIRE(take(farm.book(), {lane.section(2)}));
    REQUIRE(got(farm.book().waiting()).size() == 1);
    return farm.held(farm.ana.copy, 0);
  };
  SUBCASE("restored") { CHECK(held_after(not_taken("struck"))); }
  SUBCASE("edited") { CHECK(held_after(text_field_value("note", "wind dropped"))); }
  SUBCASE("struck") { CHECK_FALSE(held_after(text_field_value("struck", "wrong bed"))); }
}

TEST_CASE("given up for a dose that copies disagree about: the later of both finishes counts") {
  Disagreeing farm(1);
  const Id other = Farm2::paper_dose(farm.ana.copy, farm.load, farm.ana.beds[0], "2026-05-15T17:05:00-04:00",
                                     "2026-05-15T17:10:00-04:00");
  edit(farm.book(), other, {text_field_value("struck", "logged twice"), reference_value("same_as", farm.dose)});
  const Moment end = *farm.wait_end(farm.ana.copy);
  farm.office.clock += kHour;  // What the office says stands in.
  auto skipped = Farm2::what(farm.load, farm.ana.beds[0], "0 ft", "100 ft", not_taken("what.volume"), "skipped");
  farm.over(farm.dose, std::move(skipped), farm.half());
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    CHECK(farm.wait_end(*copy) == end + kDay + kMinute);
  }
}

namespace {

/// Three entries of one bed, each a day later than the one before; about the first people disagree whether it stands.
struct GivenUpInTurn : Disagreeing {
  Id second, third;
  Moment end;

  GivenUpInTurn() : Disagreeing(1) {
    second = paper_dose(ana.copy, load, ana.beds[0], "2026-05-15T17:05:00-04:00", "2026-05-15T17:09:00-04:00");
    third = paper_dose(ana.copy, load, ana.beds[0], "2026-05-16T17:05:00-04:00", "2026-05-16T17:09:00-04:00");
    exchange(ana.copy, office);
    end = *wait_end(ana.copy);
  }
  static std::vector<FieldValue> given_up_for(const Id& kept) {
    return {text_field_value("struck", "logged twice"), reference_value("same_as", kept)};
  }
  void disagree_about_first() {
    office.clock += 2 * kHour;  // What Ana says does not stand in.
    over(dose, {text_field_value("struck", "never sprayed")}, {not_taken("struck")});
    REQUIRE(struck(ana.copy, dose).empty());
  }
};

}  // namespace

TEST_CASE("given up for one that was given up for a dose in dispute: the latest of the three counts") {
  GivenUpInTurn farm;
  edit(farm.book(), farm.third, GivenUpInTurn::given_up_for(farm.second));
  edit(farm.book(), farm.second, GivenUpInTurn::given_up_for(farm.dose));
  CHECK(farm.wait_end(farm.ana.copy) == farm.end - 2 * kDay);
  farm.disagree_about_first();
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) CHECK(farm.wait_end(*copy) == farm.end);
}

TEST_CASE("given up for two by two copies, one of them in dispute, whichever stands in: it counts") {
  GivenUpInTurn farm;
  Copy* first = &farm.ana.copy;
  Copy* last = &farm.office;
  SUBCASE("what Ana says stands in") { std::swap(first, last); }
  SUBCASE("what the office says stands in") {}
  edit(farm.book(), farm.third, GivenUpInTurn::given_up_for(farm.second));
  exchange(farm.ana.copy, farm.office);
  last->clock += kHour;
  edit(*first->book, farm.third, {reference_value("same_as", farm.dose)});
  edit(*last->book, farm.third, {reference_value("same_as", farm.second)});
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.wait_end(farm.ana.copy) == farm.end - kDay);
  farm.disagree_about_first();
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) CHECK(farm.wait_end(*copy) == farm.end);
}
