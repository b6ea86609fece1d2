// The calculations 'growth' and 'growth-temperature'.
#include <algorithm>
#include <cmath>

#include "trade/growth_fit.h"
#include "trade/growth_temperature.h"
#include "trade/transfer_fit.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

// growth

constexpr InputSpec kCountColumns[] = {
    quantity_input("at", Dimension::Time, "work-input.count-at"_w),
    plain_input("count", InputKind::Number, "work-input.growth-count"_w),
};
constexpr InputSpec kTraceColumns[] = {
    quantity_input("at", Dimension::Time, "work-input.oxygen-at"_w),
    quantity_input("oxygen", Dimension::MassPerVolume, "work-input.oxygen-reading"_w),
};
constexpr InputSpec kGrowthInputs[] = {
    row_input("count", kCountColumns, "work-input.counts"_w).repeated().optional(),
    word_input("curve", "exponential|logistic|gompertz|baranyi", "work-input.curve-of-growth"_w).optional(),
    plain_input("start", InputKind::Number, "work-input.start-count"_w).optional(),
    quantity_input("doubling-time", Dimension::Time, "work-input.doubling-time"_w).optional(),
    quantity_input("time", Dimension::Time, "work-input.growing-time"_w).optional(),
    row_input("oxygen", kTraceColumns, "work-input.oxygen-trace"_w).repeated().optional(),
    plain_input("kla-per-hour", InputKind::Number, "work-input.kla"_w).optional(),
    quantity_input("saturation", Dimension::MassPerVolume, "work-input.saturation"_w).optional(),
};
constexpr OutputSpec kGrowthOutputs[] = {
    {"count", OutputKind::Number, "", 0, "work-result.count-after"_w},
    {"doublings", OutputKind::Number, "", 2, "work-result.doublings"_w},
    {"doubling-time", OutputKind::Quantity, "h", 2, "work-result.doubling-time"_w},
    {"rate-per-hour", OutputKind::Number, "", 4, "work-result.growth-rate"_w},
    {"rate-error", OutputKind::Number, "", 4, "work-result.growth-rate-error"_w},
    {"lag", OutputKind::Quantity, "h", 1, "work-result.lag"_w},
    {"lag-error", OutputKind::Quantity, "h", 1, "work-result.lag-error"_w},
    {"start-count", OutputKind::Number, "", 0, "work-result.start-count"_w},
    {"end-count", OutputKind::Number, "", 0, "work-result.end-count"_w},
    {"scatter-log", OutputKind::Number, "", 2, "work-result.scatter-log"_w},
};
const extern Calculation kGrowth;

Result<Answer> run_doubling(const Inputs& in) {
  const auto doubling = in.maybe<Duration>("doubling-time"), time = in.maybe<Duration>("time");
  const Value* start = in.find("start");
  if (!start || !doubling || !time) return refuse(Trouble::BadInput, "growth.what"_w, {}, "count");
  TRY_ASSIGN(const double count, count_after(start->number, *doubling, *time));
  Answer answer(kGrowth);
  answer.number("count", count);
  answer.number("doublings", *time / *doubling);
  answer.number("rate-per-hour", std::log(2) / doubling->hours());
  answer.step("doublings", "t / td",
              figure(time->hours()) + " / " + figure(doubling->hours()) + " = " + figure(*time / *doubling));
  answer.step("rate-per-hour", "μ = ln 2 / td",
              "0.693147 / " + figure(doubling->hours()) + " h = " + figure(std::log(2) / doubling->hours()) + " /h");
  answer.step("count", "N = N0 · 2^(t / td)",
              figure(start->number) + " × 2^(" + figure(time->hours()) + " / " + figure(doubling->hours()) +
                  ") = " + figure(count));
  answer.note("growth.no-end-of-food"_w);
  return answer;
}

void explain_doubling(Answer& answer, double rate, Duration doubling) {
  answer.step("doubling-time", "td = ln 2 / μ", "0.693147 / " + figure(rate) + " = " + figure(doubling.hours()) + " h");
}

