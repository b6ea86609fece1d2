#include "trade/trial.h"

#include <doctest/doctest.h>
#include <cmath>
#include <map>
#include <set>
#include <vector>

#include "trade/studentized_range.h"
#include "trade/trial_layout.h"

using namespace steep;

namespace {

// An invented trial: five neighbors, treated a little better.
const std::vector<StripPair> kPairs = {{43.0, 41.2}, {38.1, 38.5}, {47.9, 44.0}, {42.2, 40.3}, {45.5, 44.1}};

std::vector<Plot> plots_of(const std::vector<StripPair>& pairs) {
  std::vector<Plot> plots;
  for (std::size_t b = 0; b < pairs.size(); ++b) {
    plots.push_back({0, b, pairs[b].untreated});
    plots.push_back({1, b, pairs[b].treated});
  }
  return plots;
}

/// Nearly normal, the same on every system.
double scatter(SplitMix64& random) {
  double sum = -6;
  for (int i = 0; i < 12; ++i) sum += static_cast<double>(random.next() >> 11) / 9007199254740992.0;
  return sum;
}

TEST_CASE("trial: pairs are blocks of two, and two means jointly are one t") {
  const Difference pairs = *paired_difference(kPairs);
  const Anova blocks = *randomized_blocks(plots_of(kPairs));
  CHECK(blocks.f == doctest::Approx(pairs.t * pairs.t).epsilon(1e-10));
  CHECK(blocks.p == doctest::Approx(pairs.p).epsilon(1e-10));
  const Difference joint = (*joint_differences(blocks, 0))[1];
  CHECK(joint.difference == doctest::Approx(pairs.difference).epsilon(1e-12));
  CHECK(joint.low == doctest::Approx(pairs.low).epsilon(1e-7));
  CHECK(joint.high == doctest::Approx(pairs.high).epsilon(1e-7));
  CHECK(joint.p == doctest::Approx(pairs.p).epsilon(1e-7));
}

TEST_CASE("trial: sums of squares add up, whatever the order of the strips") {
  const std::vector<Plot> plots = {{0, 0, 3},   {1, 0, 5}, {2, 0, 4},   {0, 1, 6}, {1, 1, 9},
                                   {2, 1, 6.5}, {0, 2, 2}, {1, 2, 5.5}, {2, 2, 3}};
  const Anova anova = *randomized_blocks(plots);
  double mean = 0, all = 0;
  for (const Plot& plot : plots) mean += plot.value / 9;
  for (const Plot& plot : plots) all += (plot.value - mean) * (plot.value - mean);
  CHECK(anova.treatments.sum + anova.blocks->sum + anova.rest.sum == doctest::Approx(all).epsilon(1e-12));
  CHECK(anova.rest.degrees_of_freedom == 4);
  const std::vector<Plot> turned(plots.rbegin(), plots.rend());
  CHECK(randomized_blocks(turned)->f == doctest::Approx(anova.f).epsilon(1e-12));
}

TEST_CASE("trial: the same in pounds and kilograms, and with sides turned") {
  std::vector<StripPair> kilograms, turned;
  for (const StripPair& pair : kPairs) {
    kilograms.push_back({pair.treated * 0.45359237, pair.untreated * 0.45359237});
    turned.push_back({pair.untreated, pair.treated});
  }
  const Difference d = *paired_difference(kPairs), kg = *paired_difference(kilograms),
                   back = *paired_difference(turned);
  CHECK(kg.t == doctest::Approx(d.t).epsilon(1e-12));
  CHECK(kg.low == doctest::Approx(d.low * 0.45359237).epsilon(1e-12));
  CHECK(back.low == doctest::Approx(-d.high).epsilon(1e-12));
  CHECK(back.p == doctest::Approx(d.p).epsilon(1e-12));
}

TEST_CASE("trial: leading digits in common do no harm") {
  const Sample plain = *sample_of(std::vector<double>{0.1, 0.2, 0.4}),
               far = *sample_of(std::vector<double>{1e6 + 0.1, 1e6 + 0.2, 1e6 + 0.4});
  CHECK(far.deviation == doctest::Approx(plain.deviation).epsilon(1e-8));
}

TEST_CASE("trial: more confidence makes wider intervals; the verdict follows the interval") {
  double before = 0;
  for (const double confidence : {0.5, 0.8, 0.9, 0.95, 0.99, 0.999}) {
    const Difference d = *paired_difference(kPairs, confidence);
    CHECK(d.high - d.low > before);
    before = d.high - d.low;
  }
  CHECK(verdict(*paired_difference(kPairs, 0.5)) == Verdict::More);
  CHECK(verdict(*paired_difference(kPairs, 0.999)) == Verdict::CannotTell);
  CHECK(verdict({0, 0, 1}) == Verdict::CannotTell);  // An interval that ends at 0 holds 0.
  CHECK(verdict({0, -2, -1}) == Verdict::Less);
}

TEST_CASE("trial: unlike scatter and unlike numbers: Welch's degrees of freedom lie between") {
  const Sample a{4, 10, 1}, b{9, 12, 3};
  const Difference d = *welch_difference(a, b);
  CHECK(d.degrees_of_freedom > 3);
  CHECK(d.degrees_of_freedom < 11);
  CHECK(welch_difference({6, 10, 2}, {6, 12, 2})->degrees_of_freedom == doctest::Approx(10));
}

TEST_CASE("trial: intervals hold the truth as often as they say") {
  // 2,000 invented trials without a difference. 95 % ± 1.5 % is three deviations of such a count.
  SplitMix64 random(7);
  int pairs_hold = 0, joint_hold = 0;
  constexpr int kTrials = 2000;
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<StripPair> pairs;
    for (int i = 0; i < 6; ++i) pairs.push_back({scatter(random), scatter(random)});
    pairs_hold += verdict(*paired_difference(pairs)) == Verdict::CannotTell;
    if (trial % 20 != 0) continue;  // The joint ones take longer.
    std::vector<Plot> plots;
    for (std::size_t b = 0; b < 4; ++b)
      for (std::size_t t = 0; t < 4; ++t) plots.push_back({t, b, scatter(random) + static_cast<double>(b)});
    const Anova anova = *randomized_blocks(plots);
    // All hold when the widest does: of greatest and least mean.
    std::size_t least = 0, most = 0;
    for (std::size_t t = 1; t < 4; ++t) {
      if (anova.groups[t].mean < anova.groups[least].mean) least = t;
      if (anova.groups[t].mean > anova.groups[most].mean) most = t;
    }
    joint_hold += verdict((*joint_differences(anova, least))[most]) == Verdict::CannotTell;
  }
  CHECK(pairs_hold > 0.935 * kTrials);
  CHECK(pairs_hold < 0.965 * kTrials);
  CHECK(joint_hold > 88);  // Of 100: 95 ± 7.
  CHECK(joint_hold < 100);
}

