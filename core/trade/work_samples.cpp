// The calculations 'mpn' and 'gm'.
#include <array>
#include <vector>

#include "trade/geomean.h"
#include "trade/mpn.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

// mpn

constexpr InputSpec kTubeColumns[] = {
    quantity_input("amount", Dimension::Mass, "work-input.tube-amount"_w).or_by(Dimension::Volume),
    plain_input("tubes", InputKind::Whole, "work-input.tubes"_w),
    plain_input("grew", InputKind::Whole, "work-input.tubes-grew"_w),
};
constexpr InputSpec kMpnInputs[] = {
    row_input("dilution", kTubeColumns, "work-input.tube-row"_w).repeated(),
    word_input("interval", "likelihood|normal", "work-input.mpn-interval"_w).or_standard("likelihood"),
    quantity_input("confidence", Dimension::Share, "work-input.confidence"_w).or_standard("95 %"),
};
constexpr OutputSpec kMpnOutputs[] = {
    {"mpn-per-g", OutputKind::Fixed, "/g", 2, "work-result.mpn"_w},
    {"low-per-g", OutputKind::Fixed, "/g", 2, "work-result.interval-low"_w},
    {"high-per-g", OutputKind::Fixed, "/g", 2, "work-result.interval-high"_w},
    {"mpn-per-ml", OutputKind::Fixed, "/mL", 2, "work-result.mpn"_w},
    {"low-per-ml", OutputKind::Fixed, "/mL", 2, "work-result.interval-low"_w},
    {"high-per-ml", OutputKind::Fixed, "/mL", 2, "work-result.interval-high"_w},
    {"mpn-per-100ml", OutputKind::Fixed, "/100 mL", 2, "work-result.mpn"_w},
    {"low-per-100ml", OutputKind::Fixed, "/100 mL", 2, "work-result.interval-low"_w},
    {"high-per-100ml", OutputKind::Fixed, "/100 mL", 2, "work-result.interval-high"_w},
    {"reading", OutputKind::Word, "", 0, "work-result.mpn-reading"_w},
    {"rarity", OutputKind::Fixed, "", 2, "work-result.rarity"_w},
};
const extern Calculation kMpn;

void answer_per(Answer& answer, const Mpn& mpn, const std::string& unit, double times) {
  answer.number("mpn-per-" + unit, mpn.number * times);
  if (mpn.low) answer.number("low-per-" + unit, *mpn.low * times);
  if (mpn.high) answer.number("high-per-" + unit, *mpn.high * times);
}

/// Both sides of the equation that the number solves, with the numbers put in.
void explain(Answer& answer, std::span<const TubeRow> rows, const Mpn& mpn, bool by_weight, double confidence) {
  std::string left, right;
  for (const TubeRow& row : rows) {
    if (row.grew > 0)
      left += (left.empty() ? "" : " + ") + figure(row.grew * row.amount) + "/(1 − e^(−" + figure(row.amount) + " m))";
    right += (right.empty() ? "" : " + ") + std::to_string(row.tubes) + "·" + figure(row.amount);
  }
  const std::string sign = mpn.kind == Mpn::Kind::NoneGrew ? "m < " : mpn.kind == Mpn::Kind::AllGrew ? "m > " : "m = ";
  answer.step(by_weight ? "mpn-per-g" : "mpn-per-ml mpn-per-100ml", "Σ p a / (1 − e^(−m a)) = Σ n a",
              (left.empty() ? "0" : left) + " = " + right + " → " + sign + figure(mpn.number));
  const auto end = [](const std::optional<double>& of) { return of ? figure(*of, 3) : std::string("—"); };
  answer.step(by_weight ? "low-per-g high-per-g" : "low-per-ml high-per-ml low-per-100ml high-per-100ml", "P(m)",
              figure(100 * confidence, 4) + " %: " + end(mpn.low) + " … " + end(mpn.high));
  answer.step("reading", "0 < Σ p < Σ n", sign + figure(mpn.number));
  answer.step("rarity", "L(m) / max L", figure(mpn.rarity, 3));
}

