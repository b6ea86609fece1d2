// The calculation 'trial'.
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "trade/trial.h"
#include "trade/trial_layout.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

constexpr InputSpec kPairColumns[] = {
    plain_input("treated", InputKind::Number, "work-input.treated"_w),
    plain_input("untreated", InputKind::Number, "work-input.untreated"_w),
};
constexpr InputSpec kStripColumns[] = {
    plain_input("treatment", InputKind::Text, "work-input.trial-treatment"_w),
    plain_input("value", InputKind::Number, "work-input.trial-value"_w),
    plain_input("block", InputKind::Text, "work-input.trial-block"_w).optional(),
};
constexpr InputSpec kInputs[] = {
    row_input("strip", kStripColumns, "work-input.trial-strips"_w).repeated().optional(),
    row_input("pair", kPairColumns, "work-input.trial-pairs"_w).repeated().optional(),
    plain_input("reference", InputKind::Text, "work-input.trial-reference"_w).optional(),
    quantity_input("confidence", Dimension::Share, "work-input.confidence"_w).or_standard("95 %"),
    plain_input("treatment", InputKind::Text, "work-input.trial-treatments"_w).optional().repeated(),
    plain_input("blocks", InputKind::Whole, "work-input.trial-blocks"_w).optional(),
    plain_input("seed", InputKind::Whole, "work-input.trial-seed"_w).optional(),
};
constexpr OutputSpec kOutputs[] = {
    {"block-*", OutputKind::Text, "", 0, "work-result.trial-order"_w},
    {"treatment-*", OutputKind::Text, "", 0, "work-result.trial-treatment"_w},
    {"treatment-*-mean", OutputKind::Number, "", 2, "work-result.trial-mean"_w},
    {"treatment-*-strips", OutputKind::Whole, "", 0, "work-result.trial-strips"_w},
    {"treated-mean", OutputKind::Number, "", 2, "work-result.treated-mean"_w},
    {"untreated-mean", OutputKind::Number, "", 2, "work-result.untreated-mean"_w},
    {"difference-*", OutputKind::Number, "", 2, "work-result.trial-difference"_w},
    {"difference-*-low", OutputKind::Number, "", 2, "work-result.trial-low"_w},
    {"difference-*-high", OutputKind::Number, "", 2, "work-result.trial-high"_w},
    {"difference-*-low-percent", OutputKind::Quantity, "%", 1, "work-result.trial-low-percent"_w},
    {"difference-*-high-percent", OutputKind::Quantity, "%", 1, "work-result.trial-high-percent"_w},
    {"difference-*-p", OutputKind::Number, "", 4, "work-result.trial-p"_w},
    {"verdict-*", OutputKind::Word, "", 0, "work-result.trial-verdict"_w},
    {"f", OutputKind::Number, "", 2, "work-result.trial-f"_w},
    {"p", OutputKind::Number, "", 4, "work-result.trial-f-p"_w},
    {"scatter", OutputKind::Number, "", 2, "work-result.trial-scatter"_w},
};
const extern Calculation kTrial;

// Layout

Result<Answer> run_layout(const Inputs& in) {
  const auto treatments = in.all("treatment");
  const Value *blocks = in.find("blocks"), *seed = in.find("seed");
  if (!blocks || !seed) return refuse(Trouble::BadInput, "trial.layout-needs"_w, {}, blocks ? "seed" : "blocks");
  if (blocks->number > 200) return refuse(Trouble::OutOfRange, "trial.blocks"_w, {}, "blocks");
  if (seed->number > 9e15) return refuse(Trouble::OutOfRange, "trial.seed"_w, {}, "seed");
  TRY_ASSIGN(const auto& layout, trial_layout(static_cast<int>(treatments.size()), static_cast<int>(blocks->number),
                                              static_cast<std::uint64_t>(seed->number)));
  Answer answer(kTrial);
  for (std::size_t b = 0; b < layout.size(); ++b) {
    std::string order;
    for (const int t : layout[b]) order += (order.empty() ? "" : " | ") + treatments[static_cast<std::size_t>(t)]->text;
    answer.text("block-*", order, static_cast<int>(b) + 1);
  }
  answer.step("block-*", "i = n − 1 … 1: swap i with one of 0 … i",
              std::to_string(layout.size()) + " × " + std::to_string(treatments.size()) + ", seed " + seed->text);
  answer.note("trial.keep-seed"_w);
  return answer;
}