TEST_CASE("trial: studentized range, there and back") {
  for (const double p : {0.5, 0.9, 0.95, 0.999})
    CHECK(*studentized_range_upper_tail(*studentized_range_quantile(p, 4, 9), 4, 9) ==
          doctest::Approx(1 - p).epsilon(1e-6));
  CHECK(*studentized_range_upper_tail(0, 3, 5) == doctest::Approx(1).epsilon(1e-9));
  CHECK(!studentized_range_quantile(0.95, 1, 5));
  CHECK(!studentized_range_quantile(0.95, 51, 5));
  CHECK(!studentized_range_quantile(0.95, 3, 0.9));
  CHECK(!studentized_range_quantile(0.49, 3, 5));
  CHECK(!studentized_range_quantile(0.9991, 3, 5));
  CHECK(!studentized_range_upper_tail(-0.1, 3, 5));
}

TEST_CASE("trial: a layout has every treatment once in every block, and comes again from its seed") {
  const auto layout = *trial_layout(5, 40, 11);
  CHECK(layout.size() == 40);
  for (const auto& block : layout) CHECK(std::set<int>(block.begin(), block.end()) == std::set<int>{0, 1, 2, 3, 4});
  CHECK(*trial_layout(5, 40, 11) == layout);
  CHECK(*trial_layout(5, 40, 12) != layout);
  // For ever: a farm's layout of three treatments must not change with the program.
  CHECK(*trial_layout(3, 4, 20260301) == std::vector<std::vector<int>>{{0, 2, 1}, {1, 2, 0}, {0, 1, 2}, {2, 0, 1}});
}

TEST_CASE("trial: numbers below a bound come alike often, and only those") {
  SplitMix64 random(3);
  int seen[7] = {};
  for (int i = 0; i < 7000; ++i) {
    const std::uint64_t drawn = random.below(7);
    REQUIRE(drawn < 7);
    ++seen[drawn];
  }
  for (const int times : seen) CHECK(std::abs(times - 1000) < 4 * 30);  // Four deviations of such a count.
  CHECK(random.below(1) == 0);
}

TEST_CASE("trial: all orders come alike often") {
  std::map<std::vector<int>, int> seen;
  constexpr int kSeeds = 100, kBlocks = 60;
  for (int seed = 0; seed < kSeeds; ++seed) {
    const auto layout = *trial_layout(3, kBlocks, static_cast<std::uint64_t>(seed));
    for (const auto& block : layout) ++seen[block];
  }
  CHECK(seen.size() == 6);
  double chi = 0;
  for (const auto& [order, times] : seen) chi += (times - 1000.0) * (times - 1000.0) / 1000;
  CHECK(chi < 20.5);  // Exceeded by chance once in a thousand, with 5 degrees of freedom.
}

TEST_CASE("trial: refuses what cannot be compared") {
  CHECK(paired_difference(std::span(kPairs).first(1)).error().word == "trial.few"_w);
  CHECK(paired_difference(std::span(kPairs).first(2)));
  CHECK(paired_difference(std::vector<StripPair>{{2, 1}, {3, 2}}).error().word == "trial.no-scatter"_w);
  CHECK(paired_difference(std::vector<StripPair>{{0.3, 0.2}, {0.4, 0.3}, {0.8, 0.7}}).error().word ==
        "trial.no-scatter"_w);
  CHECK(paired_difference(kPairs, 0.49).error().kind == Trouble::OutOfRange);
  CHECK(paired_difference(kPairs, 0.9991).error().kind == Trouble::OutOfRange);
  CHECK(!paired_difference(std::vector<StripPair>{{NAN, 1}, {2, 1}}));
  CHECK(!welch_difference({1, 3, 0}, {5, 3, 1}));
  CHECK(!welch_difference({5, 3, 0}, {5, 3, 0}));
  CHECK(!one_way(std::vector<Sample>{{5, 3, 1}}));
  std::vector<Plot> plots = plots_of(kPairs);
  plots.pop_back();
  CHECK(randomized_blocks(plots).error().word == "trial.not-balanced"_w);
  CHECK(randomized_blocks(plots_of({{2, 1}, {3, 2}})).error().word == "trial.no-scatter"_w);
  CHECK(!randomized_blocks(plots_of({{2, 1}})));
  CHECK(!randomized_blocks(std::vector<Plot>{}));
  CHECK(trial_layout(50, 200, 0));
  CHECK(trial_layout(51, 200, 0).error().kind == Trouble::OutOfRange);
  CHECK(!trial_layout(50, 201, 0));
  CHECK(!trial_layout(1, 4, 0));
  CHECK(!trial_layout(2, 0, 0));
}

}  // namespace
