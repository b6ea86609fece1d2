#include "book/audit.h"
#include "book/bed_states.h"
#include "book/pass_state.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

double gallons(const std::optional<Volume>& volume) { return volume ? volume->gallons() : -1; }

}  // namespace

TEST_CASE("the sheet that starts a pass works out the loads and says what is missing") {
  FarmBook farm;
  for (const int i : {9, 10, 17, 18})
    edit(farm.book(), farm.beds[static_cast<std::size_t>(i - 1)],
         {quantity_value("size.length", "70 ft"), quantity_value("size.width", "30 in")});
  const Id brew = farm.brew();
  StartChoices chosen = farm.choices(brew, farm.beds);
  chosen.weather = {};
  const StartSheet sheet = got(start_sheet(farm.book(), chosen, farm.now()));
  CHECK(sheet.place == "North");
  CHECK(sheet.length.feet() == doctest::Approx(2280));
  // 2,280 ft × 2.5 ft = 5,700 sq ft = 0.13085 acre; × 45 = 5.888 gal spray, × 20 = 2.617 gal tea.
  REQUIRE(sheet.on_beds);
  CHECK(sheet.on_beds->spray().gallons() == doctest::Approx(5.888).epsilon(0.001));
  CHECK(sheet.on_beds->tea.gallons() == doctest::Approx(2.617).epsilon(0.001));
  CHECK(sheet.chosen.tea->text == "1.78 gal");
  CHECK(sheet.chosen.water->text == "2.22 gal");
  CHECK(sheet.load_is_full);
  CHECK(sheet.load_ends_bed == "N16");
  CHECK(sheet.load_ends_at.feet() == doctest::Approx(50).epsilon(0.02));
  CHECK_FALSE(sheet.load_lasts);
  CHECK(sheet.missing == std::vector<StartMissing>{StartMissing::Weather});
  CHECK(refusal(start_pass(farm.book(), chosen, farm.by_ana())) == "pass.missing");
}