Result<Answer> run_two_counts(double first, double later, Duration between) {
  TRY_ASSIGN(const Doubling& found, doubling_between(first, later, between));
  Answer answer(kGrowth);
  answer.number("doublings", found.doublings);
  answer.number("rate-per-hour", found.rate_per_h);
  answer.step("doublings", "log2(N2 / N1)",
              "log2(" + figure(later) + " / " + figure(first) + ") = " + figure(found.doublings));
  answer.step("rate-per-hour", "μ = ln(N2 / N1) / t",
              "ln(" + figure(later) + " / " + figure(first) + ") / " + figure(between.hours()) +
                  " h = " + figure(found.rate_per_h));
  if (found.rate_per_h > 0) {
    answer.quantity("doubling-time", found.doubling_time);
    explain_doubling(answer, found.rate_per_h, found.doubling_time);
  } else {
    answer.note("growth.no-growth"_w);
  }
  answer.note("growth.two-counts"_w);
  return answer;
}

void add_rate(Answer& answer, double rate, std::optional<double> error) {
  answer.number("rate-per-hour", rate);
  if (error) answer.number("rate-error", *error);
  if (rate > 0) {
    answer.quantity("doubling-time", doubling_time(rate));
    explain_doubling(answer, rate, doubling_time(rate));
  } else {
    answer.note("growth.no-growth"_w);
  }
}

void explain_scatter(Answer& answer, std::size_t counts, int constants, double deviation) {
  answer.step("scatter-log", "s = √(Σ (log10 N − curve)² / (n − p))",
              "n = " + std::to_string(counts) + ", p = " + std::to_string(constants) + " → " + figure(deviation, 3));
}

Result<Answer> run_line(std::span<const CountAt> counts) {
  TRY_ASSIGN(const ExponentialFit& fit, fit_exponential(counts));
  Answer answer(kGrowth);
  add_rate(answer, fit.rate_per_h, fit.rate_error);
  answer.number("start-count", std::pow(10, fit.start));
  answer.number("scatter-log", fit.deviation);
  answer.step("rate-per-hour rate-error start-count", "log10 N = log10 N0 + μ t / ln 10",
              figure(fit.start) + " + " + figure(fit.rate_per_h) + " t / 2.302585");
  explain_scatter(answer, counts.size(), 2, fit.deviation);
  answer.note("growth.straight"_w);
  return answer;
}

const char* formula_of(GrowthCurve curve) {
  switch (curve) {
    case GrowthCurve::Logistic: return "y = A / (1 + exp(4μ/A · (λ − t) + 2))";
    case GrowthCurve::Gompertz: return "y = A · exp(−exp(μe/A · (λ − t) + 1))";
    case GrowthCurve::Baranyi: return "y = μF − ln(1 + (e^μF − 1) / e^A), F = t + ln(e^−μt + e^−μλ − e^(−μt − μλ)) / μ";
  }
  return "";
}

Result<Answer> run_curve(GrowthCurve curve, std::span<const CountAt> counts) {
  TRY_ASSIGN(const GrowthFit& fit, fit_growth(curve, counts));
  Answer answer(kGrowth);
  const Growth& g = fit.growth;
  add_rate(answer, g.rate_per_h, fit.rate_error);
  answer.quantity("lag", g.lag);
  if (fit.lag_error) answer.quantity("lag-error", *fit.lag_error);
  answer.number("start-count", std::pow(10, g.start));
  if (fit.end_is_known())
    answer.number("end-count", std::pow(10, g.end));
  else
    answer.caution("growth.end-open"_w);
  answer.number("scatter-log", fit.deviation);
  answer.step("rate-per-hour rate-error lag lag-error start-count end-count", formula_of(curve),
              "A = " + figure((g.end - g.start) * std::log(10)) + ", μ = " + figure(g.rate_per_h) +
                  " /h, λ = " + figure(g.lag.hours()) + " h");
  explain_scatter(answer, counts.size(), fit.lag_held ? 3 : 4, fit.deviation);
  if (fit.lag_held) answer.note("growth.lag-held"_w);
  answer.note("growth.curves-differ"_w);
  return answer;
}