// Answers

std::string signed_figure(double value) {
  return (value > 0 ? "+" : value < 0 ? "−" : "") + figure(std::abs(value), 2);
}

const char* verdict_word(Verdict verdict) {
  switch (verdict) {
    case Verdict::More: return "trial-more";
    case Verdict::Less: return "trial-less";
    case Verdict::CannotTell: return "trial-cannot-tell";
  }
  return "";
}

struct Named {
  std::string name;
  Sample sample;
};

void add_group(Answer& answer, const Named& group, int ordinal) {
  answer.text("treatment-*", group.name, ordinal);
  answer.number("treatment-*-mean", group.sample.mean, ordinal);
  answer.number("treatment-*-strips", group.sample.n, ordinal);
  answer.step("treatment-* treatment-*-mean treatment-*-strips", "Σ x / n",
              "n = " + figure(group.sample.n) + " → " + figure(group.sample.mean), ordinal);
}

/// The interval as numbers, in per cent of the reference where its mean allows that.
struct InPercent {
  bool percent;
  double low, high;
};
InPercent add_difference(Answer& answer, const Difference& d, double reference, int ordinal) {
  answer.number("difference-*", d.difference, ordinal);
  answer.number("difference-*-low", d.low, ordinal);
  answer.number("difference-*-high", d.high, ordinal);
  const bool percent = reference > 0;
  const double scale = percent ? 100 / reference : 1;
  if (percent) {
    answer.number("difference-*-low-percent", d.low * scale, ordinal);
    answer.number("difference-*-high-percent", d.high * scale, ordinal);
  }
  answer.number("difference-*-p", d.p, ordinal);
  answer.text("verdict-*", verdict_word(verdict(d)), ordinal);
  return {percent, d.low * scale, d.high * scale};
}

std::string high_text(const InPercent& shown) { return signed_figure(shown.high) + (shown.percent ? " %" : ""); }

/// 'tea against none: the difference is −3 to +12 %: this trial cannot tell.'
void say_named(Answer& answer, const Difference& d, const InPercent& shown, const std::string& treated,
               const std::string& reference) {
  const auto say = [&](WordId word) {
    answer.note(word, {treated, reference, signed_figure(shown.low), high_text(shown)});
  };
  switch (verdict(d)) {
    case Verdict::More: return say("trial.more"_w);
    case Verdict::Less: return say("trial.less"_w);
    case Verdict::CannotTell: return say("trial.cannot-tell"_w);
  }
}

void say_treated(Answer& answer, const Difference& d, const InPercent& shown) {
  const auto say = [&](WordId word) { answer.note(word, {signed_figure(shown.low), high_text(shown)}); };
  switch (verdict(d)) {
    case Verdict::More: return say("trial.treated-more"_w);
    case Verdict::Less: return say("trial.treated-less"_w);
    case Verdict::CannotTell: return say("trial.treated-cannot-tell"_w);
  }
}

/// What the interval answers.
constexpr std::string_view kLimits =
    "difference-*-low difference-*-high difference-*-low-percent difference-*-high-percent verdict-*";

std::string interval_text(const Difference& d) {
  return figure(d.difference) + ", " + figure(d.low) + " … " + figure(d.high);
}

