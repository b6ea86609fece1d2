#include "trade/transfer.h"

#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "published/published.h"
#include "trade/oxygen.h"
#include "trade/transfer_fit.h"

using namespace steep;
using namespace steep::published;

namespace {

constexpr const char* kStandard = "ASCE/EWRI 2 definitions (from memory), evaluated independently";

constexpr Temperature celsius(double t) { return Temperature::from_celsius(t); }
constexpr Concentration mg_L(double c) { return Concentration::from_milligrams_per_liter(c); }
constexpr Volume liters(double v) { return Volume::from_liters(v); }

Concentration saturation(double t, double atm = 1) {
  return *oxygen_saturation(celsius(t), Pressure::from_atmospheres(atm));
}

TEST_CASE("transfer: standard and actual transfer") {
  struct Row {
    double kla20, t, liters, oxygen, alpha, beta, atm, kla, saturation, standard, actual;
  };
  for (const Row& row : {Row{10, 20, 100, 0, 1, 1, 1, 10.0000, 9.0924, 9.0924, 9.0924},
                         {10, 20, 100, 6, 1, 1, 1, 10.0000, 9.0924, 9.0924, 3.0924},
                         {10, 10, 100, 6, 1, 1, 1, 7.8886, 11.2879, 9.0924, 4.1715},
                         {10, 30, 100, 6, 1, 1, 1, 12.6765, 7.5588, 9.0924, 1.9760},
                         {10, 25, 18.92705892, 6, 0.8, 0.95, 1, 11.2590, 8.2635, 1.7209, 0.3154},
                         {10, 25, 18.92705892, 6, 0.8, 0.95, 0.887, 11.2590, 7.3001, 1.7209, 0.1594},
                         {5, 20, 1000, 5, 0.6, 0.98, 1, 5.0000, 9.0924, 45.4621, 11.7317}}) {
    const std::string name = std::to_string(row.t) + " °C, " + std::to_string(row.liters) + " L";
    PUBLISHED_NUMBER("transfer", kStandard, name + ", kLa", *kla_at(row.kla20, celsius(row.t)), row.kla, 6e-5);
    PUBLISHED_NUMBER("transfer", kStandard, name + ", standard transfer",
                     oxygen_brought_per_h(row.kla20, saturation(20), mg_L(0), liters(row.liters)).grams(), row.standard,
                     row.standard * 1.2e-5 + 5e-5);
    // Half the last digit, and the other vapor pressure of the handbooks once more.
    PUBLISHED_NUMBER("transfer", kStandard, name + ", actual transfer",
                     oxygen_brought_per_h(*kla_at(row.kla20, celsius(row.t), row.alpha),
                                          saturation(row.t, row.atm) * row.beta, mg_L(row.oxygen), liters(row.liters))
                         .grams(),
                     row.actual, 1e-4 + row.actual * 5e-5);
  }
}

TEST_CASE("transfer: kLa by temperature") {
  constexpr const char* kTheta = "θ^(T − 20), evaluated independently; θ of 1.008 to 1.047 after Lee 2017 (abstract)";
  struct Row {
    double theta, f5, f10, f15, f20, f25, f30, f35;
  };
  for (const Row& row : {Row{1.008, 0.887344, 0.923410, 0.960942, 1, 1.040645, 1.082942, 1.126959},
                         {1.02, 0.743015, 0.820348, 0.905731, 1, 1.104081, 1.218994, 1.345868},
                         {1.024, 0.700649, 0.788861, 0.888178, 1, 1.125900, 1.267651, 1.427248},
                         {1.047, 0.502111, 0.631732, 0.794816, 1, 1.258153, 1.582949, 1.991591}}) {
    double t = 5;
    for (const double factor : {row.f5, row.f10, row.f15, row.f20, row.f25, row.f30, row.f35}) {
      PUBLISHED_NUMBER("transfer", kTheta, std::to_string(row.theta) + " at " + std::to_string(t),
                       *kla_at(1, celsius(t), 1, row.theta), factor, 6e-7);
      t += 5;
    }
  }
  // A textbook's example (9.3) of the two kLa, per hour: α = 2.25/2.46.
  PUBLISHED_NUMBER("transfer", "textbook example 9.3, read at climate-policy-watcher.org", "alpha",
                   *kla_at(2.46, celsius(20), 0.9146), 2.25, 2e-4);
}

TEST_CASE("transfer: oxygen of the air") {
  const auto in_air = [](double t) {
    return oxygen_in_air(celsius(t), Pressure::from_atmospheres(1))->milligrams_per_liter();
  };
  PUBLISHED_NUMBER("transfer", "ideal gas, 20.95 % of dry air, evaluated independently", "20 °C", in_air(20), 278.676,
                   6e-4);
  PUBLISHED_NUMBER("transfer", "ideal gas, 20.95 % of dry air, evaluated independently", "0 °C", in_air(0), 299.080,
                   6e-4);
  // 5 L/min into 5 US gal, 2.5 % per meter, 0.30 m deep.
  const Volume five = Volume::from_gallons(5);
  const double kla =
      *kla20_from_air(Flow::from_liters_per_minute(5), Share::from_percent(2.5), Length::from_meters(0.30), five);
  PUBLISHED_NUMBER("transfer", kStandard, "kLa of 5 L/min in 5 gal", kla, 3.6435, 3.6e-3);
  PUBLISHED_NUMBER("transfer", kStandard, "its standard transfer, g/h",
                   oxygen_brought_per_h(kla, saturation(20), mg_L(0), five).grams(), 0.62702, 6e-4);
  PUBLISHED_NUMBER("transfer", kStandard, "the same, mg/L/h", (saturation(20) * kla).milligrams_per_liter(), 33.128,
                   0.033);
  PUBLISHED_NUMBER("transfer", kStandard, "steady against 20 mg/L/h",
                   steady_oxygen(kla, saturation(20), mg_L(20))->oxygen.milligrams_per_liter(), 3.603, 1e-3);
  // Air that holds a wanted level: computed the other way round, from what is used.
  struct Row {
    double uptake, liters, percent, meters, alpha, oxygen, t, air;
  };
  for (const Row& row : {Row{10, 18.92706, 2.5, 0.3, 1, 6, 20, 4.44},
                         {20, 18.92706, 2.5, 0.3, 1, 6, 20, 8.88},
                         {30, 94.63529, 2.5, 0.6, 0.85, 6, 20, 39.16},
                         {20, 189.27059, 2.5, 0.6, 0.85, 5, 25, 43.94},
                         {20, 1000, 2.5, 1.0, 0.85, 6, 20, 165.50}}) {
    const double kla20 = *kla20_from_air(Flow::from_liters_per_minute(row.air), Share::from_percent(row.percent),
                                         Length::from_meters(row.meters), liters(row.liters));
    PUBLISHED_NUMBER("transfer", kStandard, std::to_string(row.liters) + " L, uptake " + std::to_string(row.uptake),
                     steady_oxygen(*kla_at(kla20, celsius(row.t), row.alpha), saturation(row.t), mg_L(row.uptake))
                         ->oxygen.milligrams_per_liter(),
                     row.oxygen, 0.005);  // Air is given to 0.1 %.
  }
}

TEST_CASE("transfer: with and without air") {
  PUBLISHED_NUMBER("transfer", kStandard, "minutes from saturation to 5 mg/L at 20 mg/L/h",
                   time_to_floor(saturation(20), mg_L(5), mg_L(20))->minutes(), 12.28, 0.01);
  PUBLISHED_NUMBER("transfer", kStandard, "2.0 to 7.0 mg/L in 10 min at kLa 7.329",
                   oxygen_after(mg_L(2), 7.329, mg_L(9.09), mg_L(0), Duration::from_minutes(10)).milligrams_per_liter(),
                   7.0, 1e-3);
}

// A second method: the two-film equation solved step by step.
TEST_CASE("transfer: the closed form solves the differential equation") {
  using State = std::vector<double>;
  State c{2.5};
  const double kla = 9, full = 8.7, uptake = 31;
  auto stepper =
      boost::numeric::odeint::make_controlled<boost::numeric::odeint::runge_kutta_dopri5<State>>(1e-12, 1e-12);
  double t = 0;
  for (const double until : {0.02, 0.1, 0.3, 0.7}) {
    boost::numeric::odeint::integrate_adaptive(
        stepper, [&](const State& s, State& d, double) { d[0] = kla * (full - s[0]) - uptake; }, c, t, until, 0.001);
    t = until;
    PUBLISHED_NUMBER(
        "transfer", "two-film model (textbook), solved with Boost.Odeint", std::to_string(until) + " h",
        oxygen_after(mg_L(2.5), kla, mg_L(full), mg_L(uptake), Duration::from_hours(until)).milligrams_per_liter(),
        c[0], 1e-9);
  }
}

// Microbes that double every 3 h use oxygen on air of kLa 12: the trace is solved step by step, then read every 10 minutes.
TEST_CASE("transfer: uptake from the trace of a brew") {
  using State = std::vector<double>;
  const double kla = 12, full = 9, rate = std::log(2) / 3;
  const auto uptake = [&](double t) { return 4 * std::exp(rate * t); };
  State c{full - uptake(0) / (kla + rate)};  // Already on its way: no first bend.
  auto stepper =
      boost::numeric::odeint::make_controlled<boost::numeric::odeint::runge_kutta_dopri5<State>>(1e-12, 1e-12);
  std::vector<OxygenAt> trace{{Duration{}, mg_L(c[0])}};
  for (int i = 1; i <= 48; ++i) {
    boost::numeric::odeint::integrate_adaptive(
        stepper, [&](const State& s, State& d, double t) { d[0] = kla * (full - s[0]) - uptake(t); }, c, (i - 1) / 6.0,
        i / 6.0, 0.001);
    trace.push_back({Duration::from_minutes(10 * i), mg_L(c[0])});
  }
  const auto uptakes = uptake_of_trace(trace, kla, mg_L(full));
  REQUIRE(uptakes);
  for (const std::size_t i : {0u, 12u, 24u, 47u}) {
    const double expected = uptake((static_cast<double>(i) + 0.5) / 6.0);
    // Straight lines between readings: off by the curve's bend, some (rate × 10 min)² / 8.
    PUBLISHED_NUMBER("transfer", "two-film model (textbook), solved with Boost.Odeint",
                     "uptake in interval " + std::to_string(i), (*uptakes)[i].uptake_per_h.milligrams_per_liter(),
                     expected, expected * 1e-3);
  }
}

// Made from the model: kLa 12 per h, uptake 24 mg/L/h, C* 9.09243 mg/L; air off for 9 min, then on. Times to 4 decimals of an hour,
// so that the readings do scatter: by some 1e-3 mg/L.
TEST_CASE("transfer: a gassing-out test with a known answer") {
  constexpr const char* kMade = "synthetic gassing-out test (exact solution of the two-film model, rounded times)";
  struct Row {
    double h, mg_L;
  };
  std::vector<OxygenAt> readings;
  for (const Row& row : {Row{0.0000, 7.09243},
                         {0.0167, 6.69243},
                         {0.0333, 6.29243},
                         {0.0500, 5.89243},
                         {0.0667, 5.49243},
                         {0.0833, 5.09243},
                         {0.1000, 4.69243},
                         {0.1167, 4.29243},
                         {0.1333, 3.89243},
                         {0.1500, 3.49243}})
    readings.push_back({Duration::from_hours(row.h), mg_L(row.mg_L), false});
  for (const Row& row :
       {Row{0.1667, 4.14500}, {0.1833, 4.67927}, {0.2000, 5.11670}, {0.2167, 5.47484}, {0.2333, 5.76806},
        {0.2500, 6.00813},    {0.2667, 6.20468}, {0.2833, 6.36560}, {0.3000, 6.49735}, {0.3167, 6.60522},
        {0.3333, 6.69353},    {0.3500, 6.76584}, {0.3667, 6.82504}, {0.3833, 6.87351}, {0.4000, 6.91319},
        {0.4167, 6.94568},    {0.4333, 6.97228}, {0.4500, 6.99406}, {0.4667, 7.01189}, {0.4833, 7.02649},
        {0.5000, 7.03844},    {0.5167, 7.04823}, {0.5333, 7.05624}, {0.5500, 7.06280}, {0.5667, 7.06817},
        {0.5833, 7.07257},    {0.6000, 7.07617}, {0.6167, 7.07911}, {0.6333, 7.08153}, {0.6500, 7.08350}})
    readings.push_back({Duration::from_hours(row.h), mg_L(row.mg_L), true});
  const auto fit = fit_transfer(readings, mg_L(9.09243));
  REQUIRE(fit);
  REQUIRE(fit->has_both());
  PUBLISHED_NUMBER("transfer", kMade, "kLa within its standard error", *fit->kla_per_h, 12, *fit->kla_error);
  PUBLISHED_NUMBER("transfer", kMade, "uptake within its standard error", fit->uptake_per_h->milligrams_per_liter(), 24,
                   fit->uptake_error->milligrams_per_liter());
  PUBLISHED("transfer", kMade, "the errors are small",
            *fit->kla_error < 0.01 && fit->uptake_error->milligrams_per_liter() < 0.01);
  PUBLISHED_NUMBER("transfer", kMade, "steady level",
                   steady_oxygen(*fit->kla_per_h, mg_L(9.09243), *fit->uptake_per_h)->oxygen.milligrams_per_liter(),
                   7.09243, 1e-3);
  // Saturation from the readings too, as from the plot of C against dC/dt + OUR.
  const auto all = fit_transfer(readings, std::nullopt);
  REQUIRE(all);
  REQUIRE(all->has_both());
  PUBLISHED_NUMBER("transfer", kMade, "saturation within its standard error", all->saturation->milligrams_per_liter(),
                   9.09243, all->saturation_error->milligrams_per_liter());
  PUBLISHED_NUMBER("transfer", kMade, "kLa, saturation free", *all->kla_per_h, 12, *all->kla_error);
}

}  // namespace