Result<std::vector<CountAt>> counts_of(const Inputs& in) {
  std::vector<CountAt> counts;
  for (const Value* row : in.all("count")) {
    if (!(row->columns[1]->number > 0)) return refuse(Trouble::OutOfRange, "growth.count"_w, {}, "count");
    counts.push_back({row->columns[0]->as<Duration>(), std::log10(row->columns[1]->number)});
  }
  return counts;
}

/// Uptake stands for the count: it grows with it, as long as each uses the same.
Result<std::vector<CountAt>> counts_of_trace(const Inputs& in) {
  const Value* kla = in.find("kla-per-hour");
  const auto saturation = in.maybe<Concentration>("saturation");
  if (!kla || !saturation)
    return refuse(Trouble::BadInput, "growth.trace-needs"_w, {}, kla ? "saturation" : "kla-per-hour");
  std::vector<OxygenAt> trace;
  for (const Value* row : in.all("oxygen"))
    trace.push_back({row->columns[0]->as<Duration>(), row->columns[1]->as<Concentration>()});
  TRY_ASSIGN(const auto& uptakes, uptake_of_trace(trace, kla->number, *saturation));
  std::vector<CountAt> counts;
  for (const UptakeAt& one : uptakes) counts.push_back({one.at, std::log10(one.uptake_per_h.milligrams_per_liter())});
  return counts;
}

Result<Answer> run_counts(const Inputs& in, std::span<const CountAt> counts) {
  const Value* curve = in.find("curve");
  if (counts.size() < 2) return refuse(Trouble::BadInput, "growth.what"_w, {}, "count");
  if (counts.size() == 2 && !curve)
    return run_two_counts(std::pow(10, counts[0].log10), std::pow(10, counts[1].log10), counts[1].at - counts[0].at);
  const std::string word = curve ? curve->text : counts.size() < 5 ? "exponential" : "baranyi";
  if (word == "logistic") return run_curve(GrowthCurve::Logistic, counts);
  if (word == "gompertz") return run_curve(GrowthCurve::Gompertz, counts);
  if (word == "baranyi") return run_curve(GrowthCurve::Baranyi, counts);
  return run_line(counts);
}

/// One of three ways, not two: counts, an oxygen trace, or a doubling time to reckon with.
Result<Answer> run_one_way(const Inputs& in) {
  const bool counted = in.find("count"), traced = in.find("oxygen");
  const bool reckoned = in.find("start") || in.find("doubling-time") || in.find("time");
  if (counted + traced + reckoned != 1) return refuse(Trouble::BadInput, "growth.what"_w, {}, "count");
  if (reckoned) return run_doubling(in);
  if (counted) {
    TRY_ASSIGN(const auto& counts, counts_of(in));
    return run_counts(in, counts);
  }
  TRY_ASSIGN(const auto& counts, counts_of_trace(in));
  TRY_ASSIGN(Answer answer, run_counts(in, counts));
  answer.step("start-count end-count", "OUR = kLa (C* − C) − ΔC/Δt", std::to_string(counts.size()) + " × mg/L/h");
  answer.note("growth.by-uptake"_w);
  return answer;
}

Result<Answer> run_growth(const Inputs& in) {
  TRY_ASSIGN(Answer answer, run_one_way(in));
  answer.caution("growth.not-which"_w);
  return answer;
}

const Calculation kGrowth{
    "growth",
    "brew",
    "work.growth"_w,
    kGrowthInputs,
    kGrowthOutputs,
    "Zwietering et al. 1990, Appl. Environ. Microbiol. 56, 1875; Baranyi & Roberts 1994, Int. J. Food Microbiol. 23, "
    "277",
    "--count \"0 h; 100000\" --count \"4 h; 150000\" --count \"8 h; 1300000\" --count \"12 h; 14000000\" "
    "--count \"16 h; 61000000\" --count \"20 h; 70000000\" --count \"24 h; 72000000\"",
    run_growth};

// growth-temperature

