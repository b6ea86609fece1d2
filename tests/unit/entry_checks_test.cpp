// What a person writes, corrects or settles meets the same checks by whichever way it comes.
#include "book/checks.h"
#include "book/codes.h"
#include "book/enter.h"
#include "book/plan_commands.h"
#include "book/settle_commands.h"
#include "book/spelled.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Alder Reach with a brew, a pass over two beds and its load, entered afterwards.
struct EnteredFarm : FarmBook {
  EnteredFarm() : FarmBook(1, 8) {
    brewed = brew(24);
    pass = enter_done("pass", {{"aim", "leaf"}, {"start", ago(2)}, {"finish", ago(1)}, {"rig", "Backpack 1"}});
    load = enter_done("load", {{"pass", pass.text()},
                               {"number", "1"},
                               {"brew", brewed.text()},
                               {"tea", "1 gal"},
                               {"water", "1 gal"},
                               {"filled", ago(2)}});
  }
  std::string ago(double hours) {
    const Moment at{copy.clock - static_cast<std::int64_t>(hours * static_cast<double>(kHour))};
    return stamp_text({at, -240});
  }
  Result<Outcome> enter_with(std::string_view kind, const EnterFields& fields, std::string reason = {}) {
    return enter(book(), kind, fields, {}, by_ana(std::move(reason)));
  }
  Id enter_done(std::string_view kind, const EnterFields& fields, std::string reason = {}) {
    return done(enter_with(kind, fields, std::move(reason))).record;
  }
  /// Word of what stops it or of the first caution that does; 'written' when nothing does.
  std::string said(const Result<Outcome>& outcome) {
    if (!outcome) return std::string(outcome.error().word.key);
    return outcome->written ? "written" : std::string(outcome->cautions.front().word.key);
  }
  std::string entered(std::string_view kind, const EnterFields& fields, std::string reason = {}) {
    return said(enter_with(kind, fields, std::move(reason)));
  }
  std::string amended(const Id& record, const EnterFields& fields, std::string reason = {}) {
    return said(amend(book(), record, fields, {}, "typo", by_ana(std::move(reason))));
  }
  std::string reading(std::string quantity, std::string value, std::string reason = {}) {
    return entered("reading", {{"of", brewed.text()}, {"quantity", quantity}, {"value", value}}, std::move(reason));
  }

  Id brewed, pass, load;
};

}  // namespace

TEST_CASE("a reading is of its own kind and has its unit") {
  EnteredFarm farm;
  const std::tuple<const char*, const char*, const char*> refused[] = {
      {"temperature", "5 gal", "quantity.not-temperature"},
      {"temperature", "earthy", "quantity.not-temperature"},
      {"ph", "7 gal", "check.number"},
      {"ph", "earthy", "check.number"},
      {"oxygen", "foul", "quantity.unreadable"},
      {"oxygen", "7 ft", "quantity.not-mass-per-volume"},
      {"smell", "7 ft", "enter.word"},
      {"smell", "over", "enter.word"},
      {"moisture", "900 %", "check.unusual"},
      {"humidity", "250 %", "check.unusual"},
      {"wind", "900 mph", "check.unusual"},
      {"oxygen", "900 %", "check.unusual"},
      {"temperature", "685 F", "check.too-hot"}};
  for (const auto& row : refused) {
    CAPTURE(std::get<0>(row));
    CAPTURE(std::get<1>(row));
    CHECK(farm.reading(std::get<0>(row), std::get<1>(row)) == std::get<2>(row));
  }
  // A bare number is asked about, with a reason too: nothing is stored without its unit.
  for (const char* quantity : {"oxygen", "temperature", "wind", "ec", "moisture", "humidity"}) {
    CAPTURE(quantity);
    const auto asked =
        farm.enter_with("reading", {{"of", farm.brewed.text()}, {"quantity", quantity}, {"value", "2"}}, "sure");
    REQUIRE_FALSE(asked);
    CHECK(asked.error().kind == Trouble::Ask);
  }
  CHECK(farm.reading("ph", "6.8") == "written");
  CHECK(farm.reading("temperature", "20 °C") == "written");  // no cups
  CHECK(farm.reading("smell", "earthy") == "written");
  CHECK(farm.reading("oxygen", "-") == "written");
}

