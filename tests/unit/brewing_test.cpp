// Water, air, oxygen, brewing windows.
#include <doctest/doctest.h>
#include <cmath>
#include <vector>

#include "trade/air.h"
#include "trade/oxygen.h"
#include "trade/water.h"
#include "trade/window.h"

using namespace steep;

namespace {

doctest::Approx about(double value) { return doctest::Approx(value).epsilon(1e-9); }

TEST_CASE("oxygen: less with warmth, salt and height; refuses just outside") {
  const Pressure sea = Pressure::from_atmospheres(1);
  double before = 99;
  for (int t = 0; t <= 40; ++t) {
    const double now = oxygen_saturation(Temperature::from_celsius(t), sea)->milligrams_per_liter();
    CHECK(now < before);
    before = now;
  }
  const auto at = [&](double t, double atm, double S) {
    return oxygen_saturation(Temperature::from_celsius(t), Pressure::from_atmospheres(atm), S);
  };
  CHECK(at(20, 1, 10)->si() < at(20, 1, 5)->si());
  CHECK(at(20, 0.8, 0)->si() < at(20, 0.9, 0)->si());
  CHECK(at(-0.1, 1, 0).error().word == "oxygen.temperature"_w);
  CHECK(at(40.1, 1, 0).error().kind == Trouble::OutOfRange);
  CHECK(at(20, 0.49, 0).error().word == "oxygen.pressure"_w);
  CHECK(at(20, 1.11, 0).error().kind == Trouble::OutOfRange);
  CHECK(at(20, 1, 40.1).error().word == "oxygen.salinity"_w);
  CHECK(at(20, 1, 40));
  CHECK(oxygen_saturation(Temperature::from_fahrenheit(104), sea));
  CHECK(oxygen_saturation(Temperature::from_fahrenheit(32), sea));
  CHECK(oxygen_share(*at(20, 1, 0), Temperature::from_celsius(20), sea)->ratio() == about(1));
  CHECK(!oxygen_share(Concentration::from_si(-1), Temperature::from_celsius(20), sea));
  CHECK(!pressure_at_elevation(Length::from_meters(5001)));
  CHECK(!pressure_at_elevation(Length::from_meters(-501)));
}

TEST_CASE("air: between rows, at least, and beyond the curve") {
  const std::vector<PumpPoint> curve{{Pressure::from_psi(2), Flow::from_cubic_feet_per_minute(4)},
                                     {Pressure::from_psi(4), Flow::from_cubic_feet_per_minute(2)}};
  CHECK(delivered_flow(curve, Pressure::from_psi(3))->flow.cubic_feet_per_minute() == about(3));
  CHECK(!delivered_flow(curve, Pressure::from_psi(3))->at_least);
  CHECK(delivered_flow(curve, Pressure::from_psi(1))->at_least);
  CHECK(delivered_flow(curve, Pressure::from_psi(1))->flow.cubic_feet_per_minute() == about(4));
  CHECK(delivered_flow(curve, Pressure::from_psi(4.01)).error().kind == Trouble::OutOfRange);
  CHECK(!delivered_flow({}, Pressure::from_psi(1)));
  const std::vector<PumpPoint> rising{curve[0], {Pressure::from_psi(4), Flow::from_cubic_feet_per_minute(5)}};
  CHECK(delivered_flow(rising, Pressure::from_psi(3)).error().kind == Trouble::BadInput);
  const auto line = *straight_curve(Flow::from_liters_per_minute(60), Pressure::from_kilopascals(30));
  CHECK(delivered_flow(line, Pressure::from_kilopascals(10))->flow.liters_per_minute() == about(40));
  CHECK(!hydrostatic_pressure(Length::from_meters(-0.1)));
  CHECK(!hydrostatic_pressure(Length::from_meters(10.1)));
  CHECK(!air_needed(FlowPerVolume{}, Volume::from_liters(20)));
}

TEST_CASE("water: standing never counts for chloramine") {
  CHECK(standing_share(Disinfectant::Chloramine, {}, Duration::from_hours(48), {}).error().kind ==
        Trouble::Unsupported);
  CHECK(chlorine_after(Disinfectant::Chloramine, Concentration::from_milligrams_per_liter(2), Duration::from_hours(6),
                       Duration::from_hours(24))
            .error()
            .word == "water.chloramine-stays"_w);
  CHECK(*standing_share(Disinfectant::FreeChlorine, {}, Duration::from_hours(12), Duration::from_hours(6)) == about(1));
  CHECK(neutralizer_dose(Neutralizer::Thiosulfate, Disinfectant::Chloramine,
                         Concentration::from_milligrams_per_liter(2), Volume::from_gallons(50))
            .error()
            .kind == Trouble::Unsupported);
}

TEST_CASE("water: 50 gallons at 2 mg/L, there and back, refusals") {
  const auto two = Concentration::from_milligrams_per_liter(2);
  const auto dose =
      neutralizer_dose(Neutralizer::AscorbicAcid, Disinfectant::FreeChlorine, two, Volume::from_gallons(50));
  CHECK(dose->molar.milligrams() == doctest::Approx(940.3).epsilon(1e-4));
  CHECK(dose->field->milligrams() == doctest::Approx(946.4).epsilon(1e-4));
  const auto half_life = Duration::from_hours(6);
  const auto time =
      standing_time(Disinfectant::FreeChlorine, two, half_life, Concentration::from_milligrams_per_liter(0.3));
  CHECK(chlorine_after(Disinfectant::FreeChlorine, two, half_life, *time)->milligrams_per_liter() == about(0.3));
  CHECK(
      standing_time(Disinfectant::FreeChlorine, two, half_life, Concentration::from_milligrams_per_liter(3))->hours() ==
      0);
  CHECK(!standing_time(Disinfectant::FreeChlorine, two, half_life, Concentration{}));
  CHECK(!neutralizer_dose(Neutralizer::AscorbicAcid, Disinfectant::FreeChlorine,
                          Concentration::from_milligrams_per_liter(51), Volume::from_gallons(50)));
  CHECK(!neutralizer_dose(Neutralizer::AscorbicAcid, Disinfectant::FreeChlorine, two, Volume{}));
}

constexpr Moment kStart{1'780'000'000'000};
TemperatureAt at(double hours, double celsius) {
  return {kStart + static_cast<std::int64_t>(hours * kHour), Temperature::from_celsius(celsius)};
}
double hours(Moment m) { return static_cast<double>(m - kStart) / kHour; }
BrewPace at_20(double h) {
  BrewPace pace;
  pace.recipe_time = Duration::from_hours(h);
  pace.recipe_temperature = Temperature::from_celsius(20);
  return pace;
}

TEST_CASE("window: Q10 of 2, the textbook's numbers") {
  // 24 h at 20 °C are 48 h at 10, 33.9411 at 15, 16.9706 at 25. Arithmetic: 24 · 2^((20 − T) / 10).
  struct Row {
    double celsius, hours;
  };
  for (const Row& row : {Row{10, 48}, {15, 33.9411}, {20, 24}, {25, 16.9706}}) {
    const auto window = brew_window(kStart, kStart, std::vector{at(0, row.celsius)}, at_20(24));
    REQUIRE(window);
    CHECK(hours(window->expected) == doctest::Approx(row.hours).epsilon(1e-4));
    CHECK(hours(window->earliest) == doctest::Approx(row.hours * 0.75).epsilon(1e-4));
    CHECK(hours(window->latest) == doctest::Approx(row.hours * 1.25).epsilon(1e-4));
    CHECK(!window->from_own_brews);
  }
}

TEST_CASE("window: falling temperature is integrated exactly, and progress is told") {
  // From 20 to 10 °C over 24 h: done = 24/24 · (1 − 1/2) / ln 2 = 0.7213.
  const std::vector fall{at(0, 20), at(24, 10)};
  const auto window = brew_window(kStart, kStart + 24 * kHour, fall, at_20(24));
  REQUIRE(window);
  CHECK(window->done == doctest::Approx(0.5 / std::log(2.0)).epsilon(1e-6));
  // The rest goes at 10 °C, half as fast.
  CHECK(hours(window->expected) == doctest::Approx(24 + (1 - 0.5 / std::log(2.0)) * 48).epsilon(1e-4));
  CHECK(mean_temperature(fall, kStart, kStart + 24 * kHour).celsius() == about(15));
}

TEST_CASE("window: five own brews take over, when they get faster with warmth") {
  std::vector<PastBrew> past;
  for (const double t : {14.0, 16.0, 18.0, 20.0, 22.0})
    past.push_back({Temperature::from_celsius(t), Duration::from_hours(24 * std::exp2((20 - t) / 10))});
  const auto own = brew_window(kStart, kStart, std::vector{at(0, 18)}, at_20(99), past);
  REQUIRE(own);
  CHECK(own->from_own_brews);
  CHECK(hours(own->expected) == doctest::Approx(24 * std::exp2(0.2)).epsilon(1e-4));
  // They lie on the line, without scatter: an hour either way is left.
  CHECK(hours(own->latest) - hours(own->earliest) == doctest::Approx(2).epsilon(1e-4));
  CHECK(!own->outside_own_range);
  CHECK(brew_window(kStart, kStart, std::vector{at(0, 30)}, at_20(99), past)->outside_own_range);

  past.pop_back();
  CHECK(!brew_window(kStart, kStart, std::vector{at(0, 18)}, at_20(24), past)->from_own_brews);
  std::vector<PastBrew> slower;
  for (const double t : {14.0, 16.0, 18.0, 20.0, 22.0})
    slower.push_back({Temperature::from_celsius(t), Duration::from_hours(10 + t)});
  const auto odd = brew_window(kStart, kStart, std::vector{at(0, 20)}, at_20(24), slower);
  CHECK(!odd->from_own_brews);
  CHECK(odd->own_brews_unusable);
  CHECK(hours(odd->expected) == doctest::Approx(24).epsilon(1e-4));
}

TEST_CASE("window: says why it cannot answer") {
  CHECK(brew_window(kStart, kStart, {}, at_20(24)).error().word == "window.no-temperature"_w);
  CHECK(brew_window(kStart, kStart, std::vector{at(0, 41)}, at_20(24)).error().kind == Trouble::OutOfRange);
  CHECK(brew_window(kStart, kStart, std::vector{at(0, 20)}, at_20(0.5)).error().word == "window.pace"_w);
  CHECK(brew_window(kStart, kStart, std::vector{at(0, 0)}, at_20(300)).error().word == "window.too-slow"_w);
  // 23 h of a spring night are 23 h: elapsed time alone counts.
  CHECK(hours(brew_window(kStart, kStart, std::vector{at(0, 20)}, at_20(24))->expected) ==
        doctest::Approx(24).epsilon(1e-4));
}

}  // namespace
