// The whole chain backward, and costs.
#include <doctest/doctest.h>
#include <algorithm>

#include "trade/cost.h"
#include "trade/plan.h"
#include "trade/season_plan.h"

using namespace steep;

namespace {

Zone eastern() { return *Zone::from_rule("America/New_York", "EST5EDT,M3.2.0,M11.1.0"); }
Moment at(int month, int day, int hour, int minute = 0) {
  return eastern().instants({{2026, month, day}, hour, minute, 0}).front();
}
Volume gal(double n) { return Volume::from_gallons(n); }

// 44 beds of 100 ft × 30 in, 20 gal tea in 45 gal spray per acre, a 4 gal backpack, two brewers.
PlanInput input() {
  PlanInput in;
  const LoadBed bed{{Length{}, Length::from_feet(100)}, Length::from_feet(100) * Length::from_inches(30)};
  in.spray.beds.assign(44, bed);
  in.spray.tea_rate = VolumePerArea::from_gallons_per_acre(20);
  in.spray.spray_rate = VolumePerArea::from_gallons_per_acre(45);
  in.spray.tank = gal(4);
  in.vessels = {{"A", gal(15), gal(2), Flow::from_liters_per_minute(20)}, {"B", gal(6), gal(1), std::nullopt}};
  in.recipe = {{"compost", gal(5), {3, 5}, {}, 20.0},
               {"kelp", gal(5), {1, 1}, {}, 0.5},
               {"humic", gal(5), {1, 1}, {}, std::nullopt}};
  in.spraying_from = at(6, 4, 6, 30);
  in.temperatures = {{at(6, 1, 0), Temperature::from_fahrenheit(70)}};
  return in;
}

bool doubts(const Plan& plan, WordId word) {
  return std::any_of(plan.doubts.begin(), plan.doubts.end(), [&](const Doubt& d) { return d.word == word; });
}

TEST_CASE("plan: from beds back to the water") {
  const auto plan = make_plan(input(), eastern());
  REQUIRE(plan);
  // 44 × 250 ft² = 0.252525 acre; × 20 = 5.0505 gal tea, × 1.05 = 5.303 gal to brew.
  CHECK(plan->tea.gallons() == doctest::Approx(11000.0 / 43560 * 20 * 1.05).epsilon(1e-9));
  CHECK(plan->loads.loads.size() == 3);
  REQUIRE(plan->vessels.size() == 1);
  CHECK(plan->vessels[0].key == "A");  // B holds 5 gal only.
  CHECK(plan->vessels[0].fill.gallons() == doctest::Approx(plan->tea.gallons()));
  CHECK(*plan->vessels[0].enough_air);
  CHECK(plan->lines[0].amount.low == doctest::Approx(3 * plan->tea.gallons() / 5));
  CHECK(*plan->lines[0].short_by == 0);
  CHECK(*plan->lines[1].short_by == doctest::Approx(plan->tea.gallons() / 5 - 0.5));
  CHECK(doubts(*plan, "plan.doubt-stock"_w));
  CHECK(doubts(*plan, "plan.doubt-stock-unknown"_w));
  // 24 h at 70 °F, loaded half an hour before the first bed: air on at 06:00 the day before, water 24 h earlier.
  CHECK(plan->air_off == at(6, 4, 6));
  CHECK(std::abs(*plan->air_on - at(6, 3, 6)) <= kMinute);
  CHECK(std::abs(*plan->water_from - at(6, 2, 6)) <= kMinute);
  CHECK(plan->spraying_to == at(6, 4, 8, 45));
  CHECK(*plan->use_by == at(6, 4, 10));
  CHECK(!doubts(*plan, "plan.doubt-use-by"_w));
  CHECK(doubts(*plan, "plan.doubt-late"_w));  // It may take a quarter longer.
  CHECK(!doubts(*plan, "plan.doubt-clock"_w));
}

TEST_CASE("plan: a brew across the spring clock change starts earlier by the clock") {
  PlanInput in = input();
  in.spraying_from = at(3, 8, 19, 30);  // Ready by 19:00 on the day of the change.
  in.temperatures = {{at(3, 1, 0), Temperature::from_fahrenheit(70)}};
  const auto plan = make_plan(in, eastern());
  CHECK(std::abs(*plan->air_on - at(3, 7, 18)) <= kMinute);  // 18:00 EST + 24 h = 19:00 EDT.
  CHECK(doubts(*plan, "plan.doubt-clock"_w));
}

TEST_CASE("plan: several vessels, too little room, chloramine, nothing known of temperature, late") {
  PlanInput in = input();
  in.spray.beds.insert(in.spray.beds.end(), in.spray.beds.begin(), in.spray.beds.end());
  in.spray.beds.insert(in.spray.beds.end(), in.spray.beds.begin(), in.spray.beds.begin() + 44);
  auto plan = make_plan(in, eastern());  // 132 beds: 15.9 gal.
  REQUIRE(plan->vessels.size() == 2);
  CHECK(plan->vessels[0].fill.gallons() == doctest::Approx(13));
  CHECK(plan->brewed.gallons() == doctest::Approx(plan->tea.gallons()));
  CHECK(doubts(*plan, "plan.doubt-air-unknown"_w));
  CHECK(doubts(*plan, "plan.doubt-use-by"_w));

  in.vessels.pop_back();
  CHECK(doubts(*make_plan(in, eastern()), "plan.doubt-vessels"_w));
  in = input();
  in.disinfectant = Disinfectant::Chloramine;
  plan = make_plan(in, eastern());
  CHECK(doubts(*plan, "plan.doubt-chloramine"_w));
  CHECK(!plan->water_from);
  in = input();
  in.temperatures.clear();
  plan = make_plan(in, eastern());
  CHECK(doubts(*plan, "plan.doubt-temperature"_w));
  CHECK(!plan->air_on);
  in = input();
  in.vessels.clear();
  CHECK(make_plan(in, eastern()).error().word == "plan.no-vessel"_w);
  in = input();
  in.spray.tea_rate = VolumePerArea{};
  CHECK(make_plan(in, eastern()).error().word == "plan.no-tea"_w);
}

TEST_CASE("plan: a time chosen for air on, a larger volume, limits of the farm, more than the recipe, a table") {
  PlanInput in = input();
  in.air_on = at(6, 3, 12);
  in.volume = gal(8);
  in.greatest_age = Duration::from_hours(20);
  in.recipe[0].chosen = 12;  // 8 gal ask for 4.8 to 8.
  in.recipe[2].table = {{gal(5), {1, 1}}, {gal(7), {2, 2}}};
  auto plan = *make_plan(in, eastern());
  CHECK(*plan.air_on == at(6, 3, 12));
  CHECK(std::abs(plan.ready->expected - at(6, 4, 12)) <= kMinute);
  CHECK(doubts(plan, "plan.doubt-late"_w));
  CHECK(plan.spare.gallons() == doctest::Approx(8 - plan.tea.gallons()));
  CHECK(plan.brewed.gallons() == doctest::Approx(8));
  CHECK(*plan.use_by == at(6, 4, 8));  // 20 h of age come before 4 h off air.
  CHECK(doubts(plan, "plan.doubt-use-by"_w));
  CHECK(doubts(plan, "plan.doubt-above-recipe"_w));
  CHECK(doubts(plan, "plan.doubt-table"_w));
  CHECK(!plan.lines[2].is_known);
  // More than the vessels hold: what is spare is what is really brewed beyond the need.
  in.volume = gal(500);
  plan = *make_plan(in, eastern());
  CHECK(plan.brewed < gal(500));
  CHECK(plan.spare.gallons() == doctest::Approx(plan.brewed.gallons() - plan.tea.gallons()));
  CHECK(doubts(plan, "plan.doubt-vessels"_w));
  in.recipe[0].chosen = 8;
  in.volume = gal(4);
  in.use_within.reset();
  in.greatest_age.reset();
  in.pace.reset();
  in.air_on = at(6, 4, 6);
  plan = *make_plan(in, eastern());
  CHECK(doubts(plan, "plan.doubt-volume"_w));
  CHECK(plan.spare.si() == 0);
  CHECK(!plan.use_by);
  CHECK(doubts(plan, "plan.doubt-no-use-by"_w));
  CHECK(doubts(plan, "plan.doubt-no-time"_w));
  CHECK(doubts(plan, "plan.doubt-air-on"_w));  // Not before air off.
  in.volume = gal(0);
  CHECK(make_plan(in, eastern()).error().kind == Trouble::BadInput);
}

TEST_CASE("season: rounds at one clock time, over both clock changes, until the stock is used up") {
  PlanInput in = input();
  in.spraying_from = at(2, 8, 2, 30);  // 2:30 does not exist on 8 March.
  const auto season = make_season_plan(in, 28, {2026, 12, 31}, eastern());
  REQUIRE(season);
  CHECK(season->rounds.size() == 12);
  for (const Plan& round : season->rounds) {
    const LocalTime local = eastern().local(round.spraying_from);
    if (local.date == Date{2026, 3, 8})
      CHECK(local.hour == 3);
    else
      CHECK((local.hour == 2 && local.minute == 30));
  }
  // 20 of compost, 3 for 5 gal: 3.18 a round do for 6 rounds.
  const double round = 3 * season->rounds[0].tea.gallons() / 5;
  CHECK(*season->rounds[5].lines[0].short_by == 0);
  CHECK(*season->rounds[6].lines[0].short_by == doctest::Approx(7 * round - 20));
  CHECK(*season->lines[0].short_by == doctest::Approx(12 * round - 20));
  CHECK(!season->lines[2].short_by);
  CHECK(season->tea.gallons() == doctest::Approx(12 * season->rounds[0].brewed.gallons()));
  CHECK(make_season_plan(in, 0, {2026, 12, 31}, eastern()).error().word == "plan.every"_w);
  CHECK(make_season_plan(in, 14, {2026, 1, 31}, eastern()).error().word == "plan.until"_w);
  CHECK(make_season_plan(in, 1, {2028, 1, 31}, eastern()).error().kind == Trouble::OutOfRange);
}

TEST_CASE("cost: whole cents, both ways of rounding tax") {
  CHECK(cost_of_use({4200}, 22, 300)->cents == 308);
  CHECK(cost_of_time({1800}, Duration::from_minutes(90))->cents == 2700);
  CHECK(*cents_per_gallon({2750}, gal(110)) == doctest::Approx(25));
  // 3 lines of 0.99 at 5 %: 0.05 a line = 0.15, on the whole 0.1485 = 0.15; at 4 %: 0.12 and 0.12; at 5.5 %: 0.15 and 0.16.
  const std::vector<Money> lines{{99}, {99}, {99}};
  CHECK(bill(lines, Share::from_percent(5.5), TaxRounding::OnEachLine)->tax.cents == 15);
  CHECK(bill(lines, Share::from_percent(5.5), TaxRounding::OnTheWhole)->tax.cents == 16);
  CHECK(bill(lines, Share::from_percent(5.5), TaxRounding::OnTheWhole)->gross.cents == 313);
  CHECK(!cost_of_use({-1}, 1, 1));
  CHECK(!cost_of_use({1}, 1, 0));
  CHECK(!bill(lines, Share::from_percent(101), TaxRounding::OnTheWhole));
  CHECK(!cents_per_gallon({1}, Volume{}));
}

}  // namespace
