// What the checks find after every write and take: always what the book says now, by every reading of it, and nothing
// of what it said before.
#include "book/enter.h"
#include "book/settle_commands.h"
#include "book/trace.h"
#include "tests/unit/scenario_farm.h"
#include "tests/unit/two_copies.h"

using namespace steep;
using namespace steep::test;

namespace {

/// One load that was sprayed on 14 May, entered after the fact. A farm with bare beds.
struct Sprayed {
  FarmBook farm;
  Id brew, pass, load;

  explicit Sprayed(std::optional<int> wait_days = 14) : farm(wait_days, 4), brew(farm.brew()) {
    pass = add(book(), "pass",
               {reference_value("farm", farm.farm), number_value("number", "7"), word_value("aim", "leaf"),
                instant_value("start", at("2026-05-10T09:00:00-04:00")),
                instant_value("finish", at("2026-05-10T11:00:00-04:00"))});
    load = new_load(brew);
  }
  Book& book() { return farm.book(); }
  Id new_load(const Id& of) {
    return add(book(), "load",
               {reference_value("pass", pass), number_value("number", "1"), reference_value("mix.brew", of),
                quantity_value("mix.tea", "0.5 gal"), quantity_value("mix.water", "0.5 gal")});
  }
  static std::vector<FieldValue> what(const Id& load, const Id& bed, std::string_view how = "done") {
    return Farm2::what(load, bed, "0 ft", "100 ft", not_taken("what.volume"), how);
  }
  Id dose(const Id& bed, std::string_view finish = "2026-05-10T10:00:00-04:00") {
    std::vector<FieldValue> fields = what(load, bed);
    fields.push_back(instant_value("when.finish", at(finish)));
    return add(book(), "dose", std::move(fields));
  }
  Id pick(const Id& bed, std::string_view when = "2026-05-12T09:00:00-04:00") {
    return add(book(), "harvest",
               {reference_value("bed", bed), quantity_value("amount", "18 lb"), instant_value("at", at(when))});
  }
  /// So many findings of this word; a rebuild has the same.
  int found(std::string_view word) {
    const int now = reviews(book(), word);
    REQUIRE(book().rebuild());
    CHECK(reviews(book(), word) == now);
    return now;
  }
};

constexpr std::string_view kInside = "finding.picked-inside-wait", kHeld = "finding.picked-while-held",
                           kUnderHold = "finding.picked-under-hold";

}  // namespace

TEST_CASE("picked under a hold set by hand") {
  Sprayed of;
  const Id bed = of.farm.beds[0], other = of.farm.beds[1];
  const Going by = of.farm.by_ana();
  SUBCASE("entered before the picking, released after it") {
    const Id hold = done(set_hold(of.book(), bed, true, true, {}, "glass", by)).record;
    of.farm.pass_time(kHour);
    const Stamp now = of.book().now();
    add(of.book(), "harvest", {reference_value("bed", bed), instant_value("at", now)});
    add(of.book(), "harvest", {reference_value("bed", other), instant_value("at", now)});
    REQUIRE(of.found(kUnderHold) == 1);
    of.farm.pass_time(kHour);
    done(release_hold(of.book(), hold, "picked up", by));
    CHECK(of.found(kUnderHold) == 1);
    SUBCASE("released before it, as it turns out") {
      const Id release = got(of.book().records("release")).front().id;
      edit(of.book(), release, {instant_value("at", {now.at - kMinute, now.offset_minutes})});
      CHECK(of.found(kUnderHold) == 0);
      done(strike(of.book(), release, "it is still there", by));
      CHECK(of.found(kUnderHold) == 1);
    }
    SUBCASE("the hold was of the other bed") {
      edit(of.book(), hold, {reference_value("bed", other)});
      const auto all = got(of.book().reviews());
      REQUIRE(of.found(kUnderHold) == 1);
      CHECK(std::any_of(all.begin(), all.end(), [&](const Review& review) {
        return review.why.key == kUnderHold && review.values[0].find(other.text()) != std::string::npos;
      }));
    }
    SUBCASE("the hold was against entry alone") {
      edit(of.book(), hold, {word_value("what", "entry")});
      CHECK(of.found(kUnderHold) == 0);
    }
    SUBCASE("the hold was struck") {
      done(strike(of.book(), hold, "wrong bed", by));
      CHECK(of.found(kUnderHold) == 0);
    }
  }
  SUBCASE("the picking was first, or after its end") {
    of.pick(bed);
    const Moment end = of.farm.now() + kHour;
    done(set_hold(of.book(), bed, true, false, end, "glass", by));
    add(of.book(), "harvest", {reference_value("bed", bed), instant_value("at", {end, -240})});
    CHECK(of.found(kUnderHold) == 0);
  }
  SUBCASE("the other half of the bed") {
    add(of.book(), "hold",
        {reference_value("bed", bed), quantity_value("stretch.from", "50 ft"), quantity_value("stretch.to", "0 ft"),
         word_value("what", "harvest"), text_field_value("why", "glass")});
    for (const auto& [from, to] : {std::pair{"50 ft", "100 ft"}, std::pair{"40 ft", "60 ft"}})
      add(of.book(), "harvest",
          {reference_value("bed", bed), quantity_value("stretch.from", from), quantity_value("stretch.to", to),
           instant_value("at", of.book().now())});
    CHECK(of.found(kUnderHold) == 1);
  }
}

