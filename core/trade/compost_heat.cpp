#include "trade/compost_heat.h"

#include <algorithm>
#include <map>

namespace steep {
namespace {

constexpr Temperature k131F = Temperature::from_fahrenheit(131), k170F = Temperature::from_fahrenheit(170);
constexpr double kRounding_K = 1e-9;  ///< 55 °C and 131 °F are one temperature.

constexpr HeatRule kRules[] = {
    {"nop-static", "7 CFR 205.203(c)(2)(ii)", k131F, k170F, 3, false, 0, 25, 40},
    {"nop-windrow", "7 CFR 205.203(c)(2)(iii)", k131F, k170F, 15, false, 5, 25, 40},
    {"nop-5021", "NOP 5021", k131F, std::nullopt, 3, false, 0, std::nullopt, std::nullopt},
    {"psr-static", "21 CFR 112.54(b)(1)", k131F, std::nullopt, 3, true, 0, std::nullopt, std::nullopt},
    {"psr-turned", "21 CFR 112.54(b)(2)", k131F, std::nullopt, 15, false, 5, std::nullopt, std::nullopt},
};

}  // namespace

std::span<const HeatRule> published_heat_rules() { return kRules; }

HeatRecord heat_record(std::span<const HeatReading> readings, std::span<const Date> turnings, const HeatRule& rule,
                       std::optional<double> ratio) {
  std::map<std::int64_t, bool> in_band;
  for (const HeatReading& reading : readings) {
    const double t = reading.temperature.si();
    const bool in = t >= rule.floor.si() - kRounding_K && (!rule.ceiling || t <= rule.ceiling->si() + kRounding_K);
    const auto [day, is_new] = in_band.try_emplace(day_number(reading.day), in);
    if (!is_new) day->second = day->second && in;
  }
  HeatRecord record;
  int run = 0;
  std::int64_t before = 0;
  for (const auto& [day, counts] : in_band) {
    if (!counts) {
      run = 0;
      continue;
    }
    run = run > 0 && day == before + 1 ? run + 1 : 1;
    before = day;
    ++record.days;
    record.longest_run = std::max(record.longest_run, run);
    if (!record.first) record.first = date_from_day_number(day);
    record.last = date_from_day_number(day);
  }
  for (const Date turning : turnings)
    if (record.first && turning >= *record.first && turning <= *record.last) ++record.turnings;
  record.days_short = std::max(0, rule.days - (rule.consecutive ? record.longest_run : record.days));
  record.turnings_short = std::max(0, rule.turnings - record.turnings);
  if (rule.least_ratio || rule.most_ratio) {
    record.ratio_known = ratio.has_value();
    record.ratio_in_range = ratio && *ratio >= rule.least_ratio.value_or(0) && *ratio <= rule.most_ratio.value_or(1e9);
  }
  return record;
}

}  // namespace steep
