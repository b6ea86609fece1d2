#include "trade/loads.h"

#include <doctest/doctest.h>

using namespace steep;

namespace {

// 18 beds of 30 in × 100 ft, 20 gal of tea in 45 gal of spray per acre of bed top, a 4 gal backpack.
LoadPlanInput eighteen_beds(LoadSplit split) {
  LoadPlanInput input;
  const LoadBed bed{{Length::from_feet(0), Length::from_feet(100)}, Length::from_feet(100) * Length::from_inches(30)};
  input.beds.assign(18, bed);
  input.tea_rate = VolumePerArea::from_gallons_per_acre(20);
  input.spray_rate = VolumePerArea::from_gallons_per_acre(45);
  input.tank = Volume::from_gallons(4);
  input.split = split;
  return input;
}

doctest::Approx about(double value) { return doctest::Approx(value).epsilon(1e-9); }

TEST_CASE("loads: gallons of tea per acre against gallons of spray per acre") {
  // Arithmetic by hand: 18 × 2.5 ft × 100 ft = 4,500 ft² = 0.10331 acre; × 20 = 2.066 gal tea; × 45 = 4.649 gal spray.
  const auto plan = plan_loads(eighteen_beds(LoadSplit::Equal));
  REQUIRE(plan);
  CHECK(plan->area.square_feet() == about(4500));
  CHECK(plan->total.tea.gallons() == about(4500.0 / 43560 * 20));
  CHECK(plan->total.spray().gallons() == about(4500.0 / 43560 * 45));
  CHECK(plan->total.water.gallons() == about(4500.0 / 43560 * 25));
  CHECK(plan->tea_fraction == about(20.0 / 45));
  REQUIRE(plan->loads.size() == 2);
  for (const auto& load : plan->loads) {
    CHECK(load.in_tank.spray().gallons() == about(4500.0 / 43560 * 45 / 2));  // 2.32
    CHECK(load.in_tank.tea.gallons() == about(4500.0 / 43560 * 20 / 2));      // 1.03
  }
  CHECK(plan->loads[0].last_bed == 8);
  CHECK(!plan->loads[0].ends_within_bed);
  CHECK(plan->loads[0].ends_at.feet() == about(100));
}

TEST_CASE("loads: one full tank and the rest, ending within a bed") {
  const auto plan = plan_loads(eighteen_beds(LoadSplit::FullAndRest));
  REQUIRE(plan);
  REQUIRE(plan->loads.size() == 2);
  CHECK(plan->loads[0].in_tank.spray().gallons() == about(4));
  CHECK(plan->loads[0].in_tank.tea.gallons() == about(16.0 / 9));                     // 1.78
  CHECK(plan->loads[0].in_tank.water.gallons() == about(20.0 / 9));                   // 2.22
  CHECK(plan->loads[1].in_tank.spray().gallons() == about(4500.0 / 43560 * 45 - 4));  // 0.65
  // 4 gal at 45 gal/acre cover 3,872 ft² = 15 beds and 122 ft² of the 16th: 48.8 ft.
  CHECK(plan->loads[0].last_bed == 15);
  CHECK(plan->loads[0].ends_within_bed);
  CHECK(plan->loads[0].ends_at.feet() == about(48.8));
  CHECK(plan->loads[1].last_bed == 17);
  CHECK(plan->loads[1].ends_at.feet() == about(100));
}

TEST_CASE("loads: turning at each bed, every second one runs from its far end") {
  auto input = eighteen_beds(LoadSplit::FullAndRest);
  input.walk = Walk::TurnAtEachBed;
  const auto plan = plan_loads(input);
  CHECK(plan->loads[0].last_bed == 15);
  CHECK(plan->loads[0].ends_at.feet() == about(51.2));
  CHECK(plan->loads[1].ends_at.feet() == about(0));
}

TEST_CASE("loads: what the pump leaves is filled once, and in the tank and can be sprayed are two numbers") {
  auto input = eighteen_beds(LoadSplit::FullAndRest);
  input.dead = Volume::from_gallons(0.25);
  const auto plan = plan_loads(input);
  REQUIRE(plan->loads.size() == 2);
  CHECK(plan->loads[0].in_tank.spray().gallons() == about(4));
  CHECK(plan->loads[0].can_spray.gallons() == about(3.75));
  CHECK(plan->loads[1].to_add.spray().gallons() == about(plan->loads[1].can_spray.gallons()));
  CHECK(plan->loads[1].in_tank.spray().gallons() == about(plan->loads[1].can_spray.gallons() + 0.25));
  CHECK(plan->left.spray().gallons() == about(0.25));
  double added = 0, sprayed = 0;
  for (const auto& load : plan->loads) {
    added += load.to_add.spray().gallons();
    sprayed += load.can_spray.gallons();
  }
  CHECK(added == about(plan->total.spray().gallons()));
  CHECK(sprayed == about(plan->on_beds.spray().gallons()));
}

TEST_CASE("loads: exactly full tanks need no load more") {
  auto input = eighteen_beds(LoadSplit::Equal);
  input.tank = Volume::from_gallons(4500.0 / 43560 * 45 / 3);
  CHECK(plan_loads(input)->loads.size() == 3);
  input.tank = Volume::from_gallons(4500.0 / 43560 * 45 / 3 * 0.999);
  CHECK(plan_loads(input)->loads.size() == 4);
}

TEST_CASE("loads: the same from US and metric inputs") {
  auto us = eighteen_beds(LoadSplit::FullAndRest), metric = us;
  metric.beds.assign(18, {{Length::from_meters(0), Length::from_meters(30.48)}, Area::from_square_meters(23.2257600)});
  metric.tea_rate = VolumePerArea::from_liters_per_hectare(20 * 22225.0 / 2376);
  metric.spray_rate = VolumePerArea::from_liters_per_hectare(45 * 22225.0 / 2376);
  metric.tank = Volume::from_liters(15.141647136);
  const auto a = plan_loads(us), b = plan_loads(metric);
  CHECK(a->loads[0].ends_at.meters() == about(b->loads[0].ends_at.meters()));
  CHECK(a->total.tea.liters() == about(b->total.tea.liters()));
}

TEST_CASE("loads: a spray without tea, and tea undiluted") {
  auto input = eighteen_beds(LoadSplit::Equal);
  input.tea_rate = VolumePerArea::from_gallons_per_acre(0);
  CHECK(plan_loads(input)->total.tea.gallons() == 0);
  input.tea_rate = input.spray_rate;
  CHECK(plan_loads(input)->total.water.gallons() == 0);
}

TEST_CASE("loads: says why it cannot answer") {
  const auto kind = [](LoadPlanInput input) { return plan_loads(input).error().word; };
  auto input = eighteen_beds(LoadSplit::Equal);
  input.beds.clear();
  CHECK(kind(input) == "loads.no-beds"_w);
  input = eighteen_beds(LoadSplit::Equal);
  input.tea_rate = VolumePerArea::from_gallons_per_acre(46);
  CHECK(kind(input) == "loads.more-tea-than-spray"_w);
  input = eighteen_beds(LoadSplit::Equal);
  input.dead = input.tank;
  CHECK(kind(input) == "loads.dead-volume"_w);
  input = eighteen_beds(LoadSplit::Equal);
  input.tank = Volume::from_milliliters(1);
  CHECK(plan_loads(input).error().kind == Trouble::OutOfRange);
  input = eighteen_beds(LoadSplit::Equal);
  input.spray_rate = VolumePerArea::from_gallons_per_acre(0);
  CHECK(kind(input) == "loads.spray-rate"_w);
}

}  // namespace