TEST_CASE("one press a bed; half, skip and undo; the tank tells how many beds are left") {
  FarmBook farm;
  const Id brew = farm.brew();
  const Id pass = farm.start(farm.choices(brew, farm.beds));
  PassState state = farm.state(pass);
  CHECK(state.code == "1");
  REQUIRE(state.hand());
  CHECK(state.hand()->name == "N1");
  CHECK(gallons(state.tank.in_full) == doctest::Approx(4.0));
  CHECK(gallons(state.tank.can_spray) == doctest::Approx(3.85));
  // 3.85 / 0.2583 gal a bed = 14.9 beds
  REQUIRE(state.beds_left);
  CHECK(state.beds_left->text() == "14¾");
  CHECK(state.undo.what == UndoStep::What::Nothing);
  CHECK(state.harvest_if_now.state == Hold::State::Until);

  farm.spray(pass, farm.beds[0]);
  state = farm.state(pass);
  CHECK(state.beds[0].progress == BedProgress::Done);
  CHECK(state.hand()->name == "N2");
  CHECK(state.undo.bed == "N1");
  CHECK(state.beds[0].got.how == HowKnown::Rate);
  CHECK(gallons(state.beds[0].got.spray) == doctest::Approx(0.2583).epsilon(0.001));
  CHECK(gallons(state.beds[0].got.tea) == doctest::Approx(0.1149).epsilon(0.003));

  SUBCASE("half at the end where the walk enters, then the other half") {
    farm.pass_time(kMinute);
    done(bed_half(farm.book(), pass, farm.beds[1], false, farm.by_ana()));
    state = farm.state(pass);
    CHECK(state.beds[1].progress == BedProgress::Part);
    REQUIRE(state.beds[1].open.size() == 1);
    CHECK(state.beds[1].open[0].from.feet() == doctest::Approx(50));
    CHECK(state.hand()->name == "N2");
    done(bed_half(farm.book(), pass, farm.beds[1], true, farm.by_ana()));
    state = farm.state(pass);
    CHECK(state.beds[1].progress == BedProgress::Done);
    CHECK(state.hand()->name == "N3");
    CHECK(text_of(farm.book(), state.beds[1].doses[0], "what.to") == "50 ft");
    CHECK(text_of(farm.book(), state.beds[1].doses[0], "what.how") == "part");
  }
  SUBCASE("'feet' mends a half while it is fresh") {
    const Id half = done(bed_half(farm.book(), pass, farm.beds[1], false, farm.by_ana())).record;
    done(change_stretch(farm.book(), half, q("0 ft"), q("62 ft"), farm.by_ana()));
    state = farm.state(pass);
    CHECK(state.beds[1].open[0].from.feet() == doctest::Approx(62));
    CHECK(refusal(change_stretch(farm.book(), half, q("0 ft"), q("120 ft"), farm.by_ana())) == "check.beyond-bed");
    CHECK(refusal(change_stretch(farm.book(), half, q("10 ft"), q("10 ft"), farm.by_ana())) ==
          "check.done-with-nothing");
  }
  SUBCASE("a skip asks for a reason and counts no volume") {
    CHECK(refusal(skip_bed(farm.book(), pass, farm.beds[1], "  ", farm.by_ana())) == "pass.skip-reason");
    done(skip_bed(farm.book(), pass, farm.beds[1], "wet", farm.by_ana()));
    state = farm.state(pass);
    CHECK(state.beds[1].progress == BedProgress::Skipped);
    CHECK(state.beds[1].skip_reason == "wet");
    CHECK(state.undo.what == UndoStep::What::Skip);
    CHECK(gallons(state.tank.used) == doctest::Approx(0.2583).epsilon(0.001));
  }
  SUBCASE("undo takes back one write after another, and each is counted") {
    farm.spray(pass, farm.beds[1]);
    done(undo_press(farm.book(), pass, farm.by_ana()));
    done(undo_press(farm.book(), pass, farm.by_ana()));
    state = farm.state(pass);
    CHECK(state.hand()->name == "N1");
    CHECK(state.pass.undone == 2);
    CHECK_FALSE(got(undo_press(farm.book(), pass, farm.by_ana())).written);
    const std::vector<Dose> all = got(doses_of_pass(farm.book(), pass, Struck::Include));
    REQUIRE(all.size() == 2);
    CHECK(all[0].struck == kUndone);
  }
  SUBCASE("a bed tapped out of order is the one in hand, and the walk goes on behind it") {
    state = farm.state(pass, farm.beds[5]);
    CHECK(state.hand()->name == "N6");
    CHECK(state.beds[*state.next].name == "N7");
  }
  SUBCASE("done twice, done with nothing, a bed of somewhere else") {
    CHECK(refusal(bed_done(farm.book(), {pass, farm.beds[0], {}, {}, {}, {}}, farm.by_ana())) == "pass.bed-is-done");
    CHECK(refusal(bed_done(farm.book(), {pass, farm.beds[1], {}, {}, q("0 gal"), {}}, farm.by_ana())) ==
          "check.done-with-nothing");
    CHECK(refusal(bed_done(farm.book(), {pass, farm.ana, {}, {}, {}, {}}, farm.by_ana())) == "pass.bed-not-in-it");
  }
}

