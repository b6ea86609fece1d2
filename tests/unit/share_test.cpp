#include "trade/share.h"

#include <doctest/doctest.h>
#include <cmath>
#include <limits>
#include <vector>

using namespace steep;

namespace {

// Invented pass: 20 gal of tea and 45 gal of spray per acre; a load of 4 gal, 4/9 of it tea.
LoadVolumes load() {
  LoadVolumes l;
  l.tea = Volume::from_gallons(16.0 / 9);
  l.water = Volume::from_gallons(20.0 / 9);
  l.spray_rate = VolumePerArea::from_gallons_per_acre(45);
  l.tea_rate = VolumePerArea::from_gallons_per_acre(20);
  return l;
}
DoseShare bed(double square_feet) { return {Area::from_square_feet(square_feet), std::nullopt, false}; }
DoseShare measured(double square_feet, double gallons) {
  return {Area::from_square_feet(square_feet), Volume::from_gallons(gallons), false};
}

TEST_CASE("share: while the load is open, rate × area, marked as an estimate") {
  const std::vector doses{bed(250), measured(250, 0.3)};
  const LoadShares shares = share_load(load(), doses);
  CHECK(shares.doses[0].how == HowKnown::Rate);
  CHECK(shares.doses[0].is_estimate());
  CHECK(shares.doses[0].spray->gallons() == doctest::Approx(45 * 250 / 43560.0).epsilon(1e-12));
  CHECK(shares.doses[0].tea->gallons() == doctest::Approx(20 * 250 / 43560.0).epsilon(1e-12));
  CHECK(shares.doses[1].how == HowKnown::Measured);
  CHECK(!shares.gave);
}

TEST_CASE("share: a closed load is shared by area, and adds up to what it gave") {
  LoadVolumes closed = load();
  closed.closed = true;
  closed.left = Volume::from_gallons(0.4);
  std::vector doses{bed(250), bed(125), measured(250, 0.6), bed(250)};
  doses.push_back({Area::from_square_feet(250), std::nullopt, true});
  const LoadShares shares = share_load(closed, doses);
  CHECK(shares.gave->gallons() == doctest::Approx(3.6));
  // 3.6 − 0.6 = 3.0 gal over 625 ft².
  CHECK(shares.doses[0].how == HowKnown::Share);
  CHECK(shares.doses[0].spray->gallons() == doctest::Approx(1.2));
  CHECK(shares.doses[1].spray->gallons() == doctest::Approx(0.6));
  CHECK(shares.doses[4].how == HowKnown::Skipped);
  CHECK(shares.doses[4].spray->gallons() == 0);
  double spray = 0, tea = 0;
  for (const ShownVolume& one : shares.doses) {
    spray += one.spray->liters();
    tea += one.tea->liters();
  }
  CHECK(std::abs(spray - shares.gave->liters()) < 1e-12 * spray);
  CHECK(tea / spray == doctest::Approx(4.0 / 9).epsilon(1e-12));
  CHECK(!shares.overdrawn);
}

TEST_CASE("share: left not taken is not zero") {
  LoadVolumes closed = load();
  closed.closed = true;
  const LoadShares shares = share_load(closed, std::vector{bed(250)});
  CHECK(!shares.gave);
  CHECK(shares.doses[0].how == HowKnown::Rate);
}

TEST_CASE("share: a load that gave more than it held says so and shares nothing negative") {
  LoadVolumes closed = load();
  closed.closed = true;
  closed.left = Volume::from_gallons(0.5);
  const LoadShares shares = share_load(closed, std::vector{measured(250, 3.8), bed(250)});
  CHECK(shares.overdrawn);
  CHECK(shares.doses[1].how == HowKnown::Rate);
  CHECK(shares.doses[1].spray->gallons() > 0);
  const LoadShares all = share_load(closed, std::vector{measured(250, 3.8)});
  CHECK(all.unaccounted->gallons() == doctest::Approx(-0.3));
}

TEST_CASE("share: everything measured leaves the rest unaccounted for, in the open") {
  LoadVolumes closed = load();
  closed.closed = true;
  closed.left = Volume::from_gallons(0);
  const LoadShares shares = share_load(closed, std::vector{measured(250, 3.5)});
  CHECK(shares.unaccounted->gallons() == doctest::Approx(0.5));
}

TEST_CASE("share: without rate and without volumes there is no number") {
  LoadVolumes unknown;
  const LoadShares shares = share_load(unknown, std::vector{bed(250), measured(250, 1)});
  CHECK(shares.doses[0].how == HowKnown::NotKnown);
  CHECK(!shares.doses[0].spray);
  CHECK(shares.doses[1].spray->gallons() == doctest::Approx(1));
  CHECK(!shares.doses[1].tea);  // How much of it was tea is not known: not zero.
  unknown.tea = Volume::from_gallons(0);
  CHECK(share_load(unknown, std::vector{measured(250, 1)}).doses[0].tea->gallons() == 0);
}

TEST_CASE("share: values that cannot be are not known") {
  LoadVolumes closed = load();
  closed.closed = true;
  closed.left = Volume::from_gallons(-1);
  CHECK(share_load(closed, std::vector{bed(250)}).doses[0].how == HowKnown::Rate);
  closed.left = Volume::from_gallons(0);
  CHECK(share_load(closed, std::vector{bed(-3)}).doses[0].how == HowKnown::NotKnown);
  CHECK(share_load(closed, std::vector{bed(std::numeric_limits<double>::quiet_NaN())}).doses[0].how ==
        HowKnown::NotKnown);
}

TEST_CASE("share: the same answer from US and metric readings") {
  LoadVolumes us = load(), metric = load();
  us.closed = metric.closed = true;
  us.left = Volume::from_gallons(0.5);
  metric.left = Volume::from_liters(0.5 * 3.785411784);
  metric.tea = Volume::from_liters(16.0 / 9 * 3.785411784);
  metric.water = Volume::from_liters(20.0 / 9 * 3.785411784);
  const auto a = share_load(us, std::vector{bed(250), bed(100)});
  const auto b = share_load(metric, std::vector{DoseShare{Area::from_square_meters(23.22576), {}, false},
                                                DoseShare{Area::from_square_meters(9.290304), {}, false}});
  CHECK(a.doses[0].spray->liters() == doctest::Approx(b.doses[0].spray->liters()).epsilon(1e-12));
}

}  // namespace
