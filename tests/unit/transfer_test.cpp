#include "trade/transfer.h"

#include <doctest/doctest.h>
#include <cmath>
#include <random>
#include <vector>

#include "trade/growth_fit.h"
#include "trade/transfer_fit.h"

using namespace steep;

namespace {

constexpr Concentration mg_L(double c) { return Concentration::from_milligrams_per_liter(c); }
constexpr Duration minutes(double m) { return Duration::from_minutes(m); }
constexpr Temperature celsius(double t) { return Temperature::from_celsius(t); }
constexpr Concentration kFull = mg_L(9);

/// An invented brewer: kLa 15 per h, uptake 30 mg/L/h; a reading every minute, air off from 1 to 7 min.
std::vector<OxygenAt> test_readings(double kla = 15, double uptake = 30, int last_min = 25) {
  std::vector<OxygenAt> readings;
  Concentration now = kFull - mg_L(uptake / kla);
  for (int t = 0; t <= last_min; ++t) {
    const bool on = t < 2 || t > 7;
    if (t > 0) now = oxygen_after(now, on ? kla : 0, kFull, mg_L(uptake), minutes(1));
    readings.push_back({minutes(t), now, on});
  }
  return readings;
}

/// The same scatter on every system: sums of twelve even ones, since the library's normal numbers are its own.
std::vector<OxygenAt> scattered(std::vector<OxygenAt> readings, double deviation, unsigned seed) {
  std::mt19937 random(seed);
  for (OxygenAt& one : readings) {
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += static_cast<double>(random()) / 4294967296.0;
    one.oxygen += mg_L(deviation * sum);
  }
  return readings;
}

TEST_CASE("transfer: a test gives back what it was made from") {
  const auto fit = fit_transfer(test_readings(), kFull);
  REQUIRE(fit);
  REQUIRE(fit->has_both());
  CHECK(*fit->kla_per_h == doctest::Approx(15).epsilon(1e-6));
  CHECK(fit->uptake_per_h->milligrams_per_liter() == doctest::Approx(30).epsilon(1e-6));
  const auto free = fit_transfer(test_readings(), std::nullopt);
  REQUIRE(free);
  CHECK(free->saturation->milligrams_per_liter() == doctest::Approx(9).epsilon(1e-5));
}

TEST_CASE("transfer: standard errors cover the truth as often as they say") {
  // 300 tests with a scatter of 0.1 mg/L. Within 2 errors lie 95 %; fewer than 90 % of 300 would be a chance of one in thousands.
  int kla_within = 0, uptake_within = 0;
  double deviation = 0;
  constexpr int kTests = 300;
  for (unsigned seed = 1; seed <= kTests; ++seed) {
    const auto fit = fit_transfer(scattered(test_readings(), 0.1, seed), kFull);
    REQUIRE(fit);
    REQUIRE(fit->has_both());
    kla_within += std::abs(*fit->kla_per_h - 15) < 2 * *fit->kla_error;
    uptake_within +=
        std::abs(fit->uptake_per_h->milligrams_per_liter() - 30) < 2 * fit->uptake_error->milligrams_per_liter();
    deviation += fit->deviation.milligrams_per_liter() / kTests;
  }
  CHECK(kla_within > 270);
  CHECK(uptake_within > 270);
  CHECK(kla_within < kTests);
  CHECK(deviation == doctest::Approx(0.1).epsilon(0.03));
}

TEST_CASE("transfer: says what the readings leave open") {
  const auto all = scattered(test_readings(), 0.02, 5);
  // Only the fall: the uptake stands, kLa does not show.
  const auto fall = fit_transfer(std::span(all).subspan(1, 7), kFull);
  REQUIRE(fall);
  CHECK(!fall->kla_per_h);
  CHECK(fall->uptake_per_h->milligrams_per_liter() == doctest::Approx(30).epsilon(0.05));
  // Only the steady level on air: their ratio shows, neither of them.
  const auto steady = fit_transfer(std::span(all).last(5), kFull);
  REQUIRE(steady);
  CHECK(!steady->kla_per_h);
  CHECK(!steady->uptake_per_h);
  // Only the way back, saturation unknown: kLa bends the curve, but uptake and saturation move the level alike.
  const auto back = fit_transfer(std::span(all).subspan(8), std::nullopt);
  REQUIRE(back);
  CHECK(*back->kla_per_h == doctest::Approx(15).epsilon(0.1));
  CHECK(!back->uptake_per_h);
  CHECK(!back->saturation);
  // With the saturation both stand.
  CHECK(fit_transfer(std::span(all).subspan(8), kFull)->has_both());
}

TEST_CASE("transfer: clean water without uptake is a number, not an open one") {
  const auto fit = fit_transfer(scattered(test_readings(15, 0.001), 0.02, 3), kFull);
  REQUIRE(fit);
  CHECK(!fit->kla_per_h);        // It never fell: nothing comes back.
  std::vector<OxygenAt> rising;  // Oxygen driven out first, then air on.
  for (int t = 0; t <= 20; ++t)
    rising.push_back({minutes(t), oxygen_after(mg_L(0.5), 15, kFull, mg_L(0), minutes(t)), true});
  const auto clean = fit_transfer(scattered(rising, 0.02, 4), kFull);
  REQUIRE(clean->has_both());
  CHECK(*clean->kla_per_h == doctest::Approx(15).epsilon(0.02));
  CHECK(std::abs(clean->uptake_per_h->milligrams_per_liter()) < 3 * clean->uptake_error->milligrams_per_liter());
}

TEST_CASE("transfer: readings in another order are the same test") {
  auto readings = scattered(test_readings(), 0.05, 9);
  const auto fit = fit_transfer(readings, kFull);
  std::vector<OxygenAt> turned(readings.rbegin(), readings.rend());
  CHECK(*fit_transfer(turned, kFull)->kla_per_h == *fit->kla_per_h);
}

TEST_CASE("transfer: levels and times follow air, uptake and floor") {
  double before = 10;
  for (double uptake = 5; uptake < 100; uptake += 10) {
    const auto steady = steady_oxygen(10, kFull, mg_L(uptake));
    REQUIRE(steady);
    const double now = steady->oxygen.milligrams_per_liter();
    CHECK((now < before || steady->runs_out));
    CHECK(steady->runs_out == (uptake >= 90));
    before = now;
  }
  CHECK(steady_oxygen(10, kFull, mg_L(0))->oxygen == kFull);
  // It settles where time leads.
  CHECK(oxygen_after(mg_L(1), 10, kFull, mg_L(20), Duration::from_hours(5)).milligrams_per_liter() ==
        doctest::Approx(steady_oxygen(10, kFull, mg_L(20))->oxygen.milligrams_per_liter()));
  // There and back: after the time to the floor the level is the floor.
  const Duration time = *time_to_floor(mg_L(8), mg_L(6), mg_L(24));
  CHECK(time.minutes() == doctest::Approx(5));
  CHECK(oxygen_after(mg_L(8), 0, kFull, mg_L(24), time).milligrams_per_liter() == doctest::Approx(6));
  CHECK(time_to_floor(mg_L(5), mg_L(6), mg_L(24))->si() == 0);
}

TEST_CASE("transfer: the same kLa from US and metric inputs") {
  const auto us = kla20_from_air(Flow::from_cubic_feet_per_minute(1), Share::from_percent(2.5), Length::from_feet(2),
                                 Volume::from_gallons(25));
  const auto metric = kla20_from_air(Flow::from_liters_per_minute(28.316846592), Share::from_percent(2.5),
                                     Length::from_meters(0.6096), Volume::from_liters(94.6352946));
  CHECK(*us == doctest::Approx(*metric).epsilon(1e-12));
  CHECK(*kla_at(10, celsius(20)) == 10);
  CHECK(*kla_at(10, celsius(30)) > *kla_at(10, celsius(10)));
}

TEST_CASE("transfer: a brew's oxygen trace shows how fast they multiply") {
  // Uptake 4 mg/L/h at first, doubling in 3 h, on air of kLa 12: integrated in steps of a second.
  std::vector<OxygenAt> trace;
  double oxygen = 9 - 4.0 / 12, rate = std::log(2) / 3;
  for (int s = 0; s <= 10 * 3600; ++s) {
    if (s % 1800 == 0) trace.push_back({Duration::from_seconds(s), mg_L(oxygen)});
    oxygen += (12 * (9 - oxygen) - 4 * std::exp(rate * s / 3600)) / 3600;
  }
  const auto uptakes = uptake_of_trace(trace, 12, kFull);
  REQUIRE(uptakes);
  CHECK(uptakes->size() == trace.size() - 1);
  std::vector<CountAt> counts;
  for (const UptakeAt& one : *uptakes) counts.push_back({one.at, std::log10(one.uptake_per_h.milligrams_per_liter())});
  const auto fit = fit_exponential(counts);
  REQUIRE(fit);
  CHECK(doubling_time(fit->rate_per_h).hours() == doctest::Approx(3).epsilon(0.01));
  CHECK(std::pow(10, fit->start) == doctest::Approx(4).epsilon(0.02));
}

TEST_CASE("transfer: refuses just outside its limits") {
  CHECK(kla_at(1, celsius(40)));
  CHECK(kla_at(1, celsius(40.1)).error().kind == Trouble::OutOfRange);
  CHECK(!kla_at(1, celsius(-0.1)));
  CHECK(!kla_at(0, celsius(20)));
  CHECK(kla_at(1, celsius(20), 0.2));
  CHECK(!kla_at(1, celsius(20), 0.19));
  CHECK(!kla_at(1, celsius(20), 1.01));
  CHECK(!kla_at(1, celsius(20), 1, 0.99));
  CHECK(!kla_at(1, celsius(20), 1, 1.11));
  const auto from_air = [](double air, double percent, double meters, double liters) {
    return kla20_from_air(Flow::from_liters_per_minute(air), Share::from_percent(percent), Length::from_meters(meters),
                          Volume::from_liters(liters));
  };
  CHECK(from_air(5, 10, 10, 20));
  CHECK(!from_air(5, 10.1, 10, 20));
  CHECK(!from_air(5, 2, 10.1, 20));
  CHECK(!from_air(0, 2, 1, 20));
  CHECK(!from_air(5, 2, 1, 0));
  CHECK(!from_air(5, 0, 1, 20));
  CHECK(!oxygen_in_air(celsius(60.1), Pressure::from_atmospheres(1)));
  CHECK(!oxygen_in_air(celsius(20), Pressure{}));
  CHECK(!steady_oxygen(0, kFull, mg_L(1)));
  CHECK(!steady_oxygen(1, mg_L(0), mg_L(1)));
  CHECK(!steady_oxygen(1, kFull, mg_L(-1)));
  CHECK(!time_to_floor(mg_L(8), mg_L(6), mg_L(0)));
  CHECK(!time_to_floor(mg_L(8), mg_L(-1), mg_L(1)));
}

TEST_CASE("transfer: says why a test cannot be used") {
  auto readings = test_readings();
  CHECK(fit_transfer(std::span(readings).first(4), kFull).error().word == "transfer.few"_w);
  readings[3].at = readings[2].at;
  CHECK(fit_transfer(readings, kFull).error().word == "transfer.same-time"_w);
  readings = test_readings();
  readings[5].oxygen = mg_L(0);
  CHECK(fit_transfer(readings, kFull).error().word == "transfer.reading"_w);
  const std::vector<OxygenAt> above = {{minutes(0), mg_L(10)}, {minutes(30), mg_L(10)}};
  CHECK(uptake_of_trace(above, 12, kFull).error().word == "transfer.no-uptake"_w);
  CHECK(uptake_of_trace(std::span(above).first(1), 12, kFull).error().word == "transfer.few-in-trace"_w);
}

}  // namespace