TEST_CASE("refill writes the treated stretch, closes the load and opens the next; end of pass balances") {
  // Pass 48 of the pictures: 24 beds, 2,280 ft, loads of 4.00 and 2.04 gal, dry at 50 ft of N16.
  FarmBook farm;
  for (const int i : {9, 10, 17, 18})
    edit(farm.book(), farm.beds[static_cast<std::size_t>(i - 1)],
         {quantity_value("size.length", "70 ft"), quantity_value("size.width", "30 in")});
  const Id brew = farm.brew();
  const Id pass = farm.start(farm.choices(brew, farm.beds));
  for (std::size_t i = 0; i < 15; ++i) farm.spray(pass, farm.beds[i]);
  farm.pass_time(kMinute);
  PassState state = farm.state(pass);
  REQUIRE(state.dry_bed);
  CHECK(state.beds[*state.dry_bed].name == "N16");
  CHECK(state.loads_expected == 2);
  CHECK(state.beds[16].will_be_next_load);

  const RefillSheet sheet = got(refill_sheet(farm.book(), pass, {}, {}, farm.now()));
  CHECK(sheet.proposed.feet() == doctest::Approx(50).epsilon(0.02));
  CHECK(gallons(sheet.gone) == doctest::Approx(3.85));
  CHECK(gallons(sheet.state.tank.tea_of(*sheet.gone)) == doctest::Approx(1.71).epsilon(0.005));
  CHECK(sheet.beds == 16);
  CHECK(sheet.last_is_part);
  REQUIRE(sheet.next);
  CHECK(sheet.next->spray().gallons() == doctest::Approx(2.04).epsilon(0.005));
  CHECK(sheet.next->tea.gallons() == doctest::Approx(0.91).epsilon(0.01));
  CHECK(gallons(sheet.in_tank) == doctest::Approx(2.19).epsilon(0.005));
  CHECK(sheet.full->spray().gallons() == doctest::Approx(3.85));
  CHECK(sheet.covers.size() == 9);

  RefillRequest request;
  request.pass = pass;
  request.bed = farm.beds[15];
  request.at = q("50 ft");
  request.left = q("0.15 gal");
  request.brew = brew;
  request.tea = q("0.91 gal");
  request.water = q("1.13 gal");
  request.water_source = farm.well;
  done(refill(farm.book(), request, farm.by_ana()));
  state = farm.state(pass);
  CHECK(state.tank.number == 2);
  CHECK(state.hand()->name == "N16");
  CHECK(state.hand()->open[0].from.feet() == doctest::Approx(50));
  CHECK(gallons(state.tank.in_full) == doctest::Approx(2.19));
  // Load 1 is closed: its beds show their share, 3.85 gal over 1,490 ft.
  CHECK(state.beds[0].got.how == HowKnown::Share);
  CHECK(gallons(state.beds[0].got.spray) == doctest::Approx(3.85 * 100 / 1490));
  CHECK(state.real_rate);
  CHECK_FALSE(state.rate_is_off);
  CHECK(state.undo.what == UndoStep::What::Refill);

  SUBCASE("a refill is taken back whole") {
    done(undo_press(farm.book(), pass, farm.by_ana()));
    state = farm.state(pass);
    CHECK(state.tank.number == 1);
    CHECK(state.beds[15].progress == BedProgress::Open);
    CHECK(state.beds[0].got.how == HowKnown::Rate);
    CHECK(state.pass.undone == 1);
    CHECK(state.undo.bed == "N15");
  }
  SUBCASE("more left than the tank held is asked about") {
    request.bed = farm.beds[15];
    request.left = q("9 gal");
    CHECK(refusal(refill(farm.book(), request, farm.by_ana())) == "check.left-more-than-held");
  }
  SUBCASE("to the end") {
    for (std::size_t i = 15; i < 24; ++i) farm.spray(pass, farm.beds[i]);
    const EndSheet end = got(end_sheet(farm.book(), pass, farm.now()));
    CHECK(end.beds == 24);
    CHECK(end.open_beds == 0);
    CHECK(end.length.feet() == doctest::Approx(2280));
    CHECK(end.area->acres() == doctest::Approx(0.131).epsilon(0.005));
    CHECK(gallons(end.went_in) == doctest::Approx(6.04));
    CHECK(end.left.gallons() == doctest::Approx(0.15).epsilon(0.05));
    CHECK(end.waits.size() == 24);
    EndRequest ending;
    ending.pass = pass;
    ending.left = q("0.15 gal");
    ending.where = LeftOver::PouredElsewhere;
    ending.place_words = "on the hedge";
    ending.washed = true;
    ending.wash_method = "3 rinses, well water";
    ending.weather.not_taken = true;
    done(end_pass(farm.book(), ending, farm.by_ana()));
    state = farm.state(pass);
    CHECK(state.is_ended);
    CHECK_FALSE(got(open_pass(farm.book())));
    CHECK(refusal(bed_done(farm.book(), {pass, farm.beds[0], {}, {}, {}, {}}, farm.by_ana())) == "pass.ended");
    // Spray on the beds = what went in − what was left: 6.04 − 0.15.
    double spray = 0, tea = 0;
    for (const PassBed& bed : state.beds) {
      spray += gallons(bed.got.spray);
      tea += gallons(bed.got.tea);
      CHECK(bed.got.how == HowKnown::Share);
    }
    CHECK(spray == doctest::Approx(5.89));
    CHECK(tea == doctest::Approx(2.69 - 0.067).epsilon(0.003));
    const BrewBalance balance = got(read_brew_balance(farm.book(), brew));
    CHECK(balance.loaded.gallons() == doctest::Approx(2.69));
    CHECK(gallons(balance.left) == doctest::Approx(5.00 - 2.69));
    const TankHistory history = got(rig_history(farm.book(), farm.rig, farm.now()));
    CHECK(history.is_clean());
  }
}