TEST_CASE("a dose whose finish nobody knows holds from the earliest time that its entry names") {
  Sprayed of(2);
  const Id bed = of.farm.beds[0];
  std::vector<FieldValue> fields = Sprayed::what(of.load, bed);
  fields.push_back(instant_value("late.at", at("2026-05-10T10:00:00-04:00")));
  fields.push_back(word_value("late.from", "paper"));
  const Id dose = add(of.book(), "dose", std::move(fields));
  const Id picked = of.pick(bed, "2026-05-11T09:00:00-04:00");  // Typed on the 14th.
  CHECK(of.found(kHeld) == 1);
  of.pick(bed, "2026-05-09T09:00:00-04:00");  // Before the pass began.
  CHECK(of.found(kHeld) == 1);
  const auto has = [](const Trace& trace, const Id& id) {
    return std::any_of(trace.nodes.begin(), trace.nodes.end(),
                       [&](const TraceNode& node) { return node.record == id; });
  };
  const Trace back = got(trace_backward(of.book(), picked)), forth = got(trace_forward(of.book(), of.brew));
  for (const Id& id : {dose, of.load, of.brew}) CHECK(has(back, id));
  CHECK(has(forth, picked));
  CHECK(std::count_if(forth.nodes.begin(), forth.nodes.end(),
                      [](const TraceNode& node) { return node.stage == TraceStage::Harvest; }) == 1);
  // Once somebody knows, it counts from there.
  edit(of.book(), dose, {instant_value("when.finish", at("2026-05-10T10:00:00-04:00"))});
  CHECK(of.found(kHeld) == 0);
  CHECK(of.found(kInside) == 1);
}

