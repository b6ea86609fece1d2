#pragma once
/// What does a pile's heat record show, under each of several rules? The rules are held against it one by one, and may
/// disagree. The answer counts; it certifies nothing.
///
/// Source:   [NOP-203] 7 CFR 205.203(c)(2) (read against eCFR of 2026-06-20): 25:1–40:1, 131–170 °F for 3 days in vessel or
///           static aerated pile, or 15 days windrow with at least 5 turnings in that time; [NOP-5021] (2011) 131 °F for 3 days;
///           [CFR-112.54] 21 CFR 112.54(b) (from memory): static 131 °F for 3 consecutive days and curing, turned 131 °F for 15
///           days, not necessarily consecutive, 5 turnings and curing.
/// Formula:  a day counts when its lowest reading is at or above the floor and its highest at or below the ceiling
/// Changes:  several readings of one day: all must be in the band, never their average.
/// Limits:   turnings count from the first day that counts to the last one; days without readings do not count, and break a run.
/// Accuracy: exact; 131 °F is 55 °C exactly, 130.9 is below it.

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/moment.h"
#include "quantity/quantities.h"

namespace steep {

struct HeatReading {
  Date day;
  Temperature temperature;
};

struct HeatRule {
  std::string_view key;      ///< Stored word: 'nop-windrow'.
  std::string_view section;  ///< '7 CFR 205.203(c)(2)(iii)'; empty for a farm's own rule.
  Temperature floor = Temperature::from_fahrenheit(131);
  std::optional<Temperature> ceiling;
  int days = 3;
  bool consecutive = false;
  int turnings = 0;
  std::optional<double> least_ratio, most_ratio;  ///< Of C:N at the start.
};

/// The published rules, in the order of the source line.
std::span<const HeatRule> published_heat_rules();

struct HeatRecord {
  int days = 0;                                    ///< That count.
  int longest_run = 0;                             ///< Of them on consecutive dates.
  std::optional<Date> first, last;                 ///< Days that count.
  int turnings = 0;                                ///< Between them, both included.
  int days_short = 0, turnings_short = 0;          ///< What the rule asks for more; 0 = shown.
  bool ratio_known = true, ratio_in_range = true;  ///< False only for rules that ask for C:N.
  /// Every number of the rule is shown by the record. Not a judgement of compost.
  bool shows_all() const { return days_short == 0 && turnings_short == 0 && ratio_known && ratio_in_range; }
};

/// Readings and turnings in any order; several a day. `ratio` = C:N of the mix at the start, if known.
HeatRecord heat_record(std::span<const HeatReading> readings, std::span<const Date> turnings, const HeatRule& rule,
                       std::optional<double> ratio = std::nullopt);

}  // namespace steep