TEST_CASE("a refill proposes as left what the rate says is still there; dry where the rate says that it runs dry") {
  // 4 gal, of which the pump leaves 0.15; a bed of 100 ft × 30 in at 45 gal/acre takes 0.2583 gal: dry in N15.
  FarmBook farm;
  const Id brew = farm.brew();
  StartChoices chosen = farm.choices(brew, farm.beds);
  const double bed = 45 * 250 / 43560.0, dead = 0.15;
  const auto sheet_after = [&](const Id& pass, std::size_t beds, RefillTyped typed = {}) {
    for (const PassBed& row : farm.state(pass).beds)
      if (row.progress == BedProgress::Open && beds > static_cast<std::size_t>(farm.state(pass).done))
        farm.spray(pass, row.bed);
    return got(refill_sheet(farm.book(), pass, {}, typed, farm.now()));
  };
  const auto at = [](double feet) { return RefillTyped{Length::from_feet(feet), {}}; };
  const auto refilled = [&](const Id& pass, std::size_t hand, std::string_view feet, std::string_view left) {
    RefillRequest request;
    request.pass = pass;
    request.bed = farm.beds[hand];
    request.at = q(feet);
    request.left = q(left);
    request.brew = brew;
    request.tea = q("0.5 gal");
    request.water = q("0.5 gal");
    return got(refill(farm.book(), request, farm.by_ana()));
  };
  SUBCASE("long before: all that was not sprayed is there, and less fits in") {
    const Id pass = farm.start(chosen);
    RefillSheet sheet = sheet_after(pass, 6);
    CHECK(sheet.proposed.feet() == 0);
    CHECK(sheet.left_is_estimate);
    CHECK(sheet.left.gallons() == doctest::Approx(4 - 6 * bed));
    CHECK(gallons(sheet.gone) == doctest::Approx(6 * bed));
    CHECK(sheet.full->spray().gallons() == doctest::Approx(6 * bed));
    CHECK(gallons(sheet.in_tank) == doctest::Approx(4));
    // A stretch of the bed in hand was sprayed too.
    sheet = sheet_after(pass, 6, at(50));
    CHECK(sheet.left.gallons() == doctest::Approx(4 - 6.5 * bed));
    // What was read off the tank counts, for what fits in too.
    sheet = sheet_after(pass, 6, {{}, Volume::from_gallons(1)});
    CHECK_FALSE(sheet.left_is_estimate);
    CHECK(gallons(sheet.gone) == doctest::Approx(3));
    CHECK(sheet.full->spray().gallons() == doctest::Approx(3));
    CHECK_FALSE(sheet.left_by_rate);
    // Somebody says that it is dry all the same: the rate is off.
    RefillTyped dry;
    dry.dry = true;
    sheet = sheet_after(pass, 6, dry);
    CHECK(gallons(sheet.left_by_rate) == doctest::Approx(4 - 6 * bed));
    CHECK_FALSE(sheet.left_is_estimate);
    CHECK(sheet.left.gallons() == doctest::Approx(dead));
    CHECK(sheet.full->spray().gallons() == doctest::Approx(4 - dead));
    // Half a gallon instead of two and a half is asked about; what was proposed is not.
    const Outcome asked = refilled(pass, 6, "0 ft", "0.5 gal");
    CHECK_FALSE(asked.written);
    CHECK(has_caution(asked.cautions, "check.left-far-off"));
    CHECK(refilled(pass, 6, "0 ft", "2.45 gal").written);
  }
  SUBCASE("filled up to the mark, the amounts as they are shown are not more than the tank holds") {
    const Id pass = farm.start(chosen);
    const auto shown = [](Volume volume) { return as<Volume>(write_quantity(volume, unit("gal"), 2)); };
    for (std::size_t beds = 1; beds <= 12; ++beds) {
      const RefillSheet sheet = sheet_after(pass, beds);
      const Volume left = shown(sheet.left), tea = shown(sheet.full->tea);
      const Volume water = shown(sheet.water_to_mark(*sheet.full, left, tea));
      CHECK((left + tea + water).gallons() == doctest::Approx(4).epsilon(1e-9));
    }
  }
  SUBCASE("where the rate says that it runs dry, or about there, it is dry") {
    const Id pass = farm.start(chosen);
    RefillSheet sheet = sheet_after(pass, 13);
    CHECK(sheet.state.beds[*sheet.state.dry_bed].name == "N15");
    CHECK(sheet.left.gallons() == doctest::Approx(4 - 13 * bed));  // Nothing of N14 is proposed.
    sheet = sheet_after(pass, 13, at(95));
    CHECK_FALSE(sheet.left_is_estimate);
    CHECK(sheet.left.gallons() == doctest::Approx(dead));
    sheet = sheet_after(pass, 14);
    CHECK(sheet.proposed.feet() == doctest::Approx((4 - dead - 14 * bed) / bed * 100));
    CHECK_FALSE(sheet.left_is_estimate);
    CHECK(sheet.left.gallons() == doctest::Approx(dead));
    CHECK(sheet_after(pass, 14, at(10)).left.gallons() == doctest::Approx(dead));
    CHECK(refilled(pass, 14, "10 ft", "0.15 gal").written);
  }
  SUBCASE("dry long ago by the rate: a load may not be written") {
    const Id pass = farm.start(chosen);
    CHECK(sheet_after(pass, 20).left.gallons() == doctest::Approx(dead));
    const Outcome asked = refilled(pass, 20, "0 ft", "0.15 gal");
    CHECK_FALSE(asked.written);
    CHECK(has_caution(asked.cautions, "check.dry-by-rate"));
  }
  SUBCASE("without a rate nobody knows: dry") {
    chosen.spray_rate.reset();
    chosen.tea_rate.reset();
    chosen.rates_unknown = true;
    chosen.tea = q("1.78 gal");
    chosen.water = q("2.22 gal");
    const Id pass = farm.start(chosen);
    CHECK(sheet_after(pass, 6).left.gallons() == doctest::Approx(dead));
    CHECK(refilled(pass, 6, "0 ft", "2.45 gal").written);
  }
}

