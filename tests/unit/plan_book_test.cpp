// A plan out of the book: what it reads, what it doubts, what it writes, and what becomes of it.
#include <doctest/doctest.h>
#include <algorithm>

#include "book/plan_commands.h"
#include "book/plan_sheet.h"
#include "book/today.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Alder Reach with a recipe, its stock and two vessels.
struct PlanBook : FarmBook {
  PlanBook() {
    compost = material("Worm compost", "worm-compost", false);
    kelp = material("Liquid kelp", "microbe-food", false);
    humic = material("Humic", "microbe-food", false);
    compost_lot = lot(compost, "W-14", "60 lb");
    kelp_lot = lot(kelp, "K-19", "2 fl oz");
    recipe = add(book(), "recipe",
                 {text_field_value("name", "Leaf 3"), quantity_value("reference", "5 gal"),
                  quantity_value("brewing.time", "24 h"), quantity_value("brewing.temperature", "70 degF")});
    line(compost, "1 lb", "1 lb");
    line(kelp, "5 fl oz", "10 fl oz");
    line(humic, "1 tbsp", "2 tbsp");
    bucket = add(book(), "vessel",
                 {text_field_value("name", "Blue bucket"), quantity_value("volume.nominal", "6 gal"),
                  quantity_value("volume.working", "5 gal"), quantity_value("depth", "12 in"),
                  quantity_value("pump.flow", "20 L/min"), quantity_value("pump.pressure", "3 psi")});
    tote = add(book(), "vessel", {text_field_value("name", "Old tote"), quantity_value("volume.nominal", "30 gal")});
  }
  void line(const Id& of, std::string low, std::string high) {
    add(book(), "recipe-line",
        {reference_value("recipe", recipe), reference_value("material", of), quantity_value("amount.low", low),
         quantity_value("amount.high", high), word_value("scaling", "proportion")});
  }
  Moment local(int month, int day, int hour, int minute = 0) {
    return Zone::from_name("America/New_York")->instants({{2026, month, day}, hour, minute, 0}).front();
  }
  PlanChoices choices(Moment from) {
    PlanChoices chosen;
    chosen.farm = farm;
    chosen.person = ana;
    chosen.beds = beds;
    chosen.rig = rig;
    chosen.aim = Aim::Leaf;
    chosen.tea_rate = q("20 gal/acre");
    chosen.spray_rate = q("45 gal/acre");
    chosen.rate_area = RateArea::BedTop;
    chosen.vessels = {bucket};
    chosen.spray_from = from;
    chosen.temperatures = {{from, Temperature::from_fahrenheit(70)}};
    return chosen;
  }
  BedStates states() { return got(bed_states(book(), farm, now())); }
  PlanSheet sheet(const PlanChoices& chosen) { return got(plan_sheet(book(), states(), chosen, now())); }

  Id compost, kelp, humic, compost_lot, kelp_lot, recipe, bucket, tote;
};

bool doubts(const PlanSheet& sheet, std::string_view word) { return has_caution(sheet.doubts, word); }

TEST_CASE("plan from the book: rates, recipe, vessel, stock, water and the farm's figures") {
  PlanBook farm;
  const Moment from = farm.now() + 4 * kDay;
  const PlanSheet sheet = farm.sheet(farm.choices(from));
  REQUIRE(sheet.missing.empty());
  REQUIRE(sheet.plan);
  // 24 × 100 ft × 30 in = 6,000 ft² = 0.13774 acre; 20 gal tea an acre, and of 0.15 gal that stays in the tank 20/45.
  const double tea = (6000.0 / 43560 * 20 + 0.15 * 20 / 45) * 1.05;
  CHECK(sheet.plan->tea.gallons() == doctest::Approx(tea).epsilon(1e-9));
  CHECK(sheet.plan->loads.total.spray().gallons() == doctest::Approx(6000.0 / 43560 * 45 + 0.15).epsilon(1e-9));
  CHECK(sheet.plan->loads.loads.size() == 2);
  REQUIRE(sheet.plan->lines.size() == 3);
  CHECK(sheet.plan->lines[0].amount.low == doctest::Approx(tea / 5));  // lb
  CHECK(sheet.plan->lines[1].amount.low == doctest::Approx(tea));      // 5 fl oz for 5 gal, and the range stays one.
  CHECK(sheet.plan->lines[1].amount.high == doctest::Approx(2 * tea));
  CHECK(*sheet.plan->lines[0].short_by == 0);
  CHECK(*sheet.plan->lines[1].short_by == doctest::Approx(tea - 2));
  CHECK(doubts(sheet, "plan.doubt-stock"));
  CHECK(doubts(sheet, "plan.doubt-stock-unknown"));  // No lot of humic.
  for (const Caution& doubt : sheet.doubts)
    if (doubt.word == "plan.doubt-stock"_w) CHECK(doubt.values.front() == "Liquid kelp");
  // A pump of 20 L/min at no pressure and none at 3 psi gives 20 × (1 − 0.4335/3) under a foot of water.
  CHECK(*sheet.plan->vessels[0].enough_air);
  CHECK(sheet.input->vessels[0].air->liters_per_minute() == doctest::Approx(20 * (1 - 0.4335 / 3)).epsilon(1e-3));
  CHECK(!sheet.plan->water_from);  // Well water without chlorine on record.
  CHECK(std::abs(*sheet.plan->air_on - (from - 30 * kMinute - kDay)) <= kMinute);
  CHECK(!sheet.plan->use_by);
  CHECK(doubts(sheet, "plan.doubt-no-use-by"));
  CHECK(sheet.figure("reserve")->by.empty());
}

