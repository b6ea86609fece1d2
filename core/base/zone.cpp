#include "base/zone.h"

#include <algorithm>

#include "base/zone_table.h"

namespace steep {
namespace {

constexpr int kSecondsPerDay = 86400;

bool is_digit(std::string_view rest) { return !rest.empty() && rest[0] >= '0' && rest[0] <= '9'; }

bool take(std::string_view& rest, char c) {
  if (rest.empty() || rest[0] != c) return false;
  rest.remove_prefix(1);
  return true;
}

/// Up to three digits, at most `most`.
bool take_number(std::string_view& rest, int most, int& value) {
  if (!is_digit(rest)) return false;
  value = 0;
  for (int i = 0; i < 3 && is_digit(rest); ++i) {
    value = value * 10 + (rest[0] - '0');
    rest.remove_prefix(1);
  }
  return value <= most && !is_digit(rest);
}

/// 'EST' or '<-03>': at least three characters of its alphabet.
bool take_abbreviation(std::string_view& rest) {
  const bool quoted = take(rest, '<');
  std::size_t n = 0;
  const auto is_letter = [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); };
  while (n < rest.size() &&
         (is_letter(rest[n]) || (quoted && (is_digit(rest.substr(n)) || rest[n] == '+' || rest[n] == '-'))))
    ++n;
  if (n < 3) return false;
  rest.remove_prefix(n);
  return !quoted || take(rest, '>');
}

/// [+-]hh[:mm[:ss]] in seconds.
bool take_time(std::string_view& rest, int most_hours, int& seconds) {
  const bool negative = take(rest, '-');
  if (!negative) take(rest, '+');
  int hours = 0, minutes = 0, secs = 0;
  if (!take_number(rest, most_hours, hours)) return false;
  if (take(rest, ':')) {
    if (!take_number(rest, 59, minutes)) return false;
    if (take(rest, ':') && !take_number(rest, 59, secs)) return false;
  }
  seconds = (hours * 3600 + minutes * 60 + secs) * (negative ? -1 : 1);
  return true;
}

std::int64_t local_number(const LocalTime& time) {
  return day_number(time.date) * kSecondsPerDay + time.hour * 3600 + time.minute * 60 + time.second;
}

std::int64_t floor_seconds(Moment at) { return at.ms / kSecond - (at.ms % kSecond < 0 ? 1 : 0); }

LocalTime local_from_number(std::int64_t number) {
  std::int64_t days = number / kSecondsPerDay;
  if (number % kSecondsPerDay < 0) --days;
  const int of_day = static_cast<int>(number - days * kSecondsPerDay);
  return {date_from_day_number(days), of_day / 3600, of_day / 60 % 60, of_day % 60};
}

}  // namespace

std::string clock_text(const LocalTime& time) {
  const auto two = [](int number) { return (number < 10 ? "0" : "") + std::to_string(number); };
  return two(time.hour) + ":" + two(time.minute);
}

bool Zone::parse_change(std::string_view& rest, Change& change) {
  if (take(rest, 'M')) {
    if (!take_number(rest, 12, change.month) || change.month < 1 || !take(rest, '.') ||
        !take_number(rest, 5, change.week) || change.week < 1 || !take(rest, '.') ||
        !take_number(rest, 6, change.weekday)) {
      return false;
    }
  } else {
    change.skips_leap_day = take(rest, 'J');
    if (!take_number(rest, 365, change.day) || (change.skips_leap_day && change.day < 1)) return false;
  }
  return !take(rest, '/') || take_time(rest, 167, change.seconds);
}

Result<Zone> Zone::from_rule(std::string_view name, std::string_view rule) {
  const auto malformed = [&] { return refuse(Trouble::BadInput, "zone.rule"_w, {rule}); };
  Zone zone;
  zone.name_ = name;
  zone.rule_ = rule;
  std::string_view rest = rule;
  int west = 0;
  if (!take_abbreviation(rest) || !take_time(rest, 24, west)) return malformed();
  zone.standard_ = zone.summer_ = -west;
  if (rest.empty()) return zone;
  // With a summer name both changes must be given: what is meant without them differs by system.
  zone.has_summer_ = true;
  if (!take_abbreviation(rest)) return malformed();
  zone.summer_ = zone.standard_ + 3600;
  if (!rest.empty() && rest[0] != ',') {
    if (!take_time(rest, 24, west)) return malformed();
    zone.summer_ = -west;
  }
  if (!take(rest, ',') || !parse_change(rest, zone.begins_) || !take(rest, ',') || !parse_change(rest, zone.ends_) ||
      !rest.empty()) {
    return malformed();
  }
  return zone;
}