TEST_CASE("a corrected reading meets its checks whichever of its fields changes") {
  EnteredFarm farm;
  const Id reading = farm.enter_done(
      "reading",
      {{"of", farm.brewed.text()}, {"quantity", "temperature"}, {"value", "68.5 F"}, {"instrument", "probe"}});
  CHECK(farm.amended(reading, {{"value", "685"}}) == "quantity.ask-two");
  CHECK(farm.amended(reading, {{"value", "5 gal"}}) == "quantity.not-temperature");
  CHECK(farm.amended(reading, {{"quantity", "ph"}}) == "check.number");
  CHECK(farm.amended(reading, {{"quantity", "oxygen"}}) == "quantity.not-mass-per-volume");
  CHECK(farm.amended(reading, {{"value", "20 F"}}) == "check.freezing");
  CHECK(farm.amended(reading, {{"value", "685 F"}}) == "check.too-hot");
  CHECK(farm.amended(reading, {{"instrument", "other probe"}}) == "written");
  CHECK(farm.amended(reading, {{"quantity", "ph"}, {"value", "6.9"}}) == "written");
  const Id oxygen =
      farm.enter_done("reading", {{"of", farm.brewed.text()}, {"quantity", "oxygen"}, {"value", "8 mg/L"}});
  done(set_limit(farm.book(), farm.farm, "oxygen", q("6 mg/L"), "Ana Leland", farm.by_ana()));
  // A low reading is kept at once, and said.
  const Outcome low = done(amend(farm.book(), oxygen, {{"value", "2 mg/L"}}, {}, "typo", farm.by_ana()));
  CHECK(has_caution(low.cautions, "check.oxygen-under"));
}

TEST_CASE("what is asked has a way through, and the reason is kept") {
  EnteredFarm farm;
  CHECK(farm.reading("temperature", "685 F", "a kiln probe") == "written");
  CHECK(farm.reading("oxygen", "84 mg/L", "pure oxygen, tried") == "written");
  CHECK(farm.entered("reading",
                     {{"of", farm.brewed.text()}, {"quantity", "ph"}, {"value", "7"}, {"at", "2015-05-04 10:00"}}) ==
        "check.long-ago");
  CHECK(farm.entered("reading",
                     {{"of", farm.brewed.text()}, {"quantity", "ph"}, {"value", "7"}, {"at", "2015-05-04 10:00"}},
                     "old paper") == "written");
  CHECK(farm.reading("ph", "75", "sure") == "check.ph");
  const Id reading =
      farm.enter_done("reading", {{"of", farm.brewed.text()}, {"quantity", "temperature"}, {"value", "68.5 F"}});
  CHECK(farm.amended(reading, {{"value", "685 F"}}, "in the kiln") == "written");
  CHECK(got(farm.book().history(reading)).back().change.why == "typo; in the kiln");
  CHECK(farm.said(correct(farm.book(), reading, {quantity_value("value.value", "700 degF")}, {}, "typo",
                          farm.by_ana())) == "check.too-hot");
}