TEST_CASE("what people disagree about holds by every reading, also against a picking") {
  Farm2 farm(14);
  const Id first = farm.ana.beds[0], second = farm.ana.beds[1], third = farm.ana.beds[2];
  const auto pick = [](Copy& copy, const Id& bed) {
    return add(*copy.book, "harvest",
               {reference_value("bed", bed), instant_value("at", at("2026-05-20T07:20:00-04:00"))});
  };
  Copy *phone = &farm.ana.copy, *desk = &farm.office;
  const auto finds = [&](Copy& copy, std::string_view word, int count) {
    CHECK(reviews(*copy.book, word) == count);
    REQUIRE(copy.book->rebuild());
    CHECK(reviews(*copy.book, word) == count);
  };
  SUBCASE("which bed") {
    edit(*phone->book, farm.dose, Sprayed::what(farm.load, second));
    desk->clock += kHour;
    edit(*desk->book, farm.dose, Sprayed::what(farm.load, third));
    SUBCASE("picked before they met") {
      for (const Id& bed : {first, second, third}) pick(*phone, bed);
      exchange(*phone, *desk);
    }
    SUBCASE("picked afterwards") {
      exchange(*phone, *desk);
      for (const Id& bed : {first, second, third}) pick(*phone, bed);
      hand(*phone, *desk);
    }
    for (Copy* copy : {phone, desk}) finds(*copy, kInside, 2);
    done(settle(*desk->book, farm.dose, "what", 0, "it was there", {farm.ana.ana, "", false}));
    finds(*desk, kInside, 1);
  }
  SUBCASE("whether it was sprayed at all, and the later one says no") {
    edit(*phone->book, farm.dose, {instant_value("when.finish", at("2026-05-14T17:10:00-04:00"))});
    edit(*phone->book, farm.dose, farm.half());
    desk->clock += kHour;
    edit(*desk->book, farm.dose, Sprayed::what(farm.load, first, "skipped"));
    pick(*phone, first);
    exchange(*phone, *desk);
    for (Copy* copy : {phone, desk}) finds(*copy, kInside, 1);
  }
  SUBCASE("which bed was picked") {
    const Id picked = pick(*phone, second);
    exchange(*phone, *desk);
    finds(*desk, kInside, 0);
    edit(*phone->book, picked, {reference_value("bed", first)});
    desk->clock += kHour;
    edit(*desk->book, picked, {reference_value("bed", third)});
    exchange(*phone, *desk);
    for (Copy* copy : {phone, desk}) finds(*copy, kInside, 1);
  }
}

TEST_CASE("a dose known only from lines that wait holds against a picking") {
  Farm2 farm(14);
  const Id bed = farm.ana.beds[1];
  Copy& desk = farm.office;
  add(*desk.book, "harvest", {reference_value("bed", bed), instant_value("at", at("2026-05-20T07:20:00-04:00"))});
  // One whose act is not whole: its last line is missing.
  ForeignLane lane(9, *farm.book().part_of(farm.load));
  std::vector<FieldValue> fields = Sprayed::what(farm.load, bed);
  fields.push_back(instant_value("when.finish", at("2026-05-14T17:20:00-04:00")));
  lane.add(farm.book().new_record(), "dose", std::move(fields), {}, 0, false);
  REQUIRE(take(*desk.book, {lane.section()}));
  CHECK(reviews(*desk.book, kInside) == 1);
  REQUIRE(desk.book->rebuild());
  CHECK(reviews(*desk.book, kInside) == 1);
}