Result<Answer> run_pairs(const Inputs& in, double confidence) {
  std::vector<StripPair> pairs;
  std::vector<double> treated, untreated;
  for (const Value* row : in.all("pair")) {
    pairs.push_back({row->columns[0]->number, row->columns[1]->number});
    treated.push_back(pairs.back().treated);
    untreated.push_back(pairs.back().untreated);
  }
  TRY_ASSIGN(const Difference& d, paired_difference(pairs, confidence));
  TRY_ASSIGN(const Sample& with, sample_of(treated));
  TRY_ASSIGN(const Sample& without, sample_of(untreated));
  Answer answer(kTrial);
  answer.number("treated-mean", with.mean);
  answer.number("untreated-mean", without.mean);
  say_treated(answer, d, add_difference(answer, d, without.mean, 1));
  const std::string n = std::to_string(pairs.size());
  answer.step("treated-mean", "Σ x / n", "n = " + n + " → " + figure(with.mean));
  answer.step("untreated-mean", "Σ x / n", "n = " + n + " → " + figure(without.mean));
  answer.step("difference-* difference-*-p", "t = mean d / (s_d / √n)",
              figure(d.difference) + " / " + figure(d.standard_error) + " = " + figure(d.t) +
                  ", ν = " + figure(d.degrees_of_freedom));
  answer.step(kLimits, "mean d ± t(P, ν) · s_d / √n", interval_text(d));
  return answer;
}

/// 'Tea' and 'tea' are one treatment. The size of the list: not among them.
std::size_t place_of(const std::vector<std::string>& names, std::string_view name) {
  const auto is_it = [&](const std::string& one) { return lower(one) == lower(name); };
  return static_cast<std::size_t>(std::find_if(names.begin(), names.end(), is_it) - names.begin());
}

/// The names in the order in which they come; `first` before all others.
std::vector<std::string> names_of(std::span<const Value* const> rows, std::size_t column, std::string_view first = {}) {
  std::vector<std::string> names;
  for (const Value* row : rows) {
    const std::string& name = row->columns[column]->text;
    if (place_of(names, name) == names.size()) names.push_back(name);
  }
  const auto found = names.begin() + static_cast<std::ptrdiff_t>(place_of(names, first));
  if (found != names.end()) std::rotate(names.begin(), found, found + 1);
  return names;
}

/// The analysis, with its steps; two treatments without blocks may scatter unlike and go by Welch.
Result<Answer> run_anova(const Anova& anova, const std::vector<std::string>& names, double confidence) {
  Answer answer(kTrial);
  for (std::size_t t = 0; t < names.size(); ++t)
    add_group(answer, {names[t], anova.groups[t]}, static_cast<int>(t) + 1);
  TRY_ASSIGN(const std::vector<Difference>& differences, joint_differences(anova, 0, confidence));
  for (std::size_t t = 1; t < names.size(); ++t) {
    const Difference& d = differences[t];
    const InPercent shown = add_difference(answer, d, anova.groups[0].mean, static_cast<int>(t) + 1);
    say_named(answer, d, shown, names[t], names[0]);
    answer.step("difference-*", "mean − mean of the reference",
                figure(anova.groups[t].mean) + " − " + figure(anova.groups[0].mean) + " = " + figure(d.difference),
                static_cast<int>(t) + 1);
    answer.step("difference-*-p", "P(q ≥ √2 · |t|; k, ν)",
                "t = " + figure(d.t) + ", k = " + std::to_string(names.size()) +
                    ", ν = " + figure(d.degrees_of_freedom) + " → " + figure(d.p, 3),
                static_cast<int>(t) + 1);
    answer.step(kLimits, "mean 1 − mean 2 ± q(P; k, ν) / √2 · s √(1/n1 + 1/n2)", interval_text(d),
                static_cast<int>(t) + 1);
  }
  answer.number("f", anova.f);
  answer.number("p", anova.p);
  answer.number("scatter", std::sqrt(anova.rest.mean()));
  const auto part = [](const SumOfSquares& p) { return figure(p.sum) + " (" + figure(p.degrees_of_freedom) + ")"; };
  answer.step("scatter", "s = √(SS_e / ν_e)",
              "√" + figure(anova.rest.mean()) + " = " + figure(std::sqrt(anova.rest.mean())));
  answer.step("f p", "SS (ν): treatments, rest" + std::string(anova.blocks ? ", blocks" : ""),
              part(anova.treatments) + ", " + part(anova.rest) + (anova.blocks ? ", " + part(*anova.blocks) : ""));
  answer.step("f p", "F = (SS_t / ν_t) / (SS_e / ν_e)",
              figure(anova.treatments.mean()) + " / " + figure(anova.rest.mean()) + " = " + figure(anova.f));
  if (names.size() > 2) answer.note("trial.joint"_w);
  return answer;
}