Result<std::vector<TubeRow>> tube_rows(const Inputs& in, bool& by_weight) {
  std::vector<TubeRow> rows;
  for (const Value* row : in.all("dilution")) {
    const Value& amount = *row->columns[0];
    const bool weight = amount.dimension() == Dimension::Mass;
    if (!rows.empty() && weight != by_weight) return refuse(Trouble::BadInput, "mpn.one-kind"_w, {}, "dilution");
    by_weight = weight;
    const auto whole = [&](std::size_t i) { return static_cast<int>(std::min(row->columns[i]->number, 1e6)); };
    rows.push_back({amount.number * (weight ? 1e3 : 1e6), whole(1), whole(2)});
  }
  return rows;
}

Result<Answer> run_mpn(const Inputs& in) {
  bool by_weight = false;
  TRY_ASSIGN(const std::vector<TubeRow>& rows, tube_rows(in, by_weight));
  const auto interval = in["interval"].text == "normal" ? MpnInterval::Normal : MpnInterval::Likelihood;
  const double confidence = in.get<Share>("confidence").ratio();
  TRY_ASSIGN(const Mpn& mpn, most_probable_number(rows, confidence, interval));
  Answer answer(kMpn);
  if (by_weight) {
    answer_per(answer, mpn, "g", 1);
  } else {
    answer_per(answer, mpn, "ml", 1);
    answer_per(answer, mpn, "100ml", 100);
  }
  answer.text("reading", mpn.kind == Mpn::Kind::Between    ? "most-probable"
                         : mpn.kind == Mpn::Kind::NoneGrew ? "fewer-than"
                                                           : "more-than");
  answer.number("rarity", mpn.rarity);
  explain(answer, rows, mpn, by_weight, confidence);
  answer.note("mpn.interval"_w, {figure(100 * confidence, 4) + " %"});
  if (mpn.kind == Mpn::Kind::AllGrew) answer.caution("mpn.dilute-further"_w);
  if (mpn.rarity < 0.01)
    answer.caution("mpn.rare"_w);
  else if (mpn.rarity < 0.05)
    answer.note("mpn.seldom"_w);
  answer.note("mpn.other-tables"_w);
  answer.caution("count.keep-closed"_w);
  return answer;
}

const Calculation kMpn{
    "mpn",
    "count",
    "work.mpn"_w,
    kMpnInputs,
    kMpnOutputs,
    "FDA Bacteriological Analytical Manual, appendix 2 (2010); Ridout 1994; Jarvis et al. 2010; Blodgett 2002",
    "--dilution \"0.1 g; 3; 3\" --dilution \"0.01 g; 3; 1\" --dilution \"0.001 g; 3; 0\"",
    run_mpn};

// gm

constexpr InputSpec kGmInputs[] = {
    plain_input("value", InputKind::Number, "work-input.sample-value"_w).repeated().optional(),
    plain_input("below", InputKind::Number, "work-input.sample-below"_w).repeated().optional(),
    plain_input("above", InputKind::Number, "work-input.sample-above"_w).repeated().optional(),
    word_input("benchmark", "none|e-coli-126-410|e-coli-100-320|enterococci-35-130|enterococci-30-110",
               "work-input.benchmark"_w)
        .or_standard("none"),
    plain_input("gm-limit", InputKind::Number, "work-input.gm-limit"_w).optional(),
    plain_input("stv-limit", InputKind::Number, "work-input.stv-limit"_w).optional(),
};
constexpr OutputSpec kGmOutputs[] = {
    {"gm", OutputKind::Fixed, "/100 mL", 3, "work-result.gm"_w},
    {"stv", OutputKind::Fixed, "/100 mL", 3, "work-result.stv"_w},
    {"log-sd", OutputKind::Number, "", 3, "work-result.log-sd"_w},
    {"samples", OutputKind::Whole, "", 0, "work-result.samples"_w},
    {"gm-state", OutputKind::Word, "", 0, "work-result.gm-state"_w},
    {"stv-state", OutputKind::Word, "", 0, "work-result.stv-state"_w},
    {"samples-over-stv", OutputKind::Whole, "", 0, "work-result.samples-over-stv"_w},
    {"excursions", OutputKind::Word, "", 0, "work-result.excursions"_w},
};
const extern Calculation kGm;

struct Benchmark {
  std::string_view word;
  double gm, stv;
};
// US EPA, recreational water quality criteria 2012, per 100 mL (from memory).
constexpr std::array<Benchmark, 4> kBenchmarks = {{{"e-coli-126-410", 126, 410},
                                                   {"e-coli-100-320", 100, 320},
                                                   {"enterococci-35-130", 35, 130},
                                                   {"enterococci-30-110", 30, 110}}};