Result<Zone> Zone::from_name(std::string_view name) {
  const auto rows = zone_table();
  const auto row =
      std::lower_bound(rows.begin(), rows.end(), name, [](const ZoneRow& r, std::string_view n) { return r.name < n; });
  if (row == rows.end() || row->name != name) return refuse(Trouble::NotFound, "zone.name"_w, {name});
  return from_rule(row->name, row->rule);
}

Moment Zone::change_moment(int year, const Change& change, int offset_before) {
  std::int64_t day = 0;
  if (change.month > 0) {
    // Week 1 is the first such weekday of the month; week 5 the last one.
    const Date first{year, change.month, 1};
    const int ahead = (change.weekday - weekday(first) % 7 + 7) % 7;
    day = day_number(first) + ahead + (change.week - 1) * 7;
    if (change.week == 5 && !is_date(year, change.month, 1 + ahead + 28)) day -= 7;
  } else if (change.skips_leap_day) {
    const bool after_february = change.day >= 60;
    day = day_number({year, 1, 1}) + change.day - 1 + (after_february && is_date(year, 2, 29) ? 1 : 0);
  } else {
    day = day_number({year, 1, 1}) + change.day;
  }
  return {(day * kSecondsPerDay + change.seconds - offset_before) * kSecond};
}

const std::array<Zone::Switch, 6>& Zone::switches_near(int year) const {
  if (near_year_ == year) return near_;
  near_year_ = year;
  std::array<Switch, 6>& switches = near_;
  for (std::size_t i = 0; i < 3; ++i) {
    const int y = year - 1 + static_cast<int>(i);
    switches[2 * i] = {change_moment(y, begins_, standard_), true};
    switches[2 * i + 1] = {change_moment(y, ends_, summer_), false};
  }
  // Summer ending and beginning in one instant is summer all year (RFC 8536, 3.3.1): it goes on.
  std::sort(switches.begin(), switches.end(),
            [](const Switch& a, const Switch& b) { return a.at != b.at ? a.at < b.at : a.summer < b.summer; });
  return switches;
}

int Zone::offset_seconds(Moment at) const {
  if (!has_summer_) return standard_;
  const int year = local_from_number(floor_seconds(at) + standard_).date.year;
  const std::array<Switch, 6>& switches = switches_near(year);
  bool summer = !switches.front().summer;
  for (const Switch& s : switches) {
    if (s.at > at) break;
    summer = s.summer;
  }
  return summer ? summer_ : standard_;
}

int Zone::offset_minutes(Moment at) const {
  const int seconds = offset_seconds(at);
  return seconds / 60 - (seconds % 60 < 0 ? 1 : 0);
}

LocalTime Zone::local(Moment at) const { return local_from_number(floor_seconds(at) + offset_seconds(at)); }

std::vector<Moment> Zone::instants(LocalTime time) const {
  std::vector<Moment> found;
  const std::int64_t number = local_number(time);
  // The larger offset gives the earlier instant.
  const int first = std::max(standard_, summer_), second = std::min(standard_, summer_);
  for (const int offset : {first, second}) {
    const Moment at{(number - offset) * kSecond};
    if (offset_seconds(at) == offset && (found.empty() || found.back() != at)) found.push_back(at);
  }
  return found;
}

Moment Zone::start_of(Date date) const {
  const LocalTime midnight{date, 0, 0, 0};
  const std::vector<Moment> at = instants(midnight);
  if (!at.empty()) return at.front();
  // Midnight was skipped (clocks of some places change at 0:00): the day begins with the change.
  const std::array<Switch, 6> switches = switches_near(date.year);  // local() may ask for another year.
  for (const Switch& s : switches) {
    if (local(s.at - 1) < midnight && local(s.at) >= midnight) return s.at;
  }
  return {(local_number(midnight) - standard_) * kSecond};
}

}  // namespace steep