TEST_CASE("a refill asks what 'done' would ask of the bed whose stretch it writes") {
  FarmBook farm(1, 3);
  const Id brew = farm.brew();
  const Id pass = farm.start(farm.choices(brew, farm.beds));
  farm.spray(pass, farm.beds[0]);
  add(farm.book(), "plan",
      {word_value("what", "pick"), reference_value("farm", farm.farm),
       instant_value("at", {farm.now() + 12 * kHour, -240}), list_value("beds", {farm.beds[1].text()})});
  RefillRequest request;
  request.pass = pass;
  request.bed = farm.beds[1];
  request.at = q("50 ft");
  request.left = q("0.53 gal");
  request.brew = brew;
  request.tea = q("0.3 gal");
  request.water = q("0.3 gal");
  const Outcome asked = got(refill(farm.book(), request, farm.by_ana()));
  CHECK_FALSE(asked.written);
  REQUIRE(asked.cautions.size() == 1);
  CHECK(has_caution(asked.cautions, "check.pick-planned"));
  CHECK(farm.state(pass).tank.number == 1);
  SUBCASE("with a reason") { done(refill(farm.book(), request, farm.by_ana("picking waits"))); }
  SUBCASE("dry before the bed was reached: nothing of it is written, and nothing asked") {
    request.at = q("0 ft");
    request.left = q("0.66 gal");
    done(refill(farm.book(), request, farm.by_ana()));
  }
  CHECK(farm.state(pass).tank.number == 2);
}

TEST_CASE("weather of the last two hours is proposed, not that of the morning") {
  FarmBook farm(1, 2);
  const Id brew = farm.brew();
  StartChoices chosen = farm.choices(brew, farm.beds);
  chosen.weather = {};
  chosen.weather.wind = q("4 mph");
  const Id pass = farm.start(chosen);
  const Moment started = farm.now();
  for (const Id& bed : farm.beds) farm.spray(pass, bed);
  EndRequest ending;
  ending.pass = pass;
  ending.weather.not_taken = true;
  done(end_pass(farm.book(), ending, farm.by_ana()));
  const auto proposed = [&](std::int64_t later) {
    return got(start_sheet(farm.book(), farm.choices(brew, farm.beds), started + later)).last_weather;
  };
  REQUIRE(proposed(110 * kMinute));
  CHECK(proposed(110 * kMinute)->wind->text == "4 mph");
  CHECK_FALSE(proposed(3 * kHour));
}

