#include "trade/transfer_fit.h"

#include <algorithm>
#include <cmath>

#include "base/sorting.h"
#include "trade/least_squares.h"
#include "trade/transfer.h"

namespace steep {
namespace {

using Trace = std::vector<OxygenAt>;

Result<Trace> by_time(std::span<const OxygenAt> readings) {
  Trace trace(readings.begin(), readings.end());
  sort_list(trace, [](const OxygenAt& a, const OxygenAt& b) { return a.at < b.at; });
  for (std::size_t k = 0; k < trace.size(); ++k) {
    if (!(trace[k].oxygen.si() > 0) || !std::isfinite(trace[k].oxygen.si()))
      return refuse(Trouble::BadInput, "transfer.reading"_w, {}, "reading");
    if (k > 0 && !(trace[k].at > trace[k - 1].at))
      return refuse(Trouble::BadInput, "transfer.same-time"_w, {}, "reading");
  }
  return trace;
}

// The numbers sought, mg/L and h: C0, ln kLa, OUR and, unless it is given, C*. The logarithm keeps kLa above 0.
enum { First, LogKla, Uptake, Saturation };

constexpr Concentration mg_L(double value) { return Concentration::from_milligrams_per_liter(value); }

// Per hour. Beyond, nothing changes any more, so that kLa comes out as open.
constexpr double kLeastKla = 0.1, kMostKla = 500;

double kla_of(std::span<const double> p) { return std::clamp(std::exp(p[LogKla]), kLeastKla, kMostKla); }

Misfit misfit_of(const Trace& trace, std::optional<Concentration> given) {
  return [&trace, given](std::span<const double> p, std::span<double> residuals) {
    const double kla = kla_of(p);
    const Concentration saturation = given ? *given : mg_L(p[Saturation]);
    Concentration now = mg_L(p[First]);
    for (std::size_t k = 0; k < trace.size(); ++k) {
      if (k > 0)
        now = oxygen_after(now, trace[k].air_on ? kla : 0, saturation, mg_L(p[Uptake]), trace[k].at - trace[k - 1].at);
      residuals[k] = (now - trace[k].oxygen).milligrams_per_liter();
    }
    return true;
  };
}

/// Steepest fall without air, mg/L in an hour; 0 when it never falls so.
double steepest_fall(const Trace& trace) {
  double fall = 0;
  for (std::size_t k = 1; k < trace.size(); ++k)
    if (!trace[k].air_on)
      fall = std::max(fall, (trace[k - 1].oxygen - trace[k].oxygen).milligrams_per_liter() /
                                (trace[k].at - trace[k - 1].at).hours());
  return fall;
}

std::optional<LeastSquares> best_fit(const Trace& trace, std::optional<Concentration> given) {
  const Misfit misfit = misfit_of(trace, given);
  const double highest = std::max_element(trace.begin(), trace.end(), [](const OxygenAt& a, const OxygenAt& b) {
                           return a.oxygen < b.oxygen;
                         })->oxygen.milligrams_per_liter();
  const double saturation = given ? given->milligrams_per_liter() : highest * 1.2, fall = steepest_fall(trace);
  std::optional<LeastSquares> best;
  for (const double kla : {2.0, 10.0, 50.0}) {
    const double uptake =
        fall > 0 ? fall : kla * std::max(0.0, saturation - trace.back().oxygen.milligrams_per_liter());
    std::vector<double> start = {trace.front().oxygen.milligrams_per_liter(), std::log(kla), uptake};
    if (!given) start.push_back(saturation);
    auto found = least_squares(misfit, trace.size(), start);
    if (found && (!best || found->sum < best->sum)) best = std::move(*found);
  }
  return best;
}

}  // namespace

Result<TransferFit> fit_transfer(std::span<const OxygenAt> readings, std::optional<Concentration> saturation) {
  TRY_ASSIGN(const Trace& trace, by_time(readings));
  if (trace.size() < 5) return refuse(Trouble::BadInput, "transfer.few"_w, {}, "reading");
  const auto best = best_fit(trace, saturation);
  if (!best) return refuse(Trouble::OutOfRange, "transfer.no-curve"_w, {}, "reading");
  const auto& p = best->values;
  TransferFit fit;
  fit.deviation = mg_L(best->deviation);
  const double kla = kla_of(p);
  if (best->errors[LogKla] && *best->errors[LogKla] < 0.5) {
    fit.kla_per_h = kla;
    fit.kla_error = kla * *best->errors[LogKla];
  }
  const double at_most = kla * (saturation ? saturation->milligrams_per_liter() : p[Saturation]);
  if (best->errors[Uptake] &&
      *best->errors[Uptake] < std::max(0.5 * std::abs(p[Uptake]), fit.kla_per_h ? 0.05 * at_most : 0)) {
    fit.uptake_per_h = mg_L(p[Uptake]);
    fit.uptake_error = mg_L(*best->errors[Uptake]);
  }
  if (!saturation && best->errors[Saturation] && *best->errors[Saturation] < 0.5 * p[Saturation]) {
    fit.saturation = mg_L(p[Saturation]);
    fit.saturation_error = mg_L(*best->errors[Saturation]);
  }
  return fit;
}

Result<std::vector<UptakeAt>> uptake_of_trace(std::span<const OxygenAt> readings, double kla_per_h,
                                              Concentration saturation) {
  TRY_ASSIGN(const Trace& trace, by_time(readings));
  if (trace.size() < 2) return refuse(Trouble::BadInput, "transfer.few-in-trace"_w, {}, "oxygen");
  std::vector<UptakeAt> uptakes;
  for (std::size_t k = 1; k < trace.size(); ++k) {
    const Duration apart = trace[k].at - trace[k - 1].at;
    const Concentration mean = (trace[k].oxygen + trace[k - 1].oxygen) / 2,
                        rise = trace[k].oxygen - trace[k - 1].oxygen;
    const Concentration uptake = (saturation - mean) * kla_per_h - rise / apart.hours();
    if (!(uptake.si() > 0)) return refuse(Trouble::OutOfRange, "transfer.no-uptake"_w, {}, "oxygen");
    uptakes.push_back({trace[k - 1].at + apart / 2, uptake});
  }
  return uptakes;
}

}  // namespace steep