TEST_CASE("corrections meet the warnings of the entry, their own amount left out of the balance") {
  EnteredFarm farm;
  Book& book = farm.book();
  const Id food = farm.material("Kelp", "microbe-food", false);
  const Id lot = farm.lot(food, "K-1", "10 lb");
  const Id line = farm.enter_done("brew-line", {{"brew", farm.brewed.text()}, {"lot", lot.text()}, {"amount", "6 lb"}});
  CHECK(farm.amended(line, {{"amount", "9 lb"}}) == "written");
  CHECK(farm.amended(line, {{"amount", "500 kg"}}) == "check.lot-overdrawn");
  CHECK(farm.amended(farm.load, {{"tea", "1.5 gal"}}) == "written");
  CHECK(farm.amended(farm.load, {{"tea", "200 gal"}}) == "check.more-than-tank");
  CHECK(farm.amended(farm.load, {{"left", "40 gal"}}) == "check.left-more-than-held");
  CHECK(farm.amended(farm.pass, {{"weather_start.wind", "450 mph"}}) == "check.unusual");
  CHECK(farm.amended(farm.pass, {{"weather_finish.wind", "45 mph"}}) == "check.wind-rare");
  CHECK(farm.amended(farm.pass, {{"weather_start.temperature", "685 F"}}) == "check.unusual");
  CHECK(farm.amended(farm.pass, {{"rates.tea", "45 gal/acre"}, {"rates.spray", "20 gal/acre"}}) ==
        "loads.more-tea-than-spray");
  CHECK(farm.amended(lot, {{"quantity", "9000000 gal"}}) == "check.unusual");
  CHECK(farm.amended(lot, {{"quantity", "9 ft"}}) == "quantity.not-weight-or-volume");
  const Id dose = farm.enter_done("dose", {{"load", farm.load.text()}, {"bed", "N1"}, {"when.finish", farm.ago(1.5)}});
  CHECK(farm.amended(dose, {{"volume", "500 gal"}}) == "check.dose-more-than-held");
  CHECK(farm.amended(dose, {{"width", "300 ft"}}) == "check.width-unlike-bed");
  CHECK(farm.amended(dose, {{"when.finish", farm.ago(1.4)}}) == "written");
  const Id poured = farm.enter_done(
      "discard", {{"of", farm.brewed.text()}, {"volume", "3 gal"}, {"words", "drain"}, {"at", farm.ago(1)}});
  CHECK(farm.amended(poured, {{"volume", "3.5 gal"}}) == "written");
  CHECK(farm.amended(poured, {{"volume", "900 gal"}}) == "check.more-than-left");
  CHECK(farm.amended(farm.brewed, {{"fill", "0 gal"}}) == "check.fill");
  CHECK(farm.amended(farm.beds[0], {{"length", "1000 ft"}}) == "check.bed-unlike-others");
  const Id vessel = farm.enter_done("vessel", {{"name", "Blue bucket"}, {"volume.working", "5 gal"}});
  CHECK(farm.amended(farm.brewed, {{"vessel", vessel.text()}, {"fill", "50 gal"}}) == "check.over-working-volume");
  CHECK(text_of(book, farm.brewed, "fill") == "5 gal");
}

