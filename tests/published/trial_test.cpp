#include "trade/trial.h"

#include <cmath>
#include <string>
#include <vector>

#include "published/published.h"
#include "trade/studentized_range.h"
#include "trade/trial_layout.h"

using namespace steep;
using namespace steep::published;

namespace {

using Values = std::vector<double>;
using Groups = std::vector<Values>;

Anova one_way_of(const Groups& groups) {
  std::vector<Sample> samples;
  for (const Values& values : groups) samples.push_back(*sample_of(values));
  return *one_way(samples);
}

// Hours of sleep gained with two drugs, ten patients: Student 1908, as in R's data 'sleep'.
const Values kFirstDrug = {0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
const Values kSecondDrug = {1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};

TEST_CASE("trial: paired t and Welch on Student's sleep data") {
  constexpr const char* kSleep = "R 4.2.2 t.test on data 'sleep' (Student 1908), confirmed with scipy";
  std::vector<StripPair> pairs;
  for (std::size_t i = 0; i < kFirstDrug.size(); ++i) pairs.push_back({kFirstDrug[i], kSecondDrug[i]});
  const Difference paired = *paired_difference(pairs);
  PUBLISHED_NUMBER("trial", kSleep, "paired, t", paired.t, -4.062128, 6e-7);
  PUBLISHED_NUMBER("trial", kSleep, "paired, degrees of freedom", paired.degrees_of_freedom, 9, 0);
  PUBLISHED_NUMBER("trial", kSleep, "paired, p", paired.p, 0.0028329, 6e-8);
  PUBLISHED_NUMBER("trial", kSleep, "paired, difference", paired.difference, -1.58, 1e-12);
  PUBLISHED_NUMBER("trial", kSleep, "paired, low", paired.low, -2.459886, 6e-7);
  PUBLISHED_NUMBER("trial", kSleep, "paired, high", paired.high, -0.700114, 6e-7);
  PUBLISHED("trial", kSleep, "paired: less", verdict(paired) == Verdict::Less);
  const Difference welch = *welch_difference(*sample_of(kFirstDrug), *sample_of(kSecondDrug));
  PUBLISHED_NUMBER("trial", kSleep, "Welch, t", welch.t, -1.860813, 6e-7);
  PUBLISHED_NUMBER("trial", kSleep, "Welch, degrees of freedom", welch.degrees_of_freedom, 17.776474, 6e-7);
  PUBLISHED_NUMBER("trial", kSleep, "Welch, p", welch.p, 0.0793941, 6e-8);
  PUBLISHED("trial", kSleep, "Welch: cannot tell", verdict(welch) == Verdict::CannotTell);
  // Two groups in one analysis of variance are the pooled t test.
  PUBLISHED_NUMBER("trial", kSleep, "pooled, p", one_way_of({kFirstDrug, kSecondDrug}).p, 0.0791867, 6e-8);
}

TEST_CASE("trial: two groups from their summaries") {
  // Miles per gallon, 249 and 79 cars; Boost's page misprints the pooled deviation (326) and gives one-sided p.
  constexpr const char* kCars = "NIST e-Handbook 1.3.5.3 (eda353), AUTO83B, summary as quoted by Boost.Math";
  const Sample us{249, 20.14458, 6.41470}, japan{79, 30.48101, 6.10771};
  const Difference welch = *welch_difference(us, japan);
  PUBLISHED_NUMBER("trial", kCars, "Welch, t", welch.t, -12.946268, 1e-5);
  PUBLISHED_NUMBER("trial", kCars, "Welch, degrees of freedom", welch.degrees_of_freedom, 136.87499, 1e-4);
  PUBLISHED_NUMBER("trial", kCars, "Welch, p", welch.p / 1.57090e-25, 1, 1e-4);
  const Sample both[] = {us, japan};
  const Anova pooled = *one_way(both);
  PUBLISHED_NUMBER("trial", kCars, "pooled, t", std::sqrt(pooled.f), 12.62059, 1e-5);
  PUBLISHED_NUMBER("trial", kCars, "pooled, degrees of freedom", pooled.rest.degrees_of_freedom, 326, 0);
  PUBLISHED_NUMBER("trial", kCars, "pooled, deviation: 6.34, not the 326 of the page", std::sqrt(pooled.rest.mean()),
                   6.342601, 1e-5);
  PUBLISHED_NUMBER("trial", kCars, "pooled, p: twice what the page prints", pooled.p / 5.27322e-30, 1, 1e-4);
  PUBLISHED("trial", kCars, "joint interval of two = pooled t",
            near((*joint_differences(pooled, 1))[0].t, -12.62059, 1e-6));
}

TEST_CASE("trial: one-way analysis of variance") {
  constexpr const char* kHandbook = "NIST e-Handbook 7.4.3.4 (data from memory; they give its printed sums)";
  const Anova three = one_way_of({{6.9, 5.4, 5.8, 4.6, 4.0}, {8.3, 6.8, 7.8, 9.2, 6.5}, {8.0, 10.5, 8.1, 6.9, 9.3}});
  PUBLISHED_NUMBER("trial", kHandbook, "between", three.treatments.sum, 27.897333, 6e-7);
  PUBLISHED_NUMBER("trial", kHandbook, "within", three.rest.sum, 17.452, 1e-9);
  PUBLISHED_NUMBER("trial", kHandbook, "F", three.f, 9.591107, 6e-7);
  PUBLISHED("trial", kHandbook, "F as printed", agrees(three.f, "9.59"));
  PUBLISHED_NUMBER("trial", kHandbook, "p", three.p, 0.0032482, 6e-8);

  constexpr const char* kStrd = "NIST StRD, certified values, read as stored by scipy";
  const Anova wafers = one_way_of({{196.3052, 196.1240, 196.1890, 196.2569, 196.3403},
                                   {196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
                                   {196.1303, 196.2005, 196.2889, 196.0343, 196.1811},
                                   {196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
                                   {196.2119, 196.1051, 196.1850, 196.0052, 196.2090}});
  PUBLISHED_NUMBER("trial", kStrd, "SiRstv, F", wafers.f, 1.18046237440255, 1e-10);
  PUBLISHED_NUMBER("trial", kStrd, "SiRstv, between", wafers.treatments.sum, 5.11462616e-02, 1e-11);
  PUBLISHED_NUMBER("trial", kStrd, "SiRstv, within", wafers.rest.sum, 2.16636560e-01, 1e-11);
  PUBLISHED_NUMBER("trial", kStrd, "SiRstv, deviation", std::sqrt(wafers.rest.mean()), 1.04076068334656e-01, 1e-11);

  // Atomic weight of silver: seven leading digits in common.
  const Anova silver = one_way_of(
      {{107.8681568, 107.8681465, 107.8681572, 107.8681785, 107.8681446, 107.8681903, 107.8681526, 107.8681494,
        107.8681616, 107.8681587, 107.8681519, 107.8681486, 107.8681419, 107.8681569, 107.8681508, 107.8681672,
        107.8681385, 107.8681518, 107.8681662, 107.8681424, 107.8681360, 107.8681333, 107.8681610, 107.8681477},
       {107.8681079, 107.8681344, 107.8681513, 107.8681197, 107.8681604, 107.8681385, 107.8681642, 107.8681365,
        107.8681151, 107.8681082, 107.8681517, 107.8681448, 107.8681198, 107.8681482, 107.8681334, 107.8681609,
        107.8681101, 107.8681512, 107.8681469, 107.8681360, 107.8681254, 107.8681261, 107.8681450, 107.8681368}});
  PUBLISHED_NUMBER("trial", kStrd, "AtmWtAg, F", silver.f, 15.9467335677930, 1e-6);  // Doubles hold the data to 1e-14.
  PUBLISHED_NUMBER("trial", kStrd, "AtmWtAg, deviation", std::sqrt(silver.rest.mean()) / 1.51048314446410e-05, 1, 1e-7);
}

/// The generated sets of Simon & Lesage 1989: nine groups about 1.4, 1.3, 1.5, 1.3 … with an offset, each its mean once and then
/// turns of 0.1 below and above.
Groups simon_lesage(double offset, int each) {
  Groups groups;
  for (const int tenths : {4, 3, 5, 3, 5, 3, 5, 3, 5}) {
    Values values;
    for (int i = 0; i < each; ++i) values.push_back(offset + (tenths + (i == 0 ? 0 : i % 2 == 1 ? -1 : 1)) / 10.0);
    groups.push_back(std::move(values));
  }
  return groups;
}

TEST_CASE("trial: analysis of variance on the generated reference sets") {
  constexpr const char* kStrd = "NIST StRD, certified values (Simon & Lesage 1989)";
  struct Row {
    const char* name;
    double offset;
    int each;
    double f, within, tolerance;
  };
  // With a million before the point doubles hold the data to 1e-10, so that F is sure to some 1e-9 of it.
  for (const Row& row : {Row{"SmLs01", 1, 21, 21, 1.8, 1e-9},
                         {"SmLs02", 1, 201, 201, 18, 1e-9},
                         {"SmLs03", 1, 2001, 2001, 180, 1e-9},
                         {"SmLs04", 1e6, 21, 21, 1.8, 2e-8},
                         {"SmLs05", 1e6, 201, 201, 18, 2e-8},
                         {"SmLs06", 1e6, 2001, 2001, 180, 2e-8}}) {
    const Anova anova = one_way_of(simon_lesage(row.offset, row.each));
    PUBLISHED_NUMBER("trial", kStrd, std::string(row.name) + ", F", anova.f / row.f, 1, row.tolerance);
    PUBLISHED_NUMBER("trial", kStrd, std::string(row.name) + ", within", anova.rest.sum / row.within, 1, row.tolerance);
  }
}

TEST_CASE("trial: randomized blocks") {
  // Barley of five sorts at six places: Immer, Hayes & Powers 1934, as in R's MASS 'immer', Y1. Sorts M S V T P.
  constexpr const char* kImmer = "R 4.2.2 aov on MASS 'immer' Y1, sums confirmed with numpy";
  const Groups places = {{81, 105.4, 119.7, 109.7, 98.3}, {146.6, 142, 150.7, 191.5, 145.7},
                         {82.3, 77.3, 78.4, 131.3, 89.6}, {119.8, 121.4, 124, 140.8, 124.8},
                         {98.9, 89, 69.1, 89.3, 104.1},   {86.9, 77.1, 78.9, 101.8, 96}};
  std::vector<Plot> plots;
  for (std::size_t b = 0; b < places.size(); ++b)
    for (std::size_t t = 0; t < 5; ++t) plots.push_back({t, b, places[b][t]});
  const Anova barley = *randomized_blocks(plots);
  PUBLISHED_NUMBER("trial", kImmer, "blocks", barley.blocks->sum, 17829.846667, 6e-7);
  PUBLISHED_NUMBER("trial", kImmer, "treatments", barley.treatments.sum, 2756.624667, 6e-7);
  PUBLISHED_NUMBER("trial", kImmer, "rest", barley.rest.sum, 3257.743333, 6e-7);
  PUBLISHED_NUMBER("trial", kImmer, "mean square of the rest", barley.rest.mean(), 162.887167, 6e-7);
  PUBLISHED_NUMBER("trial", kImmer, "F", barley.f, 4.23088, 6e-6);
  PUBLISHED_NUMBER("trial", kImmer, "p", barley.p, 0.012139, 6e-7);
  PUBLISHED_NUMBER("trial", kImmer, "F of blocks", barley.blocks->mean() / barley.rest.mean(), 21.89227, 6e-6);
  struct Mean {
    const char* sort;
    double mean;
  };
  std::size_t t = 0;
  for (const Mean& row : {Mean{"M", 102.5833}, {"S", 102.0333}, {"V", 103.4667}, {"T", 127.4000}, {"P", 109.7500}})
    PUBLISHED_NUMBER("trial", kImmer, row.sort, barley.groups[t++].mean, row.mean, 6e-5);
  const Difference joint = (*joint_differences(barley, 0))[3];
  PUBLISHED_NUMBER("trial", kImmer, "half of the joint interval = Tukey's HSD", (joint.high - joint.low) / 2, 22.04950,
                   6e-6);

  // Peas with nitrogen, phosphate and potash in blocks of four plots, half of each with and half without: R's data 'npk'.
  constexpr const char* kPeas = "R 4.2.2 aov on data 'npk' (help page; Venables & Ripley 2002 from memory)";
  struct Pea {
    std::size_t block, n, p, k;
    double yield;
  };
  std::vector<Plot> by_n, by_k;
  for (const Pea& pea :
       {Pea{0, 0, 1, 1, 49.5}, {0, 1, 1, 0, 62.8}, {0, 0, 0, 0, 46.8}, {0, 1, 0, 1, 57.0}, {1, 1, 0, 0, 59.8},
        {1, 1, 1, 1, 58.5},    {1, 0, 0, 1, 55.5}, {1, 0, 1, 0, 56.0}, {2, 0, 1, 0, 62.8}, {2, 1, 1, 1, 55.8},
        {2, 1, 0, 0, 69.5},    {2, 0, 0, 1, 55.0}, {3, 1, 0, 0, 62.0}, {3, 1, 1, 1, 48.8}, {3, 0, 0, 1, 45.5},
        {3, 0, 1, 0, 44.2},    {4, 1, 1, 0, 52.0}, {4, 0, 0, 0, 51.5}, {4, 1, 0, 1, 49.8}, {4, 0, 1, 1, 48.8},
        {5, 1, 0, 1, 57.2},    {5, 1, 1, 0, 59.0}, {5, 0, 1, 1, 53.2}, {5, 0, 0, 0, 56.0}}) {
    by_n.push_back({pea.n, pea.block, pea.yield});
    by_k.push_back({pea.k, pea.block, pea.yield});
  }
  const Anova nitrogen = *randomized_blocks(by_n), potash = *randomized_blocks(by_k);
  PUBLISHED_NUMBER("trial", kPeas, "blocks", nitrogen.blocks->sum, 343.295, 1e-9);
  PUBLISHED_NUMBER("trial", kPeas, "nitrogen", nitrogen.treatments.sum, 189.281667, 6e-7);
  // R holds them against the rest of the whole model with its interactions, 15.440556; ours has one factor alone.
  PUBLISHED_NUMBER("trial", kPeas, "F of blocks, by the whole model's rest", nitrogen.blocks->mean() / 15.440556,
                   4.44667, 6e-6);
  PUBLISHED_NUMBER("trial", kPeas, "F of nitrogen, by the whole model's rest", nitrogen.treatments.sum / 15.440556,
                   12.25873, 6e-6);
  PUBLISHED_NUMBER("trial", kPeas, "F of potash, by the whole model's rest", potash.treatments.sum / 15.440556, 6.16569,
                   6e-6);
}

TEST_CASE("trial: studentized range") {
  constexpr const char* kScipy = "scipy 1.10.1 studentized_range, evaluated independently";
  struct Row {
    int means;
    double nu, p90, p95, p99;
  };
  for (const Row& row : {Row{2, 1, 8.928993, 17.969287, 90.024227},
                         {2, 3, 3.328158, 4.500659, 8.260293},
                         {2, 5, 2.849709, 3.635352, 5.702311},
                         {2, 10, 2.563207, 3.151064, 4.482028},
                         {3, 2, 5.732649, 8.330783, 19.018936},
                         {3, 5, 3.717111, 4.601726, 6.975737},
                         {3, 10, 3.270308, 3.876777, 5.270162},
                         {3, 20, 3.077480, 3.577935, 4.639220},
                         {4, 12, 3.620708, 4.198660, 5.501626},
                         {4, 20, 3.461543, 3.958294, 5.018016},
                         {5, 20, 3.736403, 4.231857, 5.293253},
                         {6, 10, 4.263698, 4.912016, 6.427536},
                         {6, 24, 3.900155, 4.372651, 5.373466},
                         {8, 40, 4.098519, 4.520535, 5.391980},
                         {10, 60, 4.253942, 4.646324, 5.446615},
                         {20, 19, 5.231532, 5.751811, 6.891117},
                         {50, 1000, 5.371172, 5.664817, 6.256611}}) {
    const std::string name = std::to_string(row.means) + " means, " + std::to_string(row.nu);
    PUBLISHED_NUMBER("trial", kScipy, name + ", 0.90", *studentized_range_quantile(0.90, row.means, row.nu), row.p90,
                     1e-6);
    PUBLISHED_NUMBER("trial", kScipy, name + ", 0.95", *studentized_range_quantile(0.95, row.means, row.nu), row.p95,
                     1e-6);
    PUBLISHED_NUMBER("trial", kScipy, name + ", 0.99", *studentized_range_quantile(0.99, row.means, row.nu), row.p99,
                     1e-6);
    PUBLISHED_NUMBER("trial", kScipy, name + ", chance beyond",
                     *studentized_range_upper_tail(row.p95, row.means, row.nu), 0.05, 1e-7);
  }
  constexpr const char* kTables = "printed tables of the studentized range, 5 % points (from memory)";
  struct Printed {
    int means;
    double nu;
    const char* q;
  };
  for (const Printed& row :
       {Printed{3, 10, "3.88"}, {3, 20, "3.58"}, {4, 20, "3.96"}, {5, 20, "4.23"}, {2, 10, "3.15"}})
    PUBLISHED("trial", kTables, row.q, agrees(*studentized_range_quantile(0.95, row.means, row.nu), row.q));
}

TEST_CASE("trial: the numbers that layouts are drawn from") {
  constexpr const char* kMix = "SplitMix64 (Steele, Lea & Flood 2014), first numbers of seed 1234567 (from memory)";
  SplitMix64 random(1234567);
  for (const std::uint64_t expected :
       {6457827717110365317u, 3203168211198807973u, 9817491932198370423u, 4593380528125082431u, 16408922859458223821u})
    PUBLISHED("trial", kMix, std::to_string(expected), random.next() == expected);
}

}  // namespace