TEST_CASE("plan from the book: the hour from which water stands is on record, in real hours over the clock change") {
  PlanBook farm;
  const Id mains =
      add(farm.book(), "water-source",
          {text_field_value("name", "Mains"), word_value("kind", "mains"), word_value("disinfectant", "chlorine")});
  // The copy's clock: a week before New York's clocks go forward, 8 March 2026, 2:00 (IANA tz database).
  farm.copy.clock = farm.local(3, 2, 12).ms;
  PlanChoices chosen = farm.choices(farm.local(3, 9, 18, 30));
  chosen.water_source = mains;
  chosen.temperatures = {{farm.local(3, 1, 12), Temperature::from_fahrenheit(70)}};
  const Moment air_on = farm.local(3, 8, 12);
  chosen.air_on = air_on;
  const PlanSheet sheet = farm.sheet(chosen);
  REQUIRE(sheet.plan);
  done(write_plan(farm.book(), farm.states(), chosen, farm.by_ana()));
  const auto plans = got(open_brew_plans(farm.book()));
  REQUIRE(plans.size() == 1);
  REQUIRE(plans[0].water_from);
  // 24 real hours before noon of the day that has 23: 11 in the morning, on the offset of winter.
  CHECK(air_on - plans[0].water_from->at == kDay);
  CHECK(plans[0].water_from->at == farm.local(3, 7, 11));
  CHECK(plans[0].water_from->offset_minutes == -300);
  CHECK(plans[0].at->offset_minutes == -240);
  // In autumn, when the night has an hour more.
  farm.copy.clock = farm.local(10, 26, 12).ms;
  chosen.spray_from = farm.local(11, 2, 18, 30);
  chosen.air_on = farm.local(11, 1, 12);
  chosen.temperatures = {{farm.local(10, 26, 12), Temperature::from_fahrenheit(70)}};
  done(write_plan(farm.book(), farm.states(), chosen, farm.by_ana()));
  CHECK(got(open_brew_plans(farm.book()))[1].water_from->at == farm.local(10, 31, 13));
  // Chloramine does not go by standing, and a well has none: nothing has to stand.
  for (const auto& [kind, what] : {std::pair{"mains", "chloramine"}, std::pair{"well", "none"}}) {
    chosen.water_source =
        add(farm.book(), "water-source",
            {text_field_value("name", what), word_value("kind", kind), word_value("disinfectant", what)});
    done(write_plan(farm.book(), farm.states(), chosen, farm.by_ana()));
  }
  const auto all = got(open_brew_plans(farm.book()));
  REQUIRE(all.size() == 4);
  CHECK(std::count_if(all.begin(), all.end(), [](const PlannedWork& plan) { return plan.water_from.is_there(); }) == 2);
}

TEST_CASE("plan from the book: the farm's own figures take the place of common practice") {
  PlanBook farm;
  const auto limit = [&](const char* which, const char* value) {
    done(set_limit(farm.book(), farm.farm, which, q(value), "Ana", farm.by_ana()));
  };
  limit("reserve", "20 %");
  limit("loading-time", "1 h");
  limit("air-off", "3 h");
  limit("brew-age", "26 h");
  limit("air-target", "6 L/min/gal");
  const Moment from = farm.now() + 4 * kDay;
  PlanChoices chosen = farm.choices(from);
  PlanSheet sheet = farm.sheet(chosen);
  REQUIRE(sheet.plan);
  CHECK(sheet.plan->reserve.gallons() == doctest::Approx(sheet.plan->loads.total.tea.gallons() * 0.2));
  CHECK(sheet.plan->air_off == from - kHour);
  CHECK(sheet.figure("reserve")->by == "Ana");
  CHECK(!*sheet.plan->vessels[0].enough_air);  // 17 L/min for some 20.
  // Off air at −1 h: until +2 h by that limit; 24 h brewed before, so 26 h of age are over at +1 h: the first governs.
  CHECK(std::abs(*sheet.plan->use_by - (from + kHour)) <= kMinute);
  CHECK(doubts(sheet, "plan.doubt-use-by"));
  // A person's own reserve goes before the farm's.
  chosen.reserve = q("0 %");
  sheet = farm.sheet(chosen);
  CHECK(sheet.plan->reserve.si() == 0);
}