TEST_CASE("what is entered afterwards meets the checks of the commands") {
  EnteredFarm farm;
  const std::string brew = farm.brewed.text(), pass = farm.pass.text();
  CHECK(
      farm.entered("load", {{"pass", pass}, {"number", "2"}, {"brew", brew}, {"tea", "10 gal"}, {"water", "0 gal"}}) ==
      "check.more-than-tank");
  CHECK(farm.entered("load", {{"pass", pass}, {"number", "2"}, {"brew", brew}, {"tea", "4 gal"}, {"water", "0 gal"}}) ==
        "written");
  CHECK(farm.entered("load", {{"pass", pass}, {"number", "3"}, {"brew", brew}, {"tea", "2 gal"}, {"water", "0 gal"}}) ==
        "check.brew-overdrawn");
  done(set_verdict(farm.book(), farm.brewed, "do-not-use", "stinks", farm.by_ana()));
  CHECK(farm.entered("load", {{"pass", pass}, {"number", "3"}, {"brew", brew}, {"tea", "0 gal"}, {"water", "1 gal"}}) ==
        "check.brew-not-to-use");
  CHECK(farm.entered("discard", {{"of", brew}, {"volume", "0.1 gal"}}) == "pass.poured-where");
  CHECK(farm.entered("discard", {{"of", brew}, {"volume", "900 gal"}, {"words", "drain"}}) == "check.more-than-left");
  CHECK(farm.entered("discard", {{"of", farm.load.text()}, {"volume", "300 gal"}, {"words", "drain"}}) ==
        "check.more-than-left");
  CHECK(farm.entered("harvest", {{"bed", "N1"}, {"at", "now"}, {"amount", "0 lb"}}) == "check.picked-nothing");
  CHECK(farm.entered("harvest", {{"bed", "N1"}, {"at", "now"}, {"amount", "18000 lb"}}) == "check.unusual");
  farm.enter_done("dose", {{"load", farm.load.text()}, {"bed", "N1"}, {"when.finish", farm.ago(1.5)}});
  CHECK(farm.entered("harvest", {{"bed", "N1"}, {"at", "now"}, {"amount", "18 lb"}}) == "check.picked-inside-wait");
  CHECK(farm.entered("hold", {{"bed", "N1"}, {"what", "both"}, {"why", "glass"}, {"until", farm.ago(100)}}) ==
        "check.hold-past");
  CHECK(farm.entered("brew", {{"fill", "0 gal"}}) == "check.fill");
  CHECK(farm.entered("plan", {{"what", "pass"},
                              {"at", farm.ago(-30)},
                              {"beds", "N1"},
                              {"rates.tea", "20 gal/acre"},
                              {"rates.spray", "2 gal/acre"}}) == "loads.more-tea-than-spray");
  CHECK(farm.entered("plan", {{"what", "brew"}, {"volume", "90000 gal"}}) == "check.unusual");
  CHECK(farm.entered("plan", {{"what", "pass"}, {"at", farm.ago(72)}, {"beds", "N1"}}) == "check.plan-past");
  CHECK(farm.entered("calibration", {{"rig", "Backpack 1"}, {"rate", "45000 gal/acre"}}) == "check.unusual");
  CHECK(
      farm.entered("planting", {{"bed", "N1"}, {"crop", "Kale"}, {"planted", "2026-05-01"}, {"ended", "2026-04-01"}}) ==
      "check.end-before-beginning");
  CHECK(farm.entered("planting", {{"bed", "N1"}, {"crop", "Kale"}, {"plants", "-5"}}) == "check.negative");
  CHECK(farm.entered("interval", {{"aim", "leaf"}, {"days", "-5"}}) == "check.whole-number");
}

TEST_CASE("a plan of years ago, an absurd rate or temperature is asked about") {
  EnteredFarm farm;
  PlanChoices chosen;
  const auto asked = [&](const PlanChoices& choices) {
    return refusal(check_choices(choices, farm.now(), farm.by_ana()));
  };
  chosen.spray_from = farm.now() + -6 * 366 * kDay;
  CHECK(asked(chosen) == "check.plan-past");
  CHECK(got(check_choices(chosen, farm.now(), farm.by_ana("for the file"))).size() == 1);
  chosen.spray_from = farm.now() + 2 * kDay;
  CHECK(got(check_choices(chosen, farm.now(), farm.by_ana())).empty());
  chosen.temperatures = {{farm.now(), Temperature::from_fahrenheit(685)}};
  CHECK(asked(chosen) == "check.too-hot");
  chosen.temperatures.clear();
  chosen.spray_rate = q("45000 gal/acre");
  CHECK(asked(chosen) == "check.unusual");
}