constexpr InputSpec kRateColumns[] = {
    quantity_input("temperature", Dimension::Temperature, "work-input.growth-temperature"_w),
    plain_input("rate", InputKind::Number, "work-input.growth-rate"_w),
};
constexpr InputSpec kTemperatureInputs[] = {
    quantity_input("temperature", Dimension::Temperature, "work-input.growth-temperature"_w).optional(),
    word_input("model", "cardinal|square-root", "work-input.temperature-model"_w).or_standard("cardinal"),
    row_input("rate", kRateColumns, "work-input.growth-rates"_w).repeated().optional(),
    quantity_input("least", Dimension::Temperature, "work-input.least-temperature"_w).optional(),
    quantity_input("best", Dimension::Temperature, "work-input.best-temperature"_w).optional(),
    quantity_input("most", Dimension::Temperature, "work-input.most-temperature"_w).optional(),
    plain_input("best-rate", InputKind::Number, "work-input.best-rate"_w).optional(),
    plain_input("slope", InputKind::Number, "work-input.root-slope"_w).optional(),
};
constexpr OutputSpec kTemperatureOutputs[] = {
    {"rate-per-hour", OutputKind::Number, "", 4, "work-result.growth-rate"_w},
    {"doubling-time", OutputKind::Quantity, "h", 2, "work-result.doubling-time"_w},
    {"least", OutputKind::Quantity, "degC", 1, "work-result.least-temperature"_w},
    {"least-error", OutputKind::Quantity, "degC diff", 1, "work-result.least-error"_w},
    {"best", OutputKind::Quantity, "degC", 1, "work-result.best-temperature"_w},
    {"best-error", OutputKind::Quantity, "degC diff", 1, "work-result.best-error"_w},
    {"most", OutputKind::Quantity, "degC", 1, "work-result.most-temperature"_w},
    {"most-error", OutputKind::Quantity, "degC diff", 1, "work-result.most-error"_w},
    {"best-rate", OutputKind::Number, "", 4, "work-result.best-rate"_w},
    {"slope", OutputKind::Number, "", 5, "work-result.root-slope"_w},
};
const extern Calculation kGrowthTemperature;

std::vector<RateAt> rates_of(const Inputs& in) {
  std::vector<RateAt> rates;
  for (const Value* row : in.all("rate"))
    rates.push_back({row->columns[0]->as<Temperature>(), row->columns[1]->number});
  return rates;
}

/// The model is for between its readings; a temperature beyond them is marked.
void mark_outside(Answer& answer, std::span<const RateAt> rates, Temperature at) {
  if (rates.empty()) return;
  const auto [coolest, warmest] = std::minmax_element(
      rates.begin(), rates.end(), [](const RateAt& a, const RateAt& b) { return a.temperature < b.temperature; });
  if (at < coolest->temperature || at > warmest->temperature) answer.caution("growth.outside-rates"_w);
}

void add_rate_at(Answer& answer, double rate) {
  answer.number("rate-per-hour", rate);
  if (rate > 0) {
    answer.quantity("doubling-time", doubling_time(rate));
    explain_doubling(answer, rate, doubling_time(rate));
  } else {
    answer.note("growth.none-there"_w);
  }
}

Result<SquareRootLine> line_of(const Inputs& in, std::span<const RateAt> rates) {
  if (!rates.empty()) {
    TRY_ASSIGN(const SquareRootFit& fit, fit_square_root(rates));
    return fit.line;
  }
  const auto least = in.maybe<Temperature>("least");
  const Value* slope = in.find("slope");
  if (!least || !slope) return refuse(Trouble::BadInput, "growth.line-needs"_w, {}, "slope");
  return SquareRootLine{slope->number, *least};
}

Result<Answer> run_square_root(const Inputs& in) {
  const auto rates = rates_of(in);
  TRY_ASSIGN(const SquareRootLine& line, line_of(in, rates));
  Answer answer(kGrowthTemperature);
  if (const auto at = in.maybe<Temperature>("temperature")) {
    TRY_ASSIGN(const double rate, rate_by_line(line, *at));
    add_rate_at(answer, rate);
    mark_outside(answer, rates, *at);
    answer.step("rate-per-hour", "√μ = b (T − Tmin)",
                figure(line.b) + " × (" + figure(at->celsius(), 5) + " − " + figure(line.least.celsius(), 5) +
                    ") = " + figure(std::sqrt(rate)));
  } else if (rates.empty()) {
    return refuse(Trouble::BadInput, "growth.what-temperature"_w, {}, "temperature");
  }
  answer.quantity("least", line.least);
  answer.number("slope", line.b);
  answer.step("least slope", "√μ = b (T − Tmin)",
              "b = " + figure(line.b) + ", Tmin = " + figure(line.least.celsius(), 5) + " °C");
  answer.note("growth.line-below-best"_w);
  return answer;
}