TEST_CASE(
    "plan from the book: a brim is no working volume, a dirty vessel, chloramine, a time that is over, what is "
    "missing") {
  PlanBook farm;
  PlanChoices chosen = farm.choices(farm.now() + 4 * kDay);
  chosen.vessels = {farm.tote};
  PlanSheet sheet = farm.sheet(chosen);
  CHECK(doubts(sheet, "plan.doubt-brim"));
  CHECK(doubts(sheet, "plan.doubt-air-unknown"));

  const Stamp begun = {{farm.now().ms - kDay}, -240};
  add(farm.book(), "brew",
      {number_value("number", "30"), reference_value("vessel", farm.bucket), quantity_value("fill", "5 gal"),
       instant_value("met_water", begun), instant_value("air_on", begun)});
  const Id mains =
      add(farm.book(), "water-source",
          {text_field_value("name", "Town"), word_value("kind", "mains"), word_value("disinfectant", "chloramine")});
  chosen = farm.choices(farm.now() + 10 * kHour);
  chosen.water_source = mains;
  sheet = farm.sheet(chosen);
  CHECK(doubts(sheet, "plan.doubt-vessel-held"));
  CHECK(doubts(sheet, "plan.doubt-chloramine"));
  CHECK(doubts(sheet, "plan.doubt-past"));

  chosen.rig = add(farm.book(), "rig", {text_field_value("name", "Cart")});  // No tank on record.
  sheet = farm.sheet(chosen);
  REQUIRE(sheet.missing.size() == 1);
  CHECK(sheet.missing[0] == PlanMissing::Rig);
  CHECK(!sheet.plan);
  CHECK(refusal(write_plan(farm.book(), farm.states(), chosen, farm.by_ana())) == "plan.missing");
}

TEST_CASE("plan from the book: amounts that a person chose, and more than the recipe") {
  PlanBook farm;
  PlanChoices chosen = farm.choices(farm.now() + 4 * kDay);
  chosen.amounts = {{farm.compost, q("22 kg")}};
  const PlanSheet sheet = farm.sheet(chosen);
  CHECK(sheet.plan->lines[0].above_recipe);
  CHECK(doubts(sheet, "plan.doubt-above-recipe"));
  const Outcome outcome = done(write_plan(farm.book(), farm.states(), chosen, farm.by_ana()));
  const auto brews = got(open_brew_plans(farm.book()));
  REQUIRE(brews.size() == 1);
  REQUIRE(brews[0].lines.size() == 1);
  CHECK(brews[0].lines[0].of == farm.compost_lot);
  CHECK(si(brews[0].lines[0].amount).to_double() == doctest::Approx(22).epsilon(1e-3));
  CHECK(has_caution(outcome.cautions, "plan.doubt-above-recipe"));
}