TEST_CASE("a correction ends the finding that rested on what was corrected") {
  Sprayed of;
  const Id bed = of.farm.beds[0], other = of.farm.beds[1];
  const auto on = [&](const Id& record) {
    const auto all = got(of.book().reviews());
    return std::any_of(all.begin(), all.end(), [&](const Review& review) { return review.record == record; });
  };
  SUBCASE("the dose was on another bed, or later") {
    const Id dose = of.dose(bed), here = of.pick(bed), there = of.pick(other);
    REQUIRE(on(here));
    edit(of.book(), dose, Sprayed::what(of.load, other));
    CHECK_FALSE(on(here));
    CHECK(on(there));
    edit(of.book(), dose, {instant_value("when.finish", at("2026-05-13T10:00:00-04:00"))});
    CHECK_FALSE(on(there));
  }
  SUBCASE("the file that told of the dose is set aside") {
    Copy phone("Marek's phone", 9);
    phone.checks = begin_checks;
    phone.open();
    hand(of.farm.copy, phone);
    std::vector<FieldValue> fields = Sprayed::what(of.load, bed);
    fields.push_back(instant_value("when.finish", at("2026-05-10T10:00:00-04:00")));
    add(*phone.book, "dose", std::move(fields));
    const Id here = of.pick(bed);
    hand(phone, of.farm.copy);
    REQUIRE(on(here));
    const std::int64_t batch = got(of.book().batches()).front().row;
    REQUIRE(of.book().set_aside(batch, true));
    CHECK_FALSE(on(here));
    REQUIRE(of.book().set_aside(batch, false));
    CHECK(on(here));
  }
  SUBCASE("the load was of another brew, or another pass") {
    const Id small = of.farm.brew(24, "0.2 gal"), large = of.farm.brew(24, "5 gal");
    const Id load = of.new_load(small);
    REQUIRE(on(small));
    edit(of.book(), load,
         {reference_value("mix.brew", large), quantity_value("mix.tea", "0.5 gal"),
          quantity_value("mix.water", "0.5 gal")});
    CHECK_FALSE(on(small));
    const Id poured = add(of.book(), "discard", {reference_value("of", small), quantity_value("volume", "1 gal")});
    REQUIRE(on(small));
    edit(of.book(), poured, {reference_value("of", large)});
    CHECK_FALSE(on(small));
  }
  SUBCASE("the line was of another lot; topped up was another brew") {
    const Id kelp = of.farm.material("Kelp", "microbe-food", false);
    const Id little = of.farm.lot(kelp, "K-19", "8 fl oz"), plenty = of.farm.lot(kelp, "K-20", "8 gal");
    const auto amount = [](const Id& lot) {
      return std::vector<FieldValue>{reference_value("amount.lot", lot), quantity_value("amount.amount", "20 fl oz")};
    };
    std::vector<FieldValue> fields = amount(little);
    fields.push_back(reference_value("brew", of.brew));
    const Id line = add(of.book(), "brew-line", std::move(fields));
    REQUIRE(on(little));
    edit(of.book(), line, amount(plenty));
    CHECK_FALSE(on(little));
    const Id first = of.farm.brew(24, "0.2 gal"), second = of.farm.brew(24, "0.2 gal");
    const Id topped =
        add(of.book(), "event",
            {reference_value("brew", first), word_value("what", "topped-up"), quantity_value("amount", "5 gal")});
    for (const Id& brew : {first, second}) of.new_load(brew);
    REQUIRE_FALSE(on(first));
    REQUIRE(on(second));
    edit(of.book(), topped, {reference_value("brew", second)});
    CHECK(on(first));
    CHECK_FALSE(on(second));
  }
  SUBCASE("the crop stood in another bed") {
    const Id oil = of.farm.material("Neem", "pesticide", true);
    of.farm.label(oil, "Kale", "30 day");
    of.farm.label(oil, "Carrot", "0 day");
    const Id lot = of.farm.lot(oil, "N-1", "8 fl oz");
    edit(of.book(), of.pass, {word_value("aim", "soil")});
    add(of.book(), "load-line", {reference_value("load", of.load), reference_value("amount.lot", lot)});
    of.farm.plant(bed, "Carrot");
    const Id kale = of.farm.plant(bed, "Kale");
    of.dose(bed);
    const Id here = of.pick(bed);
    REQUIRE(on(here));
    edit(of.book(), kale, {reference_value("bed", other)});
    CHECK_FALSE(on(here));
  }
  SUBCASE("the code was another") {
    const Id first = of.pick(bed), second = of.pick(other);
    for (const Id& one : {first, second}) edit(of.book(), one, {text_field_value("code", "AA")});
    REQUIRE(on(first));
    edit(of.book(), second, {text_field_value("code", "BB")});
    CHECK_FALSE(on(first));
    CHECK_FALSE(on(second));
  }
}

TEST_CASE("a lot turns out to be of a product with a wait: pickings are looked at again") {
  Sprayed of;
  const Id bed = of.farm.beds[0];
  edit(of.book(), of.pass, {word_value("aim", "soil")});
  const Id oil = of.farm.material("Neem", "pesticide", true), soap = of.farm.material("Soap", "other", false);
  of.farm.label(oil, "", "30 day");
  const Id lot = of.farm.lot(soap, "N-1", "8 fl oz");
  add(of.book(), "load-line", {reference_value("load", of.load), reference_value("amount.lot", lot)});
  of.dose(bed);
  of.pick(bed);
  REQUIRE(of.found(kInside) == 0);
  edit(of.book(), lot, {reference_value("material", oil)});
  CHECK(of.found(kInside) == 1);
  edit(of.book(), lot, {reference_value("material", soap)});
  CHECK(of.found(kInside) == 0);
}

