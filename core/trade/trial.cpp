#include "trade/trial.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "trade/distributions.h"
#include "trade/studentized_range.h"

namespace steep {
namespace {

constexpr double kRounding = 1e-12;  // Scatter below this part of the differences is that of the arithmetic.

auto no_scatter() { return refuse(Trouble::BadInput, "trial.no-scatter"_w, {}, "strip"); }

/// By Student's t.
Result<Difference> with_interval(double difference, double standard_error, double nu, double confidence) {
  if (!(confidence >= 0.5 && confidence <= 0.999))
    return refuse(Trouble::OutOfRange, "trial.confidence"_w, {}, "confidence");
  if (!(standard_error > kRounding * std::abs(difference))) return no_scatter();
  Difference d;
  d.difference = difference;
  d.standard_error = standard_error;
  d.degrees_of_freedom = nu;
  d.t = difference / standard_error;
  TRY_ASSIGN(d.p, t_two_sided(d.t, nu));
  TRY_ASSIGN(const double t, t_quantile((1 + confidence) / 2, nu));
  d.low = difference - t * standard_error;
  d.high = difference + t * standard_error;
  return d;
}

double grand_mean(std::span<const Sample> groups) {
  double n = 0, sum = 0;
  for (const Sample& g : groups) {
    n += g.n;
    sum += g.n * (g.mean - groups[0].mean);
  }
  return groups[0].mean + sum / n;
}

/// Σ n (mean − grand mean)².
SumOfSquares between(std::span<const Sample> groups) {
  const double mean = grand_mean(groups);
  SumOfSquares part;
  for (const Sample& g : groups) part.sum += g.n * (g.mean - mean) * (g.mean - mean);
  part.degrees_of_freedom = static_cast<double>(groups.size()) - 1;
  return part;
}

Result<Anova> with_ratio(Anova anova) {
  const double seen = anova.treatments.sum + (anova.blocks ? anova.blocks->sum : 0);
  if (!(anova.rest.sum > kRounding * kRounding * seen)) return no_scatter();
  anova.f = anova.treatments.mean() / anova.rest.mean();
  TRY_ASSIGN(anova.p, f_upper_tail(anova.f, anova.treatments.degrees_of_freedom, anova.rest.degrees_of_freedom));
  return anova;
}

/// The plots sorted into groups by one of their numbers.
Result<std::vector<Sample>> groups_by(std::span<const Plot> plots, std::size_t Plot::*number) {
  std::vector<std::vector<double>> values;
  for (const Plot& plot : plots) {
    if (plot.*number >= values.size()) values.resize(plot.*number + 1);
    values[plot.*number].push_back(plot.value);
  }
  std::vector<Sample> groups;
  for (const auto& group : values) {
    TRY_ASSIGN(const Sample& sample, sample_of(group));
    groups.push_back(sample);
  }
  return groups;
}

/// Every treatment stands in every block, equally often.
bool is_balanced(std::span<const Plot> plots, std::size_t treatments, std::size_t blocks) {
  std::vector<int> times(treatments * blocks);
  for (const Plot& plot : plots) ++times[plot.treatment * blocks + plot.block];
  return times[0] > 0 && std::all_of(times.begin(), times.end(), [&](int n) { return n == times[0]; });
}

}  // namespace

Result<Sample> sample_of(std::span<const double> values) {
  if (values.size() < 2) return refuse(Trouble::BadInput, "trial.few"_w, {}, "strip");
  Sample sample;
  sample.n = static_cast<double>(values.size());
  double off = 0, squares = 0;
  for (const double value : values) off += value - values[0];
  sample.mean = values[0] + off / sample.n;
  for (const double value : values) squares += (value - sample.mean) * (value - sample.mean);
  sample.deviation = std::sqrt(squares / (sample.n - 1));
  if (!std::isfinite(sample.deviation)) return refuse(Trouble::BadInput, "trial.value"_w, {}, "strip");
  return sample;
}

Verdict verdict(const Difference& difference) {
  if (difference.low > 0) return Verdict::More;
  if (difference.high < 0) return Verdict::Less;
  return Verdict::CannotTell;
}

Result<Difference> paired_difference(std::span<const StripPair> pairs, double confidence) {
  std::vector<double> differences;
  for (const StripPair& pair : pairs) differences.push_back(pair.treated - pair.untreated);
  TRY_ASSIGN(const Sample& sample, sample_of(differences));
  return with_interval(sample.mean, sample.deviation / std::sqrt(sample.n), sample.n - 1, confidence);
}

Result<Difference> welch_difference(const Sample& first, const Sample& second, double confidence) {
  if (!(first.n >= 2) || !(second.n >= 2)) return refuse(Trouble::BadInput, "trial.few"_w, {}, "strip");
  const double a1 = first.deviation * first.deviation / first.n, a2 = second.deviation * second.deviation / second.n;
  const double both = a1 + a2;
  if (!(both > 0)) return no_scatter();
  const double nu = both * both / (a1 * a1 / (first.n - 1) + a2 * a2 / (second.n - 1));
  return with_interval(first.mean - second.mean, std::sqrt(both), nu, confidence);
}

Result<Anova> one_way(std::span<const Sample> groups) {
  if (groups.size() < 2) return refuse(Trouble::BadInput, "trial.two-treatments"_w, {}, "strip");
  Anova anova;
  anova.groups.assign(groups.begin(), groups.end());
  for (const Sample& g : groups) {
    if (!(g.n >= 2)) return refuse(Trouble::BadInput, "trial.few"_w, {}, "strip");
    anova.rest.sum += (g.n - 1) * g.deviation * g.deviation;
    anova.rest.degrees_of_freedom += g.n - 1;
  }
  anova.treatments = between(groups);
  return with_ratio(std::move(anova));
}

Result<Anova> randomized_blocks(std::span<const Plot> plots) {
  std::size_t treatments = 0, block_count = 0;
  for (const Plot& plot : plots) {
    treatments = std::max(treatments, plot.treatment + 1);
    block_count = std::max(block_count, plot.block + 1);
  }
  if (treatments < 2 || block_count < 2) return refuse(Trouble::BadInput, "trial.two-treatments"_w, {}, "strip");
  if (!is_balanced(plots, treatments, block_count))
    return refuse(Trouble::BadInput, "trial.not-balanced"_w, {}, "strip");
  Anova anova;
  TRY_ASSIGN(anova.groups, groups_by(plots, &Plot::treatment));
  TRY_ASSIGN(const std::vector<Sample>& blocks, groups_by(plots, &Plot::block));
  anova.treatments = between(anova.groups);
  anova.blocks = between(blocks);
  const double mean = grand_mean(blocks);
  for (const Plot& plot : plots) {
    const double off = plot.value - anova.groups[plot.treatment].mean - (blocks[plot.block].mean - mean);
    anova.rest.sum += off * off;
  }
  anova.rest.degrees_of_freedom =
      static_cast<double>(plots.size()) - 1 - anova.treatments.degrees_of_freedom - anova.blocks->degrees_of_freedom;
  return with_ratio(std::move(anova));
}

Result<std::vector<Difference>> joint_differences(const Anova& anova, std::size_t reference, double confidence) {
  if (!(confidence >= 0.5 && confidence <= 0.999))
    return refuse(Trouble::OutOfRange, "trial.confidence"_w, {}, "confidence");
  const int k = static_cast<int>(anova.groups.size());
  const double nu = anova.rest.degrees_of_freedom;
  TRY_ASSIGN(const double q, studentized_range_quantile(confidence, k, nu));
  const Sample& b = anova.groups[reference];
  std::vector<Difference> all(anova.groups.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (i == reference) continue;
    const Sample& a = anova.groups[i];
    Difference& d = all[i];
    d.difference = a.mean - b.mean;
    d.standard_error = std::sqrt(anova.rest.mean() * (1 / a.n + 1 / b.n));
    d.degrees_of_freedom = nu;
    d.t = d.difference / d.standard_error;
    TRY_ASSIGN(d.p, studentized_range_upper_tail(std::abs(d.t) * std::numbers::sqrt2, k, nu));
    const double half = q / std::numbers::sqrt2 * d.standard_error;
    d.low = d.difference - half;
    d.high = d.difference + half;
  }
  return all;
}

}  // namespace steep