TEST_CASE("plan written: brews in the house, the pass on its farm, each in its year; then they become what was done") {
  PlanBook farm;
  farm.plant(farm.beds[3], "chard");
  PlanChoices chosen = farm.choices(farm.now() + 2 * kDay);
  chosen.volume = q("8 gal");  // More than the bucket holds: two vessels.
  chosen.vessels = {};
  const Outcome outcome = done(write_plan(farm.book(), farm.states(), chosen, farm.by_ana()));
  const auto brews = got(open_brew_plans(farm.book()));
  const auto passes_planned = got(open_plans(farm.book(), farm.farm));
  REQUIRE(brews.size() == 1);  // The tote alone holds it.
  REQUIRE(passes_planned.size() == 1);
  const PlannedWork& pass = passes_planned[0];
  CHECK(pass.id == outcome.record);
  CHECK(pass.part == Part{farm.farm, 2026});
  CHECK(brews[0].part == Part{{}, 2026});
  CHECK(pass.beds == farm.beds);
  CHECK(pass.brews == std::vector<Id>{brews[0].id});
  CHECK(pass.tea_rate->gallons_per_acre() == doctest::Approx(20));
  CHECK(pass.rig == farm.rig);
  CHECK(*pass.aim == Aim::Leaf);
  CHECK(brews[0].vessel == farm.tote);
  CHECK(brews[0].volume->gallons() == doctest::Approx(8));
  CHECK(std::abs(brews[0].at->at - (*chosen.spray_from - 30 * kMinute - kDay)) <= kMinute);

  // Today offers both; the brew becomes the planned one, and the pass takes its tea.
  Today today = got(read_today(farm.book(), farm.states(), farm.ana, farm.now()));
  CHECK(today.planned.size() == 2);
  BrewGiven given;
  given.plan = brews[0].id;
  given.recipe = brews[0].recipe;
  given.vessel = brews[0].vessel;
  given.fill = q("8 gal");
  farm.pass_time(kDay);
  given.met_water = given.air_on = farm.now();
  const Id brew = done(start_brew(farm.book(), given, farm.by_ana())).record;
  CHECK(got(open_brew_plans(farm.book())).empty());
  CHECK(got(read_plan(farm.book(), brews[0].id)).became == brew);
  CHECK(refusal(start_brew(farm.book(), given, farm.by_ana("again"))) == "plan.not-open");
  farm.pass_time(kDay);
  today = got(read_today(farm.book(), farm.states(), farm.ana, farm.now()));
  REQUIRE(today.next);
  REQUIRE(today.next->sheet.planned);
  CHECK(today.next->sheet.planned->id == pass.id);
  CHECK(today.planned.empty());

  StartChoices start;
  start.farm = farm.farm;
  start.person = farm.ana;
  start.walk = Walk::SameEnd;
  start.from_far_end = false;
  start.weather.not_taken = true;
  const StartSheet sheet = got(start_sheet(farm.book(), start, farm.now()));
  CHECK(sheet.missing.empty());  // Nothing is asked again.
  CHECK(sheet.chosen.brew == brew);
  CHECK(sheet.chosen.beds == farm.beds);
  CHECK(sheet.chosen.tea_rate->text == "20 gal/acre");
  const Id done_pass = farm.start(start, "dirty");
  CHECK(got(open_plans(farm.book(), farm.farm)).empty());
  CHECK(got(read_plan(farm.book(), pass.id)).became == done_pass);
}

TEST_CASE(
    "plan written: two vessels at once, one already planned; an intended pass gets its brews; not done with a reason") {
  PlanBook farm;
  PlanChoices chosen = farm.choices(farm.now() + 3 * kDay);
  chosen.vessels = {
      farm.bucket,
      add(farm.book(), "vessel", {text_field_value("name", "Red bucket"), quantity_value("volume.working", "5 gal")})};
  chosen.volume = q("8 gal");
  std::vector<FieldValue> fields{word_value("what", "pass"), reference_value("farm", farm.farm),
                                 instant_value("at", {*chosen.spray_from, -240}),
                                 list_value("beds", {farm.beds[0].text(), farm.beds[1].text()})};
  const Id intended = add(farm.book(), "plan", fields);
  chosen.pass_plan = intended;
  chosen.beds.clear();
  chosen.spray_from.reset();
  const Outcome outcome = done(write_plan(farm.book(), farm.states(), chosen, farm.by_ana()));
  CHECK(outcome.record == intended);
  auto brews = got(open_brew_plans(farm.book()));
  REQUIRE(brews.size() == 2);
  CHECK(brews[0].volume->gallons() + brews[1].volume->gallons() == doctest::Approx(8));
  auto plan = got(read_plan(farm.book(), intended));
  CHECK(plan.brews.size() == 2);
  CHECK(plan.beds.size() == 2);

  const PlanSheet again = farm.sheet(farm.choices(farm.now() + 3 * kDay));
  CHECK(doubts(again, "plan.doubt-vessel-taken"));

  CHECK(refusal(plan_not_done(farm.book(), intended, " ", farm.by_ana())) == "record.reason-asked");
  done(plan_not_done(farm.book(), intended, "rain", farm.by_ana()));
  plan = got(read_plan(farm.book(), intended));
  CHECK(plan.not_done == "rain");
  CHECK(got(open_plans(farm.book(), farm.farm)).empty());
  CHECK(refusal(plan_not_done(farm.book(), intended, "rain", farm.by_ana())) == "plan.not-open");
  CHECK(refusal(write_plan(farm.book(), farm.states(), chosen, farm.by_ana())) == "plan.not-a-pass");
}