TEST_CASE("a wait of more than 400 days holds to its end") {
  Sprayed of(0);
  const Id bed = of.farm.beds[0];
  const Id oil = of.farm.material("Neem", "pesticide", true);
  of.farm.label(oil, "", "500 day");
  const Id lot = of.farm.lot(oil, "N-1", "8 fl oz");
  add(of.book(), "load-line", {reference_value("load", of.load), reference_value("amount.lot", lot)});
  of.pick(bed, "2026-05-10T09:00:00-04:00");  // 450 days after the spray; 510 days after it the wait is over.
  of.pick(bed, "2026-07-09T09:00:00-04:00");
  of.dose(bed, "2025-02-14T09:00:00-04:00");
  CHECK(of.found(kInside) == 1);
}

TEST_CASE("what was poured out is traced to its place, and a bed there counts as touched") {
  Sprayed of;
  const Id bed = of.farm.beds[0], other = of.farm.beds[1];
  const Stamp then = at("2026-05-11T09:00:00-04:00");
  const auto node = [](const Trace& trace, const Id& id) {
    const auto found =
        std::find_if(trace.nodes.begin(), trace.nodes.end(), [&](const TraceNode& one) { return one.record == id; });
    return found == trace.nodes.end() ? std::optional<TraceNode>() : *found;
  };
  const Id before = of.pick(bed, "2026-05-10T09:00:00-04:00"), after = of.pick(bed), elsewhere = of.pick(other);
  SUBCASE("a bed") {
    const Id poured =
        add(of.book(), "discard",
            {reference_value("of", of.brew), quantity_value("volume", "1 gal"), reference_value("where.place", bed),
             text_field_value("where.words", "creek end"), instant_value("at", then)});
    const Trace forth = got(trace_forward(of.book(), of.brew));
    REQUIRE(node(forth, poured));
    CHECK(node(forth, poured)->name == "N1, creek end");
    CHECK(node(forth, poured)->place == bed);
    CHECK(node(forth, after));
    CHECK_FALSE(node(forth, before));
    CHECK_FALSE(node(forth, elsewhere));
    const Trace back = got(trace_backward(of.book(), after));
    CHECK(node(back, poured));
    CHECK(node(back, of.brew));
    CHECK(node(got(trace_forward(of.book(), bed)), poured));
    CHECK(node(got(trace_backward(of.book(), bed)), of.brew));
  }
  SUBCASE("a block: nobody knows on which of its beds") {
    const Id block = got(read_bed(of.book(), bed)).block;
    const Id poured =
        add(of.book(), "discard",
            {reference_value("of", of.load), reference_value("where.place", block), instant_value("at", then)});
    const Trace forth = got(trace_forward(of.book(), of.brew));
    REQUIRE(node(forth, poured));
    CHECK(node(forth, poured)->name == "North");
    CHECK(node(forth, after));
    CHECK(node(forth, elsewhere));
    CHECK(node(got(trace_backward(of.book(), elsewhere)), of.load));
  }
  SUBCASE("words alone") {
    const Id poured = add(of.book(), "discard",
                          {reference_value("of", of.brew), text_field_value("where.words", "compost pile P5"),
                           instant_value("at", then)});
    const Trace forth = got(trace_forward(of.book(), of.brew));
    REQUIRE(node(forth, poured));
    CHECK(node(forth, poured)->name == "compost pile P5");
    CHECK(node(forth, poured)->place.is_nil());
    CHECK_FALSE(node(forth, after));
  }
}