TEST_CASE("a pass that is open already is gone on with, not doubled") {
  FarmBook farm;
  const Id brew = farm.brew();
  const Id pass = farm.start(farm.choices(brew, farm.beds));
  CHECK(*got(open_pass(farm.book())) == pass);
  CHECK(refusal(start_pass(farm.book(), farm.choices(brew, farm.beds), farm.by_ana())) == "pass.already-open");
}

TEST_CASE("turning at each bed: every second bed is entered from its far end") {
  FarmBook farm(1, 4);
  const Id brew = farm.brew();
  StartChoices chosen = farm.choices(brew, farm.beds);
  chosen.walk = Walk::TurnAtEachBed;
  const Id pass = farm.start(chosen);
  farm.spray(pass, farm.beds[0]);
  done(bed_half(farm.book(), pass, farm.beds[1], false, farm.by_ana()));
  const PassState state = farm.state(pass);
  CHECK(state.beds[1].from_far_end);
  CHECK(state.beds[1].open[0].to.feet() == doctest::Approx(50));
}

TEST_CASE("cautions are said first, and gone on with for a reason that stays on the record") {
  FarmBook farm(std::nullopt);
  const Id brew = farm.brew();
  const Outcome asked = got(start_pass(farm.book(), farm.choices(brew, farm.beds), farm.by_ana()));
  CHECK_FALSE(asked.written);
  CHECK(has_caution(asked.cautions, "check.tea-rule-undecided"));
  CHECK_FALSE(got(open_pass(farm.book())));
  const Id pass = farm.start(farm.choices(brew, farm.beds), "certifier asked, picking waits");
  const auto history = got(farm.book().history(pass));
  CHECK(history.front().change.why == "certifier asked, picking waits");
  CHECK(farm.state(pass).rule_undecided);
}

TEST_CASE("fractions of a bed are rounded down") {
  CHECK(BedsLeft{5, part_rounded_down(0.5)}.text() == "5½");
  CHECK(BedsLeft{0, part_rounded_down(0.49)}.text() == "⅓");
  CHECK(BedsLeft{3, part_rounded_down(0.24)}.text() == "3");
  CHECK(BedsLeft{3, part_rounded_down(0.99)}.text() == "3¾");
  CHECK(BedsLeft{0, part_rounded_down(2.0 / 3)}.text() == "⅔");
  CHECK(BedsLeft{0, part_rounded_down(0)}.text() == "0");
}

TEST_CASE("the history of a pass names its people, beds and the rig's calibration") {
  FarmBook farm;
  const Id pass = farm.start(farm.choices(farm.brew(), {farm.beds[0], farm.beds[1]}));
  const Table table = got(audit_table(farm.book(), {.record = pass}));
  const auto now = [&](std::string_view field) {
    std::string found;
    for (const TableRow& row : table.rows) {
      std::map<std::string_view, std::string> cells;
      for (std::size_t i = 0; i < table.columns.size(); ++i) cells[table.columns[i].name] = row.cells[i].text;
      if (cells["field"] == field) found = cells["now"];
    }
    return found;
  };
  const std::string rig = text_of(farm.book(), farm.rig, "name");
  CHECK(now("people") == text_of(farm.book(), farm.ana, "name"));
  CHECK(now("beds") == "N1, N2");
  CHECK(now("rig") == rig);
  CHECK(now("calibration") == rig);
}

TEST_CASE("a bed done on the morning after was not walked all night") {
  FarmBook farm;
  const Id pass = farm.start(farm.choices(farm.brew(), farm.beds));
  farm.spray(pass, farm.beds[0]);
  const auto minutes_on = [&](std::size_t bed) {
    const PassState state = farm.state(pass);
    const Dose dose = got(read_dose(farm.book(), state.beds[bed].doses.front()));
    return static_cast<double>(dose.finish->at - dose.start->at) / kMinute;
  };
  const auto press = [&](std::size_t bed) {
    DoneRequest request;
    request.pass = pass;
    request.bed = farm.beds[bed];
    done(bed_done(farm.book(), request, farm.by_ana()));
  };
  farm.pass_time(40 * kMinute);  // A long meal is still 'since the press before'.
  press(1);
  CHECK(minutes_on(1) == doctest::Approx(40).epsilon(0.01));
  farm.pass_time(11 * kHour);
  const PassState before = farm.state(pass);
  press(2);
  CHECK(minutes_on(2) == doctest::Approx(before.walk_time ? before.walk_time->seconds() / 60 : 0).epsilon(0.01));
}