TEST_CASE("amounts are of a kind that fits their field") {
  EnteredFarm farm;
  const std::string brew = farm.brewed.text();
  CHECK(farm.entered("event", {{"brew", brew}, {"what", "topped-up"}, {"amount", "5 lb"}}) == "quantity.not-volume");
  CHECK(farm.entered("event", {{"brew", brew}, {"what", "fed"}, {"amount", "3 ft"}}) ==
        "quantity.not-weight-or-volume");
  CHECK(farm.entered("event", {{"brew", brew}, {"what", "fed"}, {"amount", "5 lb"}}) == "written");
  CHECK(farm.entered("load-line", {{"load", farm.load.text()}, {"amount", "5 ft"}}) == "quantity.not-weight-or-volume");
  CHECK(farm.entered("harvest", {{"bed", "N2"}, {"at", "now"}, {"amount", "18 mph"}}) ==
        "quantity.not-weight-or-volume");
  const Id event = farm.enter_done("event", {{"brew", brew}, {"what", "fed"}, {"amount", "5 lb"}});
  CHECK(farm.amended(event, {{"what", "topped-up"}}) == "quantity.not-volume");
  // One that lies in a book already is in no balance of volumes.
  add(farm.book(), "event",
      {reference_value("brew", farm.brewed), word_value("what", "topped-up"), quantity_value("amount", "5 lb")});
  add(farm.book(), "event",
      {reference_value("brew", farm.brewed), word_value("what", "topped-up"), quantity_value("amount", "2 gal")});
  CHECK(got(read_brew_balance(farm.book(), farm.brewed)).filled->gallons() == doctest::Approx(7));
}

TEST_CASE("a time far from its pass, or ahead of the clock, is asked about") {
  EnteredFarm farm;
  const auto dose = [&](double hours_ago, std::string reason = {}) {
    return farm.entered("dose", {{"load", farm.load.text()}, {"bed", "N3"}, {"when.finish", farm.ago(hours_ago)}},
                        std::move(reason));
  };
  CHECK(dose(30) == "check.far-from-pass");
  CHECK(dose(30, "the clock of the tractor") == "written");
  CHECK(dose(-0.5) == "check.in-the-future");
  CHECK(dose(-0.2) == "written");  // Clocks of phones run a little apart.
  const Id later = farm.enter_done("pass", {{"aim", "leaf"}, {"start", farm.ago(100)}, {"finish", farm.ago(98)}});
  const EnterFields load{{"pass", later.text()}, {"number", "1"}, {"water", "1 gal"}, {"filled", farm.ago(60)}};
  CHECK(farm.entered("load", load) == "check.far-from-pass");
  CHECK(refusal(check_when(farm.now() + 16 * kMinute, farm.now(), "at")) == "check.in-the-future");
  CHECK(check_when(farm.now() + 14 * kMinute, farm.now(), "at"));
}

TEST_CASE("a farm's own numbers, zone and code pattern have to read") {
  EnteredFarm farm;
  const auto set = [&](std::string name, std::string value) { return farm.amended(farm.farm, {{name, value}}); };
  for (const char* days : {"-3", "0.4", "100000000000000"}) {
    CAPTURE(days);
    CHECK(set("tea_wait.days", days) == "check.whole-number");
  }
  CHECK(set("tea_wait.days", "14") == "written");
  CHECK(set("latitude", "900") == "check.number-range");
  CHECK(set("longitude", "-5000") == "check.number-range");
  CHECK(set("longitude", "-122.5") == "written");
  CHECK(set("harvest_pattern", "{bed}") == "check.harvest-pattern");
  CHECK(set("harvest_pattern", "{day}-{copy}") == "written");
  CHECK(set("zone.name", "Nowhere/Land") == "zone.name");
  CHECK(set("zone.rule", "garbage") == "zone.rule");
  // The rule comes along: a name alone would keep the old clock.
  CHECK(set("zone.name", "Asia/Tokyo") == "written");
  CHECK(got(read_farm(farm.book(), farm.farm)).zone.rule() == got(Zone::from_name("Asia/Tokyo")).rule());
}