TEST_CASE("more was sold than was picked, or before it was") {
  Sprayed of(0);
  Book& book = of.book();
  const Id picked = of.pick(of.farm.beds[0], "2026-05-12T09:00:00-04:00"), other = of.pick(of.farm.beds[1]);
  const auto sell = [&](std::string_view amount, std::string_view when) {
    return add(book, "sale",
               {reference_value("harvest", picked), quantity_value("amount", std::string(amount)),
                instant_value("at", at(when))});
  };
  const Id first = sell("8 lb", "2026-05-12T15:00:00-04:00");
  sell("160 oz", "2026-05-12T16:00:00-04:00");  // 10 lb: all of it.
  sell("5 gal", "2026-05-12T16:00:00-04:00");   // Not to be compared with pounds.
  CHECK(of.found("finding.oversold") == 0);
  SUBCASE("one more sale, struck again") {
    const Id more = sell("1 lb", "2026-05-13T15:00:00-04:00");
    CHECK(of.found("finding.oversold") == 1);
    done(strike(book, more, "not sold", of.farm.by_ana()));
    CHECK(of.found("finding.oversold") == 0);
  }
  SUBCASE("less was picked than was written first") {
    edit(book, picked, {quantity_value("amount", "0.5 lb")});
    CHECK(of.found("finding.oversold") == 1);
    edit(book, picked, {quantity_value("amount", "18 lb")});
    CHECK(of.found("finding.oversold") == 0);
  }
  SUBCASE("a sale of another harvest") {
    const Id more = sell("18 lb", "2026-05-13T15:00:00-04:00");
    edit(book, more, {reference_value("harvest", other)});
    CHECK(of.found("finding.oversold") == 0);
    edit(book, other, {quantity_value("amount", "17 lb")});
    CHECK(of.found("finding.oversold") == 1);
  }
  SUBCASE("before the picking") {
    edit(book, first, {instant_value("at", at("2026-05-12T08:00:00-04:00"))});
    CHECK(of.found("finding.sold-before-picked") == 1);
    edit(book, picked, {instant_value("at", at("2026-05-12T07:00:00-04:00"))});
    CHECK(of.found("finding.sold-before-picked") == 0);
    edit(book, picked, {instant_value("at", at("2026-05-13T07:00:00-04:00"))});
    CHECK(of.found("finding.sold-before-picked") == 3);
  }
  SUBCASE("asked when it is entered; with a reason it stands") {
    const auto entered = [&](std::string amount, std::string when, std::string reason) {
      return got(enter(book, "sale", {{"harvest", picked.text()}, {"amount", amount}, {"at", when}}, {},
                       of.farm.by_ana(std::move(reason))));
    };
    CHECK(has_caution(entered("2 lb", "2026-05-13 08:00", "").cautions, "check.lot-overdrawn"));
    CHECK(has_caution(entered("1 gal", "2026-05-11 08:00", "").cautions, "check.sold-before-picked"));
    CHECK(entered("1 gal", "2026-05-13 08:00", "").written);
    CHECK(entered("2 lb", "2026-05-13 08:00", "weighed again").written);
    CHECK(of.found("finding.oversold") == 1);
  }
}

TEST_CASE("no more can be poured out of a load than it held") {
  Sprayed of;
  const std::string_view word = "finding.load-gave-more";
  edit(of.book(), of.load,
       {quantity_value("left", "0.2 gal"), instant_value("closed", at("2026-05-10T11:00:00-04:00"))});
  // Of the gallon 0.8 may have been spilt before the rest was read.
  const Id poured = add(of.book(), "discard", {reference_value("of", of.load), quantity_value("volume", "1 gal")});
  CHECK(of.found(word) == 0);
  edit(of.book(), poured, {quantity_value("volume", "300 gal")});
  CHECK(of.found(word) == 1);
  edit(of.book(), poured, {quantity_value("volume", "0.2 gal")});
  CHECK(of.found(word) == 0);
  // What the beds got was measured.
  std::vector<FieldValue> fields =
      Farm2::what(of.load, of.farm.beds[0], "0 ft", "100 ft", quantity_value("what.volume", "0.8 gal"), "done");
  add(of.book(), "dose", std::move(fields));
  CHECK(of.found(word) == 0);
  edit(of.book(), poured, {quantity_value("volume", "0.3 gal")});
  CHECK(of.found(word) == 1);
}
