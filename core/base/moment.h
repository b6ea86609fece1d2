#pragma once
/// Instants, civil dates, and instants with the evidence of where they were written.

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace steep {

/// A point in time: milliseconds since 1970-01-01T00:00:00Z. Never local time.
struct Moment {
  std::int64_t ms = 0;
  auto operator<=>(const Moment&) const = default;
};
constexpr std::int64_t kSecond = 1000, kMinute = 60 * kSecond, kHour = 60 * kMinute, kDay = 24 * kHour;
constexpr Moment operator+(Moment m, std::int64_t ms) { return {m.ms + ms}; }
constexpr Moment operator-(Moment m, std::int64_t ms) { return {m.ms - ms}; }
constexpr std::int64_t operator-(Moment a, Moment b) { return a.ms - b.ms; }

/// A moment together with the UTC offset that the writing device had: evidence, not used for display.
struct Stamp {
  Moment at;
  int offset_minutes = 0;  ///< Local = UTC + offset; −720 … +840.
  bool operator==(const Stamp&) const = default;
};

/// RFC 3339 with offset and whole seconds: '2026-05-14T18:04:12-04:00'; UTC is '+00:00'.
std::string stamp_text(Stamp stamp);
/// Takes what stamp_text writes, also fractions of a second and 'Z'; nothing else.
std::optional<Stamp> parse_stamp(std::string_view text);

/// A civil (proleptic Gregorian) date without zone; always a day that exists.
struct Date {
  int year = 1970;
  int month = 1;  ///< 1–12
  int day = 1;    ///< 1–31
  auto operator<=>(const Date&) const = default;
};

/// Days since 1970-01-01, and back.
std::int64_t day_number(Date date);
Date date_from_day_number(std::int64_t days);
Date operator+(Date date, int days);
/// 1 = Monday … 7 = Sunday (ISO 8601).
int weekday(Date date);
bool is_date(int year, int month, int day);
/// 'YYYY-MM-DD', years 0001–9999.
std::string date_text(Date date);
std::optional<Date> parse_date(std::string_view text);

}  // namespace steep
