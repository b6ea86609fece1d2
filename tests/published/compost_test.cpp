#include "trade/compost_heat.h"
#include "trade/compost_mix.h"

#include <algorithm>
#include <vector>

#include "published/published.h"

using namespace steep;
using namespace steep::published;

namespace {

constexpr const char* kCornell = "Cornell Composting, moisture and C:N (Richard & Trautmann), as reprinted";

Feedstock material(double kg, double moisture, double carbon, double nitrogen) {
  return {Mass::from_kilograms(kg), Share::from_percent(moisture), Share::from_percent(carbon),
          Share::from_percent(nitrogen)};
}

TEST_CASE("compost: moisture and C:N as worked examples print them") {
  PUBLISHED_NUMBER("compost", kCornell, "10 g wet, 2.3 g dry",
                   moisture_of_sample(Mass::from_grams(10), Mass::from_grams(2.3))->percent(), 77, 1e-9);
  const Feedstock grass{Mass::from_kilograms(10), Share::from_percent(77), std::nullopt, std::nullopt};
  const auto leaves = to_reach_moisture(grass, Share::from_percent(35), Share::from_percent(60));
  PUBLISHED_NUMBER("compost", kCornell, "leaves for 60 %", leaves->kilograms(), 6.8, 1e-9);
  const std::vector both{grass, Feedstock{*leaves, Share::from_percent(35), std::nullopt, std::nullopt}};
  PUBLISHED_NUMBER("compost", kCornell, "and the mix has it", compost_mix(both)->moisture.percent(), 60, 1e-9);
  PUBLISHED("compost", kCornell, "no C:N without carbon and nitrogen", !compost_mix(both)->carbon_to_nitrogen);

  // 50 lb hay (40 % C, 1 % N), 10 lb scraps (10, 1), 2 lb coffee (25, 1), as dry matter.
  const std::vector hay{material(50, 0, 40, 1), material(10, 0, 10, 1), material(2, 0, 25, 1)};
  PUBLISHED("compost", "composting guide with C and N sums, docslib.org 12269573", "hay, scraps, coffee",
            agrees(*compost_mix(hay)->carbon_to_nitrogen, "34.7"));

  // Inputs of the Cornell example from memory: grass 77 %, N 2.4 %, C:N 19; leaves 35 %, N 0.75 %, C:N 60.
  const Feedstock clippings = material(10, 77, 19 * 2.4, 2.4), dry_leaves = material(1, 35, 60 * 0.75, 0.75);
  const auto needed = to_reach_ratio(clippings, dry_leaves, 30);
  PUBLISHED_NUMBER("compost", "Cornell formula, evaluated independently", "leaves for 30:1", needed->kilograms(),
                   4.15179, 0.000005);
  Feedstock added = dry_leaves;
  added.mass = *needed;
  PUBLISHED_NUMBER("compost", "Cornell formula, evaluated independently", "and the mix has it",
                   *compost_mix(std::vector{clippings, added})->carbon_to_nitrogen, 30, 1e-9);
  added.mass = Mass::from_kilograms(6.8);
  PUBLISHED_NUMBER("compost", "Cornell formula, evaluated independently", "with 6.8 kg",
                   *compost_mix(std::vector{clippings, added})->carbon_to_nitrogen, 34.3837, 0.00005);
  // 'Two parts at 20:1 and one at 60:1 make 33:1' averages ratios; a mass balance with equal carbon does not.
  const std::vector ratios{material(2, 0, 40, 2), material(1, 0, 40, 40.0 / 60)};
  PUBLISHED("compost", "gardensimply.com, average of ratios (a shortcut)", "is not a mass balance",
            !within(*compost_mix(ratios)->carbon_to_nitrogen, 33.3333, 1));
}

TEST_CASE("compost: densities that bulk tables print") {
  struct Row {
    double lb_yd3, kg_m3, g_cup;
  };
  for (const Row& row :
       {Row{600, 355.9659, 84.22}, {800, 474.6211, 112.29}, {1000, 593.2764, 140.36}, {1100, 652.6041, 154.40}}) {
    const Density density = Density::from_pounds_per_cubic_yard(row.lb_yd3);
    PUBLISHED_NUMBER("compost", "NRAES-114 p. 8 range, conversions evaluated independently", "kg/m3",
                     density.kilograms_per_cubic_meter(), row.kg_m3, 0.00006);
    PUBLISHED_NUMBER("compost", "NRAES-114 p. 8 range, conversions evaluated independently", "g/cup",
                     (density * Volume::from_cups(1)).grams(), row.g_cup, 0.006);
  }
}

const HeatRule& published_rule(std::string_view key) {
  const auto rules = published_heat_rules();
  return *std::find_if(rules.begin(), rules.end(), [&](const HeatRule& rule) { return rule.key == key; });
}

// One core reading a day of a turned windrow, °F; turned on days 5, 8, 11, 14. Invented.
constexpr double kWindrow[] = {118, 129, 134, 141, 148, 152, 149, 144, 138, 130,
                               136, 142, 145, 140, 137, 133, 132, 128, 131, 131};

std::vector<HeatReading> windrow() {
  std::vector<HeatReading> readings;
  Date day{2026, 5, 1};
  for (const double fahrenheit : kWindrow) {
    readings.push_back({day, Temperature::from_fahrenheit(fahrenheit)});
    day = day + 1;
  }
  return readings;
}

TEST_CASE("compost: a heat record held against the published rules one by one") {
  const std::vector<Date> turned{{2026, 5, 5}, {2026, 5, 8}, {2026, 5, 11}, {2026, 5, 14}};
  const auto record = [&](const char* rule) { return heat_record(windrow(), turned, published_rule(rule), 30); };
  const HeatRecord organic = record("nop-windrow");
  constexpr const char* kNop = "7 CFR 205.203(c)(2)(iii): 131-170 F, 15 days, 5 turnings";
  PUBLISHED("compost", kNop, "16 days at 131 or more", organic.days == 16 && organic.days_short == 0);
  PUBLISHED("compost", kNop, "longest run 7 days", organic.longest_run == 7);
  PUBLISHED("compost", kNop, "4 turnings, one short", organic.turnings == 4 && organic.turnings_short == 1);
  PUBLISHED("compost", kNop, "so it does not show all", !organic.shows_all());
  PUBLISHED("compost", "NOP 5021 (2011): 131 F for 3 days", "shown", record("nop-5021").shows_all());
  PUBLISHED("compost", "21 CFR 112.54(b)(2) (from memory)", "turned: one turning short",
            record("psr-turned").turnings_short == 1);
  PUBLISHED("compost", "21 CFR 112.54(b)(1) (from memory)", "3 days in a row", record("psr-static").days_short == 0);

  // 130 is not 131; 131 F is 55 C exactly; 77 C is above 170 F.
  const HeatRule& windrow_rule = published_rule("nop-windrow");
  const auto one = [&](Temperature t) {
    return heat_record(std::vector{HeatReading{{2026, 5, 1}, t}}, {}, windrow_rule).days;
  };
  PUBLISHED("compost", kNop, "130 F is below", one(Temperature::from_fahrenheit(130)) == 0);
  PUBLISHED("compost", kNop, "131 F counts", one(Temperature::from_fahrenheit(131)) == 1);
  PUBLISHED("compost", kNop, "55 C counts", one(Temperature::from_celsius(55)) == 1);
  PUBLISHED("compost", kNop, "170 F counts", one(Temperature::from_fahrenheit(170)) == 1);
  PUBLISHED("compost", kNop, "77 C is above", one(Temperature::from_celsius(77)) == 0);
  PUBLISHED(
      "compost", "NOP 5021 (2011): 131 F for 3 days", "77 C counts",
      heat_record(std::vector{HeatReading{{2026, 5, 1}, Temperature::from_celsius(77)}}, {}, published_rule("nop-5021"))
              .days == 1);
}

TEST_CASE("compost: C:N at the start, several readings of one day, gaps") {
  const HeatRule& rule = published_rule("nop-windrow");
  CHECK(!heat_record(windrow(), {}, rule).ratio_known);
  CHECK(heat_record(windrow(), {}, rule, 25).ratio_in_range);
  CHECK(heat_record(windrow(), {}, rule, 40).ratio_in_range);
  CHECK(!heat_record(windrow(), {}, rule, 24.9).ratio_in_range);
  CHECK(!heat_record(windrow(), {}, rule, 40.1).ratio_in_range);
  // Never by average: one cold position of a day takes the day away.
  const std::vector<HeatReading> positions{{{2026, 5, 1}, Temperature::from_fahrenheit(150)},
                                           {{2026, 5, 1}, Temperature::from_fahrenheit(125)}};
  CHECK(heat_record(positions, {}, rule).days == 0);
  // A day without reading breaks the run.
  const std::vector<HeatReading> gap{{{2026, 5, 1}, Temperature::from_fahrenheit(140)},
                                     {{2026, 5, 3}, Temperature::from_fahrenheit(140)},
                                     {{2026, 5, 4}, Temperature::from_fahrenheit(140)}};
  CHECK(heat_record(gap, {}, rule).longest_run == 2);
  CHECK(heat_record(gap, {}, published_rule("psr-static")).days_short == 1);
  CHECK(heat_record({}, std::vector<Date>{{2026, 5, 1}}, rule).turnings == 0);
}

}  // namespace