void add_errors(Answer& answer, const CardinalFit& fit) {
  const auto add = [&answer](std::string_view name, const std::optional<TemperatureDifference>& error) {
    if (error) answer.quantity(name, *error);
    return error && error->celsius_degrees() < 5;
  };
  const bool known[] = {add("least-error", fit.least_error), add("best-error", fit.best_error),
                        add("most-error", fit.most_error)};
  if (std::find(std::begin(known), std::end(known), false) != std::end(known))
    answer.caution("growth.cardinals-open"_w);
}

Result<Answer> run_cardinals(const Inputs& in) {
  const auto rates = rates_of(in);
  Answer answer(kGrowthTemperature);
  CardinalTemperatures cardinals;
  std::optional<CardinalFit> fit;
  if (!rates.empty()) {
    TRY_ASSIGN(fit, fit_cardinals(rates));
    cardinals = fit->cardinals;
  } else {
    const auto least = in.maybe<Temperature>("least"), best = in.maybe<Temperature>("best"),
               most = in.maybe<Temperature>("most");
    const Value* best_rate = in.find("best-rate");
    if (!least || !best || !most || !best_rate) return refuse(Trouble::BadInput, "growth.cardinals-need"_w, {}, "best");
    cardinals = {best_rate->number, *least, *best, *most};
  }
  const std::string with =
      "Tmin = " + figure(cardinals.least.celsius(), 5) + ", To = " + figure(cardinals.best.celsius(), 5) +
      ", Tmax = " + figure(cardinals.most.celsius(), 5) + " °C, μopt = " + figure(cardinals.best_rate_per_h) + " /h";
  std::string numbers = with;
  if (const auto at = in.maybe<Temperature>("temperature")) {
    TRY_ASSIGN(const double rate, rate_by_cardinals(cardinals, *at));
    add_rate_at(answer, rate);
    mark_outside(answer, rates, *at);
    numbers = "T = " + figure(at->celsius(), 5) + ", " + with + " → " + figure(rate) + " /h";
  } else if (rates.empty()) {
    return refuse(Trouble::BadInput, "growth.what-temperature"_w, {}, "temperature");
  }
  answer.quantity("least", cardinals.least);
  answer.quantity("best", cardinals.best);
  answer.quantity("most", cardinals.most);
  answer.number("best-rate", cardinals.best_rate_per_h);
  if (fit) add_errors(answer, *fit);
  answer.step("rate-per-hour least least-error best best-error most most-error best-rate",
              "μ = μopt (T − Tmax)(T − Tmin)² / {(To − Tmin) [(To − Tmin)(T − To) − (To − Tmax)(To + Tmin − 2T)]}",
              numbers);
  answer.note("growth.one-organism"_w);
  return answer;
}

Result<Answer> run_temperature(const Inputs& in) {
  return in["model"].text == "square-root" ? run_square_root(in) : run_cardinals(in);
}

const Calculation kGrowthTemperature{
    "growth-temperature",
    "brew",
    "work.growth-temperature"_w,
    kTemperatureInputs,
    kTemperatureOutputs,
    "Rosso, Lobry & Flandrois 1993, J. Theor. Biol. 162, 447; Ratkowsky et al. 1982, J. Bacteriol. 149, 1",
    "--temperature \"20 C\" --least \"4.9 C\" --best \"41.3 C\" --most \"47.5 C\" --best-rate 2.3",
    run_temperature};

const Calculation kAll[] = {kGrowth, kGrowthTemperature};

}  // namespace

std::span<const Calculation> work_growth() { return kAll; }

}  // namespace steep