TEST_CASE("plan written for a season: every round, the year of each, and when the stock runs out") {
  PlanBook farm;
  PlanChoices chosen = farm.choices(farm.now() + 3 * kDay);
  farm.lot(farm.kelp, "K-20", "9 fl oz");
  chosen.every_days = 14;
  chosen.until = Date{2027, 1, 20};
  const PlanSheet sheet = farm.sheet(chosen);
  REQUIRE(sheet.season);
  const auto rounds = sheet.season->rounds.size();
  CHECK(sheet.season->tea.si() == doctest::Approx(sheet.plan->brewed.si() * static_cast<double>(rounds)));
  // 11 fl oz do for 3 rounds of 2.96 fl oz.
  CHECK(*sheet.season->rounds[2].lines[1].short_by == 0);
  CHECK(*sheet.season->rounds[3].lines[1].short_by > 0);
  CHECK(doubts(sheet, "plan.doubt-season-stock"));
  done(write_plan(farm.book(), farm.states(), chosen, farm.by_ana()));
  const auto brews = got(open_brew_plans(farm.book()));
  const auto passes_planned = got(open_plans(farm.book(), farm.farm));
  CHECK(brews.size() == rounds);
  REQUIRE(passes_planned.size() == rounds);
  CHECK(passes_planned.back().part == Part{farm.farm, 2027});
  CHECK(passes_planned.front().part == Part{farm.farm, 2026});
  // The clock goes back in November; the rounds keep their hour.
  const Zone zone = *Zone::from_name("America/New_York");
  for (const PlannedWork& plan : passes_planned)
    CHECK(zone.local(plan.at->at).hour == zone.local(passes_planned[0].at->at).hour);
}

TEST_CASE("plan from the book: beds that are due by then, the last pass's clock, and a picking inside the wait") {
  PlanBook farm;
  done(set_interval(farm.book(), farm.farm, farm.farm, {}, false, 14, farm.by_ana()));
  const Id brew = farm.brew();
  const Id pass = farm.start(farm.FarmBook::choices(brew, {farm.beds[0], farm.beds[1]}));
  farm.spray(pass, farm.beds[0]);
  farm.spray(pass, farm.beds[1]);
  EndRequest end;
  end.pass = pass;
  end.weather.not_taken = true;
  done(end_pass(farm.book(), end, farm.by_ana("as it was")));
  farm.pass_time(20 * kHour);
  PlanChoices chosen = farm.choices(farm.now() + 3 * kDay);
  chosen.beds.clear();
  PlanSheet sheet = farm.sheet(chosen);
  CHECK(sheet.pass.beds.size() == 22);  // The two are not due for 14 days.
  chosen = farm.choices(farm.now());
  chosen.spray_from.reset();
  sheet = farm.sheet(chosen);
  const Zone zone = *Zone::from_name("America/New_York");
  CHECK(zone.local(*sheet.chosen.spray_from).hour == zone.local(got(read_pass(farm.book(), pass)).start.at).hour);
  CHECK(*sheet.chosen.spray_from - farm.now() >= kDay);
  CHECK(!doubts(sheet, "plan.doubt-past"));
  add(farm.book(), "plan",
      {word_value("what", "pick"), reference_value("farm", farm.farm),
       instant_value("at", {*sheet.chosen.spray_from + 20 * kHour, -240}), list_value("beds", {farm.beds[4].text()})});
  sheet = farm.sheet(chosen);
  CHECK(doubts(sheet, "check.pick-planned"));
}

}  // namespace

TEST_CASE("plan from the book: beds that another plan sprays the same day are told, on whichever copy it was made") {
  PlanBook farm;
  const Moment from = farm.local(5, 18, 18);
  CHECK_FALSE(doubts(farm.sheet(farm.choices(from)), "plan.doubt-planned"));
  const Id planned = done(write_plan(farm.book(), farm.states(), farm.choices(from), farm.by_ana())).record;
  PlanChoices again = farm.choices(from + 30 * kMinute);
  again.beds = {farm.beds[1], farm.beds[2]};
  const PlanSheet sheet = farm.sheet(again);
  REQUIRE(doubts(sheet, "plan.doubt-planned"));
  for (const Caution& doubt : sheet.doubts)
    if (doubt.word == "plan.doubt-planned"_w) CHECK(doubt.values.front() == "N2, N3");
  again.spray_from = from + kDay;
  CHECK_FALSE(doubts(farm.sheet(again), "plan.doubt-planned"));
  // Brews for that very pass are no second plan of it.
  PlanChoices brews = farm.choices(from);
  brews.pass_plan = planned;
  CHECK_FALSE(doubts(farm.sheet(brews), "plan.doubt-planned"));
}