TEST_CASE("ground that a bed was made of is named and goes somewhere; a stretch lies in its bed") {
  EnteredFarm farm;
  const auto bed = [&](std::string origin) {
    return farm.entered(
        "bed", {{"block", "North"}, {"name", "N1a"}, {"length", "50 ft"}, {"width", "30 in"}, {"origin.beds", origin}});
  };
  CHECK(bed("N1 50 ft 0 ft") == "check.origin-piece");
  CHECK(bed("N1 5 ft 5 ft") == "check.origin-piece");
  CHECK(bed("N1") == "check.origin-piece");
  CHECK(bed("N1 0 gal 50 gal") == "check.origin-piece");
  CHECK(bed("Q77 0 ft 50 ft") == "place.bed-not-among");
  const Id made = farm.enter_done(
      "bed",
      {{"block", "North"}, {"name", "N1b"}, {"length", "50 ft"}, {"width", "30 in"}, {"origin.beds", "N1 0 ft 50 ft"}});
  CHECK(got(read_bed(farm.book(), made)).origin.front().bed == farm.beds[0]);
  for (const char* kind : {"hold", "planting", "harvest"}) {
    CAPTURE(kind);
    const auto entered = [&](std::string from, std::string to) {
      EnterFields fields{{"bed", "N5"}, {"stretch.from", from}, {"stretch.to", to}};
      if (std::string_view(kind) == "hold") fields.insert(fields.end(), {{"what", "both"}, {"why", "glass"}});
      if (std::string_view(kind) == "planting") fields.emplace_back("crop", "Kale");
      if (std::string_view(kind) == "harvest") fields.emplace_back("at", "now");
      return farm.entered(kind, fields, "seen");
    };
    CHECK(entered("500 ft", "600 ft") == "check.beyond-bed");
    CHECK(entered("20 ft", "20 ft") == "check.stretch-empty");
    CHECK(entered("50 ft", "0 ft") == "written");
  }
}

TEST_CASE("what lies within another amount is asked about where it is the larger") {
  FarmBook farm(1, 2);
  Book& book = farm.book();
  const auto asked = [&](std::string_view kind, const EnterFields& fields, std::string reason = {}) {
    const auto entered = enter(book, kind, fields, {}, farm.by_ana(std::move(reason)));
    return entered ? std::string("done") : std::string(entered.error().word.key);
  };
  const EnterFields tote{{"name", "Tote"}, {"volume.nominal", "275 gal"}, {"volume.working", "300 gal"}};
  CHECK(asked("vessel", tote) == "check.working-above-whole");
  CHECK(asked("vessel", tote, "275 is only its name") == "done");
  CHECK(asked("vessel", {{"name", "Drum"}, {"volume.nominal", "208 L"}, {"volume.working", "50 gal"}}) == "done");
  CHECK(asked("rig", {{"name", "Cart"}, {"tank.volume", "4 gal"}, {"tank.dead", "5 gal"}}) == "check.dead-above-tank");
}

TEST_CASE("a value typed to settle a difference meets the checks") {
  EnteredFarm farm;
  const Id reading =
      farm.enter_done("reading", {{"of", farm.brewed.text()}, {"quantity", "temperature"}, {"value", "68 F"}});
  Copy office("Office", 9);
  office.checks = begin_checks;
  office.open();
  meet(farm.copy, office);
  done(amend(farm.book(), reading, {{"value", "67 F"}}, {}, "typo", farm.by_ana()));
  done(amend(*office.book, reading, {{"value", "66 F"}}, {}, "typo", farm.by_ana()));
  meet(farm.copy, office);
  const auto settled = [&](std::string value, std::string reason = {}) {
    const FactChoice typed{"value", 0, {quantity_value("value.value", value)}};
    return farm.said(settle_facts(farm.book(), reading, std::span(&typed, 1), "read again", farm.by_ana(reason)));
  };
  CHECK(settled("5 gal") == "quantity.not-temperature");
  CHECK(settled("685 degF") == "check.too-hot");
  CHECK(settled("20 degF") == "check.freezing");
  CHECK(settled("20 degF", "ice in the barrel") == "written");
}

TEST_CASE("a bed has a size, or none that is known") {
  EnteredFarm farm;
  const auto sized = [&](std::string_view field, std::string_view size) {
    EnterFields fields{{"block", "North"}, {"name", "N30"}};
    fields.emplace_back(field, size);
    return farm.said(farm.enter_with("bed", fields, "meant so"));
  };
  CHECK(sized("length", "0 ft") == "check.bed-size");
  CHECK(sized("width", "0 in") == "check.bed-size");
  CHECK(sized("length", "-") == "written");
}