struct Limits {
  std::optional<double> gm, stv;
};
/// Own limits, else those of the benchmark.
Result<Limits> limits_of(const Inputs& in) {
  Limits limits;
  for (const Benchmark& one : kBenchmarks)
    if (in["benchmark"].text == one.word) limits = {one.gm, one.stv};
  if (const Value* own = in.find("gm-limit")) limits.gm = own->number;
  if (const Value* own = in.find("stv-limit")) limits.stv = own->number;
  if ((limits.gm && !(*limits.gm > 0)) || (limits.stv && !(*limits.stv > 0)))
    return refuse(Trouble::BadInput, "gm.limit"_w, {}, limits.gm && !(*limits.gm > 0) ? "gm-limit" : "stv-limit");
  return limits;
}

const char* state(bool over) { return over ? "over" : "not-over"; }

Result<void> hold_against(const Limits& limits, const GmStv& found, std::span<const double> values, Answer& answer) {
  const auto compared = [](double value, double limit) {
    return figure(value) + (is_over(value, limit) ? " > " : " ≤ ") + figure(limit);
  };
  if (limits.gm) {
    answer.text("gm-state", state(is_over(found.gm, *limits.gm)));
    answer.step("gm-state", "GM > " + figure(*limits.gm), compared(found.gm, *limits.gm));
  }
  if (limits.stv) {
    if (found.stv) {
      answer.text("stv-state", state(is_over(*found.stv, *limits.stv)));
      answer.step("stv-state", "STV > " + figure(*limits.stv), compared(*found.stv, *limits.stv));
    }
    TRY_ASSIGN(const Excursions& over, excursions(values, *limits.stv));
    answer.number("samples-over-stv", over.over);
    answer.step("samples-over-stv excursions", "x > " + figure(*limits.stv) + ", n > 10 %",
                std::to_string(over.over) + " / " + std::to_string(found.samples));
    answer.text("excursions", over.more_than_tenth() ? "more-than-a-tenth" : "not-more-than-a-tenth");
  }
  if (limits.gm || limits.stv) answer.note("gm.not-a-permit"_w);
  return {};
}

Result<Answer> run_gm(const Inputs& in) {
  std::vector<double> values;
  for (const char* name : {"value", "below", "above"})
    for (const Value* one : in.all(name)) values.push_back(one->number);
  TRY_ASSIGN(const GmStv& found, gm_and_stv(values));
  TRY_ASSIGN(const Limits& limits, limits_of(in));
  Answer answer(kGm);
  answer.number("gm", found.gm);
  if (found.stv) answer.number("stv", *found.stv);
  if (found.log_sd) answer.number("log-sd", *found.log_sd);
  answer.number("samples", found.samples);
  const std::string n = "n = " + std::to_string(found.samples);
  answer.step("gm", "GM = 10^(Σ log10 x / n)", n + " → " + figure(found.gm));
  answer.step("samples", "n", std::to_string(found.samples));
  if (found.log_sd) answer.step("log-sd", "s = √(Σ (log10 x − mean)² / (n − 1))", n + " → " + figure(*found.log_sd));
  if (found.stv)
    answer.step("stv", "STV = GM · 10^(1.282 s)",
                figure(found.gm) + " × 10^(1.282 × " + figure(*found.log_sd) + ") = " + figure(*found.stv));
  TRY(hold_against(limits, found, values, answer));
  if (!in.all("below").empty()) answer.note("gm.below-as-limit"_w);
  if (!in.all("above").empty()) answer.caution("gm.at-least"_w);
  if (found.samples < 5) answer.note("gm.few"_w);
  return answer;
}

const Calculation kGm{"gm",
                      "count",
                      "work.gm"_w,
                      kGmInputs,
                      kGmOutputs,
                      "log10 statistics; 1.282 as in UK SI 2013/1675 sch. 5; pairs of numbers: US EPA recreational "
                      "water criteria 2012 (from memory)",
                      "--value 10 --value 20 --value 50 --value 100 --value 200 --benchmark e-coli-126-410",
                      run_gm};

const Calculation kAll[] = {kMpn, kGm};

}  // namespace

std::span<const Calculation> work_samples() { return kAll; }

}  // namespace steep
