#include "trade/growth.h"

#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "published/published.h"
#include "trade/growth_fit.h"
#include "trade/growth_temperature.h"
#include "trade/least_squares.h"

using namespace steep;
using namespace steep::published;

namespace {

using std::numbers::ln10;

constexpr const char* kArithmetic = "arithmetic of doublings, evaluated independently";
constexpr const char* kCurves =
    "Zwietering et al. 1990, Baranyi & Roberts 1994 (forms from memory and from CRAN growthrates), evaluated with "
    "mpmath";
constexpr const char* kRosso =
    "Rosso et al. 1993: parameters as in the RakipInitiative model repository, evaluated independently";

constexpr Duration hours(double h) { return Duration::from_hours(h); }
constexpr Temperature celsius(double t) { return Temperature::from_celsius(t); }

TEST_CASE("growth: doubling arithmetic") {
  struct Row {
    double start, doubling_h, time_h, count;
  };
  for (const Row& row :
       {Row{1e4, 2, 24, 4.096e7}, {1e5, 0.5, 6, 4.096e8}, {1e6, 3, 36, 4.096e9}, {2e7, 1.5, 12, 5.12e9}})
    PUBLISHED_NUMBER("growth", kArithmetic, std::to_string(row.start),
                     *count_after(row.start, hours(row.doubling_h), hours(row.time_h)), row.count, row.count * 1e-12);
  struct Pair {
    double first, later, between_h, rate, doubling_h, log10;
  };
  for (const Pair& row : {Pair{1e5, 1.6e6, 4, 0.693147, 1.000000, 1.204120},
                          {3.2e6, 2.7e8, 6, 0.739212, 0.937684, 1.926214},
                          {1e4, 1e9, 24, 0.479705, 1.444944, 5.000000}}) {
    const Doubling found = *doubling_between(row.first, row.later, hours(row.between_h));
    PUBLISHED_NUMBER("growth", kArithmetic, "rate", found.rate_per_h, row.rate, 6e-7);
    PUBLISHED_NUMBER("growth", kArithmetic, "doubling time", found.doubling_time.hours(), row.doubling_h, 6e-7);
    PUBLISHED_NUMBER("growth", kArithmetic, "log10 increase", found.doublings * std::log10(2), row.log10, 6e-7);
  }
}

// y = ln(N/N0) for A = ln 1e5, μ = 1 per h, lag 4 h.
TEST_CASE("growth: curves") {
  struct Row {
    double t, gompertz, logistic, baranyi;
  };
  for (const Row& row : {Row{0, 0.010608, 0.375524, 0.000000},
                         {2, 0.147282, 0.728500, 0.110663},
                         {4, 0.759715, 1.372374, 0.683937},
                         {6, 2.113394, 2.455743, 2.124669},
                         {8, 4.000123, 4.052555, 4.017275},
                         {10, 5.954893, 5.999855, 5.998404},
                         {12, 7.631958, 7.892905, 7.970956},
                         {14, 8.909196, 9.368281, 9.800977},
                         {16, 9.811770, 10.332296, 11.033955},
                         {20, 10.818847, 11.194246, 11.501735},
                         {24, 11.237857, 11.431845, 11.512719},
                         {36, 11.496561, 11.511663, 11.512925}}) {
    const std::string name = std::to_string(row.t) + " h";
    const auto y = [&](GrowthCurve curve) {
      return *growth_at(curve, {3, 8, 1, hours(4)}, hours(row.t)) * ln10 - 3 * ln10;
    };
    PUBLISHED_NUMBER("growth", kCurves, "Gompertz, " + name, y(GrowthCurve::Gompertz), row.gompertz, 6e-7);
    PUBLISHED_NUMBER("growth", kCurves, "logistic, " + name, y(GrowthCurve::Logistic), row.logistic, 6e-7);
    PUBLISHED_NUMBER("growth", kCurves, "Baranyi, " + name, y(GrowthCurve::Baranyi), row.baranyi, 6e-7);
  }
  const double A = std::log(1e5);
  PUBLISHED_NUMBER("growth", kCurves, "Gompertz turns at λ + A/(μe), y = A/e",
                   growth_curve(GrowthCurve::Gompertz, A, 1, 4, 8.235369), 4.235369, 1e-6);
  PUBLISHED_NUMBER("growth", kCurves, "logistic turns at λ + A/(2μ), y = A/2",
                   growth_curve(GrowthCurve::Logistic, A, 1, 4, 9.756463), A / 2, 1e-6);
}

// A second method: Baranyi's model as differential equations, with q the state of the cells, solved step by step.
TEST_CASE("growth: Baranyi's curve solves his differential equations") {
  using State = std::vector<double>;  // y, ln q
  const double A = std::log(1e5), mu = 0.9, lag = 3;
  const auto flow = [&](const State& s, State& d, double) {
    d[0] = mu / (1 + std::exp(-s[1])) * (1 - std::exp(s[0] - A));
    d[1] = mu;
  };
  State s{0, -std::log(std::expm1(mu * lag))};
  auto stepper =
      boost::numeric::odeint::make_controlled<boost::numeric::odeint::runge_kutta_dopri5<State>>(1e-12, 1e-12);
  double t = 0;
  for (const double until : {1.0, 3.0, 5.0, 9.0, 14.0, 20.0}) {
    boost::numeric::odeint::integrate_adaptive(stepper, flow, s, t, until, 0.01);
    t = until;
    // The curve joins exactly up to 1 − e^−A at the plateau's bend.
    PUBLISHED_NUMBER("growth", "Baranyi & Roberts 1994, differential equations solved with Boost.Odeint",
                     std::to_string(until) + " h", growth_curve(GrowthCurve::Baranyi, A, mu, lag, until), s[0], 2e-5);
  }
}

std::vector<CountAt> counts_of(std::initializer_list<std::pair<double, double>> rows, double scale = 1) {
  std::vector<CountAt> counts;
  for (const auto& [t, y] : rows) counts.push_back({hours(t), y / scale});
  return counts;
}

// log10 of counts. Values as in the R package nlsMicrobio 1.0-0 (data by Baty & Delignette-Muller).
const std::vector<CountAt> kFirst = counts_of(
    {{0, 3.62}, {2, 3.63}, {4, 4.14}, {6, 5.23}, {8, 6.27}, {10, 7.57}, {12, 8.38}, {16, 8.7}, {20, 8.62}, {24, 8.44}});
const std::vector<CountAt> kFourth = counts_of({{0, 5.89},
                                                {20.5, 5.76},
                                                {29, 5.86},
                                                {45, 6.04},
                                                {53, 6.23},
                                                {68.5, 6.57},
                                                {77, 6.77},
                                                {92.5, 7.28},
                                                {102.5, 7.51},
                                                {115, 8},
                                                {125.5, 8.28},
                                                {140.5, 8.57},
                                                {150, 8.6},
                                                {164.5, 8.75},
                                                {172, 8.74}});
// ln of counts, in the source; simulated. Values as in the R package predmicror 1.3.2, data set growthfull.
const std::vector<CountAt> kFull = counts_of({{0, -0.2006},
                                              {2, 0.1922},
                                              {4, 0.1587},
                                              {6, 1.529},
                                              {8, 5.9421},
                                              {10, 8.8024},
                                              {12, 13.3749},
                                              {14, 16.1457},
                                              {16, 20.2299},
                                              {18, 20.8575},
                                              {20, 21.6272},
                                              {22, 20.5114},
                                              {24, 21.3943}},
                                             ln10);

TEST_CASE("growth: curves fitted to published counts") {
  constexpr const char* kFits = "nlsMicrobio growthcurve1 and 4, fitted with R nls and scipy (six digits agree)";
  constexpr const char* kPage = "predmicror, page of BaranyiFM: growthfull";
  struct Row {
    const char* name;
    const char* source;
    const std::vector<CountAt>* counts;
    GrowthCurve curve;
    double lag_h, rate, start, end, sum;
  };
  for (const Row& row : {
           Row{"F1 Baranyi", kFits, &kFirst, GrowthCurve::Baranyi, 3.37135, 1.377216, 3.600328, 8.590699, 0.05074553},
           {"F2 Gompertz", kFits, &kFirst, GrowthCurve::Gompertz, 3.92251, 1.651019, 3.661571, 8.680563, 0.23817772},
           {"F3 logistic", kFits, &kFirst, GrowthCurve::Logistic, 3.82542, 1.621181, 3.484652, 8.629611, 0.13418795},
           {"F4 Baranyi", kFits, &kFourth, GrowthCurve::Baranyi, 49.37966, 0.078128, 5.812747, 8.778601, 0.03116961},
           {"F4 Gompertz", kFits, &kFourth, GrowthCurve::Gompertz, 47.49970, 0.075539, 5.839913, 9.099905, 0.05614548},
           {"F4 logistic", kFits, &kFourth, GrowthCurve::Logistic, 47.95823, 0.079187, 5.735089, 8.869079, 0.04348106},
           {"F5 Baranyi", kPage, &kFull, GrowthCurve::Baranyi, 5.08623, 1.868155, -0.010434 / ln10, 21.130523 / ln10,
            1.84246125 / (ln10 * ln10)},
       }) {
    const auto fit = fit_growth(row.curve, *row.counts);
    REQUIRE(fit);
    const auto near_to = [&](const char* what, double ours, double theirs) {
      PUBLISHED_NUMBER("growth", row.source, std::string(row.name) + ", " + what, ours, theirs,
                       std::abs(theirs) * 1e-3);
    };
    near_to("lag", fit->growth.lag.hours(), row.lag_h);
    near_to("rate", fit->growth.rate_per_h, row.rate);
    near_to("start", fit->growth.start, row.start);
    near_to("end", fit->growth.end, row.end);
    near_to("sum of squares", fit->sum, row.sum);
  }
  // The page prints the residual standard error, 0.4525 on 9 degrees of freedom, of ln.
  PUBLISHED_NUMBER("growth", kPage, "F5, residual standard error",
                   fit_growth(GrowthCurve::Baranyi, kFull)->deviation * ln10, 0.4525, 5e-5);
  // Not one true rate: two curves on the same counts differ by 20 %.
  PUBLISHED("growth", kFits, "Gompertz says 20 % more than Baranyi on the same counts",
            near(fit_growth(GrowthCurve::Gompertz, kFirst)->growth.rate_per_h /
                     fit_growth(GrowthCurve::Baranyi, kFirst)->growth.rate_per_h,
                 1.2, 0.01));
}

TEST_CASE("growth: plain doubling through the steep part of published counts") {
  constexpr const char* kLine = "nlsMicrobio growthcurve1, 4 to 12 h, line by scipy linregress";
  const auto fit = fit_exponential(std::span(kFirst).subspan(2, 5));
  REQUIRE(fit);
  PUBLISHED_NUMBER("growth", kLine, "rate", fit->rate_per_h, 1.245698535, 1e-8);
  PUBLISHED_NUMBER("growth", kLine, "its error", fit->rate_error, 0.042995292, 1e-8);
  PUBLISHED_NUMBER("growth", kLine, "start", fit->start, 1.99, 1e-8);
  PUBLISHED_NUMBER("growth", kLine, "scatter", fit->deviation, 0.118096006, 1e-8);
}

TEST_CASE("growth: cardinal temperatures") {
  struct Row {
    const char* name;
    double best_rate, least, best, most, at, rate;
  };
  for (const Row& row : {Row{"Bacillus coli", 2.3, 4.9, 41.3, 47.5, 10, 0.0630895},
                         {"Bacillus coli", 2.3, 4.9, 41.3, 47.5, 20, 0.537671},
                         {"Bacillus coli", 2.3, 4.9, 41.3, 47.5, 30, 1.40204},
                         {"Bacillus coli", 2.3, 4.9, 41.3, 47.5, 41.3, 2.3},
                         {"Bacillus subtilis", 1.2, 13.4, 38.7, 51.0, 20, 0.197510},
                         {"Bacillus subtilis", 1.2, 13.4, 38.7, 51.0, 25, 0.517300}})
    PUBLISHED_NUMBER(
        "growth", kRosso, row.name,
        *rate_by_cardinals({row.best_rate, celsius(row.least), celsius(row.best), celsius(row.most)}, celsius(row.at)),
        row.rate, row.rate * 1e-5);
  for (const auto& row : table("cardinal_temperatures")) {
    const auto number = [&row](std::size_t i) { return std::stod(row[i]); };
    for (std::size_t i = 0; i < 6; ++i) {
      const double at = 10 + 5 * static_cast<double>(i), rate = number(5 + i);
      PUBLISHED_NUMBER(
          "growth", kRosso, row[0],
          *rate_by_cardinals({number(1), celsius(number(2)), celsius(number(3)), celsius(number(4))}, celsius(at)),
          rate, rate * 1e-5 + 1e-12);
    }
  }
  PUBLISHED_NUMBER(
      "growth", kRosso, "doubling time at 20 °C",
      doubling_time(*rate_by_cardinals({2.3, celsius(4.9), celsius(41.3), celsius(47.5)}, celsius(20))).hours(),
      1.28917, 1e-5);
}

TEST_CASE("growth: square-root line") {
  constexpr const char* kOwn = "Ratkowsky et al. 1982, form; b and Tmin from R lm on published rates";
  struct Row {
    double b, least, at, rate;
  };
  for (const Row& row : {Row{0.04501078068, 5.909513314, 5, 0.0},
                         {0.04501078068, 5.909513314, 8, 0.008854},
                         {0.04501078068, 5.909513314, 10, 0.033899},
                         {0.04501078068, 5.909513314, 15, 0.167420},
                         {0.04501078068, 5.909513314, 20, 0.402240},
                         {0.04501078068, 5.909513314, 28, 0.988652},
                         {0.02661785714, 3.53620466, 5, 0.001518},
                         {0.02661785714, 3.53620466, 20, 0.192046},
                         {0.02661785714, 3.53620466, 36, 0.746698}})
    PUBLISHED_NUMBER("growth", kOwn, std::to_string(row.at) + " °C",
                     *rate_by_line({row.b, celsius(row.least)}, celsius(row.at)), row.rate, 6e-7);
}

std::vector<RateAt> rates_of(std::initializer_list<std::pair<double, double>> roots, double below = 1e9) {
  std::vector<RateAt> rates;
  for (const auto& [t, root] : roots)
    if (t < below) rates.push_back({celsius(t), root * root});
  return rates;
}

// °C and √μ. E. coli M23, Ross et al. 2003, Int. J. Food Microbiol. 82, 33, as in nlsMicrobio, author salter, water activity 0.997.
constexpr std::initializer_list<std::pair<double, double>> kColi = {
    {7.63, 0.1070373},  {10.3, 0.1905005},  {12.03, 0.2730054}, {13.2, 0.3240714},  {14.48, 0.3800075},
    {16.03, 0.4450192}, {17.38, 0.5066766}, {18.53, 0.5613082}, {20.18, 0.6385402}, {21.5, 0.679778},
    {22.68, 0.7600149}, {24.05, 0.8325546}, {25.43, 0.8775896}, {26.7, 0.9308244},  {27.9, 1.0748234},
    {29.3, 0.9950931},  {30.6, 1.0748234},  {32.08, 1.17741},   {33.6, 1.17741},    {34.98, 1.17741},
    {36.7, 1.3163844},  {38.03, 1.3163844}, {40.08, 1.3163844}, {41.85, 1.3163844}, {43.63, 1.3163844},
    {45.55, 1.17741},   {47.43, 0.7301987}};
// °C and √(log10 rate). Salmonella on chicken, Oscar 2002, as in predmicror.
constexpr std::initializer_list<std::pair<double, double>> kSalmonella = {
    {8, 0.11},   {10, 0.158}, {12, 0.219}, {14, 0.279}, {16, 0.327}, {18, 0.394}, {20, 0.431},
    {22, 0.519}, {24, 0.558}, {26, 0.618}, {28, 0.641}, {30, 0.735}, {32, 0.744}, {34, 0.815},
    {36, 0.824}, {38, 0.881}, {40, 0.87},  {42, 0.885}, {44, 0.809}, {46, 0.7},   {48, 0.499}};

TEST_CASE("growth: temperature models fitted to published rates") {
  struct Row {
    const char* source;
    std::initializer_list<std::pair<double, double>> roots;
    double best_rate, least, best, most;
  };
  for (const Row& row :
       {Row{"F6: Ross et al. 2003, E. coli, fitted with R and scipy", kColi, 1.8115, 6.127, 41.076, 48.121},
        Row{"F8: Oscar 2002, Salmonella, fitted with R and scipy", kSalmonella, 0.75206, 5.0268, 40.367, 49.033}}) {
    const auto fit = fit_cardinals(rates_of(row.roots));
    REQUIRE(fit);
    PUBLISHED_NUMBER("growth", row.source, "best rate", fit->cardinals.best_rate_per_h, row.best_rate,
                     row.best_rate * 1e-3);
    PUBLISHED_NUMBER("growth", row.source, "Tmin", fit->cardinals.least.celsius(), row.least, row.least * 1e-3);
    PUBLISHED_NUMBER("growth", row.source, "Topt", fit->cardinals.best.celsius(), row.best, row.best * 1e-3);
    PUBLISHED_NUMBER("growth", row.source, "Tmax", fit->cardinals.most.celsius(), row.most, row.most * 1e-3);
  }
  const auto line = fit_square_root(rates_of(kColi, 30));
  REQUIRE(line);
  constexpr const char* kLine = "F7: Ross et al. 2003, E. coli below 30 °C, line by R lm and numpy";
  PUBLISHED_NUMBER("growth", kLine, "b", line->line.b, 0.0450108, 6e-8);
  PUBLISHED_NUMBER("growth", kLine, "Tmin", line->line.least.celsius(), 5.90951, 6e-6);
}

// The least squares themselves, on a reference problem for such programs; from both starts that it gives.
TEST_CASE("growth: least squares on NIST's Ratkowsky2") {
  constexpr const char* kNist =
      "F9: NIST StRD Ratkowsky2, certified values (data and values from memory; R nls reproduces them)";
  const std::vector<std::pair<double, double>> readings = {{9, 8.93},   {14, 10.80}, {21, 18.59},
                                                           {28, 22.33}, {42, 39.35}, {57, 56.11},
                                                           {63, 61.73}, {70, 64.62}, {79, 67.08}};
  const Misfit misfit = [&](std::span<const double> b, std::span<double> r) {
    for (std::size_t k = 0; k < readings.size(); ++k)
      r[k] = b[0] / (1 + std::exp(b[1] - b[2] * readings[k].first)) - readings[k].second;
    return true;
  };
  for (const std::vector<double>& start : {std::vector<double>{100, 1, 0.1}, {75, 2.5, 0.07}}) {
    const auto fit = least_squares(misfit, readings.size(), start);
    REQUIRE(fit);
    PUBLISHED_NUMBER("growth", kNist, "b1", fit->values[0], 72.462237576, 72 * 1e-7);
    PUBLISHED_NUMBER("growth", kNist, "b2", fit->values[1], 2.6180768402, 2.6 * 1e-7);
    PUBLISHED_NUMBER("growth", kNist, "b3", fit->values[2], 0.067359200066, 0.067 * 1e-7);
    PUBLISHED_NUMBER("growth", kNist, "sum of squares", fit->sum, 8.0565229338, 1e-8);
    // Standard deviations of the estimates as certified, from memory.
    PUBLISHED_NUMBER("growth", kNist, "error of b1", fit->errors[0].value_or(0), 1.7340283401, 1.7 * 1e-5);
    PUBLISHED_NUMBER("growth", kNist, "error of b2", fit->errors[1].value_or(0), 0.088295217536, 0.088 * 1e-5);
    PUBLISHED_NUMBER("growth", kNist, "error of b3", fit->errors[2].value_or(0), 0.0034465663325, 0.0034 * 1e-5);
  }
}

}  // namespace
