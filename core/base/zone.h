#pragma once
/// Local time of a farm from its POSIX rule string ('EST5EDT,M3.2.0,M11.1.0').
///
/// The rule, not the operating system, decides what the clock showed on the farm: a record keeps
/// its day wherever it is read. The IANA name is kept beside it for people.
/// Source: IEEE Std 1003.1 (POSIX), 8.3 'TZ', with the extension of RFC 8536 (hours −167…167).

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/moment.h"
#include "base/result.h"

namespace steep {

/// A clock reading on a civil day, no zone.
struct LocalTime {
  Date date;
  int hour = 0;    ///< 0–23
  int minute = 0;  ///< 0–59
  int second = 0;  ///< 0–59
  auto operator<=>(const LocalTime&) const = default;
};
/// '06:05'; date and seconds left out.
std::string clock_text(const LocalTime& time);

class Zone {
 public:
  /// UTC.
  Zone() = default;
  /// Trouble::BadInput when the rule is not POSIX grammar.
  static Result<Zone> from_rule(std::string_view name, std::string_view rule);
  /// By IANA name from the table made at build time; Trouble::NotFound for an unknown name.
  static Result<Zone> from_name(std::string_view name);

  const std::string& name() const { return name_; }
  const std::string& rule() const { return rule_; }

  int offset_minutes(Moment at) const;
  LocalTime local(Moment at) const;
  Stamp stamp(Moment at) const { return {at, offset_minutes(at)}; }
  /// Every instant at which the clock showed `time`: none in the gap of spring, two in autumn's
  /// repeated hour (earlier first), else one.
  std::vector<Moment> instants(LocalTime time) const;
  /// First instant of the civil day.
  Moment start_of(Date date) const;

 private:
  struct Change {
    int month = 0, week = 0, weekday = 0;  ///< Mm.w.d; month 0 = Julian form in `day`.
    int day = 0;
    bool skips_leap_day = false;  ///< Jn (1–365, 29 February never counted) instead of n (0–365).
    int seconds = 2 * 3600;       ///< Local time of the change, may be negative or over a day.
  };
  /// Both changes of the year and its neighbors, in order; `summer` = from then on.
  struct Switch {
    Moment at;
    bool summer = false;
  };
  const std::array<Switch, 6>& switches_near(int year) const;
  int offset_seconds(Moment at) const;
  static bool parse_change(std::string_view& rest, Change& change);
  static Moment change_moment(int year, const Change& change, int offset_before);
  std::string name_ = "UTC", rule_ = "UTC0";
  int standard_ = 0;  ///< Seconds east of UTC.
  int summer_ = 0;
  bool has_summer_ = false;
  Change begins_, ends_;
  // The year last asked for: nearly all are of one. Kept in a const function; nothing of the core runs in two threads.
  mutable std::optional<int> near_year_;
  mutable std::array<Switch, 6> near_;
};

}  // namespace steep