Result<Answer> run_two(const Named& reference, const Named& treated, double confidence) {
  TRY_ASSIGN(const Difference& d, welch_difference(treated.sample, reference.sample, confidence));
  Answer answer(kTrial);
  add_group(answer, reference, 1);
  add_group(answer, treated, 2);
  say_named(answer, d, add_difference(answer, d, reference.sample.mean, 2), treated.name, reference.name);
  answer.step("difference-* difference-*-p", "t = (mean 1 − mean 2) / √(s1²/n1 + s2²/n2)",
              figure(d.difference) + " / " + figure(d.standard_error) + " = " + figure(d.t) +
                  ", ν = " + figure(d.degrees_of_freedom));
  answer.step(kLimits, "mean 1 − mean 2 ± t(P, ν) · √(s1²/n1 + s2²/n2)", interval_text(d));
  return answer;
}

Result<Answer> run_strips(const Inputs& in, double confidence) {
  const auto rows = in.all("strip");
  const auto has_block = [](const Value* row) { return row->columns[2].has_value(); };
  const bool blocked = std::all_of(rows.begin(), rows.end(), has_block);
  if (!blocked && std::any_of(rows.begin(), rows.end(), has_block))
    return refuse(Trouble::BadInput, "trial.some-blocks"_w, {}, "strip");
  const Value* reference = in.find("reference");
  const auto names = names_of(rows, 0, reference ? std::string_view(reference->text) : std::string_view());
  if (reference && lower(names[0]) != lower(reference->text))
    return refuse(Trouble::BadInput, "trial.no-reference"_w, {reference->text}, "reference");
  if (names.size() < 2) return refuse(Trouble::BadInput, "trial.two-treatments"_w, {}, "strip");
  if (blocked) {
    const auto blocks = names_of(rows, 2);
    std::vector<Plot> plots;
    for (const Value* row : rows)
      plots.push_back(
          {place_of(names, row->columns[0]->text), place_of(blocks, row->columns[2]->text), row->columns[1]->number});
    TRY_ASSIGN(const Anova& anova, randomized_blocks(plots));
    return run_anova(anova, names, confidence);
  }
  std::vector<std::vector<double>> values(names.size());
  for (const Value* row : rows) values[place_of(names, row->columns[0]->text)].push_back(row->columns[1]->number);
  std::vector<Sample> groups;
  for (const auto& group : values) {
    TRY_ASSIGN(const Sample& sample, sample_of(group));
    groups.push_back(sample);
  }
  if (groups.size() == 2) return run_two({names[0], groups[0]}, {names[1], groups[1]}, confidence);
  TRY_ASSIGN(const Anova& anova, one_way(groups));
  return run_anova(anova, names, confidence);
}

Result<Answer> run_trial(const Inputs& in) {
  const bool pairs = in.find("pair"), strips = in.find("strip"), layout = in.find("treatment");
  if (pairs + strips + layout != 1) return refuse(Trouble::BadInput, "trial.what"_w, {}, "strip");
  if (layout) return run_layout(in);
  const double confidence = in.get<Share>("confidence").ratio();
  TRY_ASSIGN(Answer answer, pairs ? run_pairs(in, confidence) : run_strips(in, confidence));
  answer.note("trial.interval"_w, {figure(100 * confidence, 3)});
  answer.note("trial.at-random"_w);
  return answer;
}

const Calculation kTrial{
    "trial",
    "field",
    "work.trial"_w,
    kInputs,
    kOutputs,
    "Student 1908; Welch 1947; Tukey's range; NIST/SEMATECH e-Handbook 7.4.3; layout: Durstenfeld 1964",
    "--strip \"none; 41.2; A\" --strip \"tea; 43.0; A\" --strip \"none; 38.5; B\" --strip \"tea; 38.1; B\" "
    "--strip \"none; 44.0; C\" --strip \"tea; 47.9; C\" --strip \"none; 40.3; D\" --strip \"tea; 42.2; D\"",
    run_trial};

const Calculation kAll[] = {kTrial};

}  // namespace

std::span<const Calculation> work_trial() { return kAll; }

}  // namespace steep
