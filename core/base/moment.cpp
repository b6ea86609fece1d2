#include "base/moment.h"

#include <array>

namespace steep {
namespace {

constexpr std::int64_t kDaysPerEra = 146097;  // 400 Gregorian years.

constexpr std::int64_t floor_div(std::int64_t a, std::int64_t b) {
  return a / b - ((a % b != 0 && (a < 0) != (b < 0)) ? 1 : 0);
}

bool is_leap(int year) { return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0); }

void append(std::string& out, int value, int width) {
  char digits[8];
  for (int i = width - 1; i >= 0; --i, value /= 10) digits[i] = static_cast<char>('0' + value % 10);
  out.append(digits, static_cast<std::size_t>(width));
}

/// Reads fixed fields from left to right; `ok` turns false at the first that does not fit.
struct Reader {
  std::string_view rest;
  bool ok = true;
  int digits(std::size_t width) {
    int value = 0;
    for (std::size_t i = 0; i < width; ++i) {
      if (!at_digit()) return fail();
      value = value * 10 + (rest[0] - '0');
      rest.remove_prefix(1);
    }
    return value;
  }
  bool at_digit() const { return ok && !rest.empty() && rest[0] >= '0' && rest[0] <= '9'; }
  bool take(char c) {
    if (!ok || rest.empty() || rest[0] != c) return false;
    rest.remove_prefix(1);
    return true;
  }
  void want(char c) {
    if (!take(c)) fail();
  }
  int fail() {
    ok = false;
    return 0;
  }
};

Date read_date(Reader& in) {
  const int year = in.digits(4);
  in.want('-');
  const int month = in.digits(2);
  in.want('-');
  const int day = in.digits(2);
  if (in.ok && !is_date(year, month, day)) in.fail();
  return {year, month, day};
}

}  // namespace

// Counts in years that begin on 1 March, so that the leap day is the last of its year; an era of
// 400 such years always has the same number of days.
std::int64_t day_number(Date date) {
  const std::int64_t year = date.year - (date.month <= 2 ? 1 : 0);
  const std::int64_t era = floor_div(year, 400);
  const std::int64_t year_of_era = year - era * 400;
  const std::int64_t month_from_march = (date.month + 9) % 12;
  const std::int64_t day_of_year = (153 * month_from_march + 2) / 5 + date.day - 1;
  const std::int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
  return era * kDaysPerEra + day_of_era - 719468;  // 719,468 days from 0000-03-01 to 1970-01-01.
}

Date date_from_day_number(std::int64_t days) {
  days += 719468;
  const std::int64_t era = floor_div(days, kDaysPerEra);
  const std::int64_t day_of_era = days - era * kDaysPerEra;
  const std::int64_t year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
  const std::int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  const std::int64_t month_from_march = (5 * day_of_year + 2) / 153;
  const int day = static_cast<int>(day_of_year - (153 * month_from_march + 2) / 5 + 1);
  const int month = static_cast<int>(month_from_march < 10 ? month_from_march + 3 : month_from_march - 9);
  return {static_cast<int>(year_of_era + era * 400) + (month <= 2 ? 1 : 0), month, day};
}

Date operator+(Date date, int days) { return date_from_day_number(day_number(date) + days); }

int weekday(Date date) {
  const std::int64_t since_monday = day_number(date) + 3;  // 1970-01-01 was a Thursday.
  return static_cast<int>(since_monday - floor_div(since_monday, 7) * 7) + 1;
}

bool is_date(int year, int month, int day) {
  constexpr std::array<int, 12> kDays = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1) return false;
  return day <= kDays[static_cast<std::size_t>(month - 1)] + (month == 2 && is_leap(year) ? 1 : 0);
}

std::string date_text(Date date) {
  std::string out;
  append(out, date.year, 4);
  out += '-';
  append(out, date.month, 2);
  out += '-';
  append(out, date.day, 2);
  return out;
}

std::optional<Date> parse_date(std::string_view text) {
  Reader in{text};
  const Date date = read_date(in);
  if (!in.ok || !in.rest.empty()) return std::nullopt;
  return date;
}

std::string stamp_text(Stamp stamp) {
  const std::int64_t seconds = floor_div(stamp.at.ms, kSecond) + std::int64_t{stamp.offset_minutes} * 60;
  const std::int64_t days = floor_div(seconds, 86400);
  const int of_day = static_cast<int>(seconds - days * 86400);
  std::string out = date_text(date_from_day_number(days));
  out += 'T';
  append(out, of_day / 3600, 2);
  out += ':';
  append(out, of_day / 60 % 60, 2);
  out += ':';
  append(out, of_day % 60, 2);
  const int offset = stamp.offset_minutes < 0 ? -stamp.offset_minutes : stamp.offset_minutes;
  out += stamp.offset_minutes < 0 ? '-' : '+';
  append(out, offset / 60, 2);
  out += ':';
  append(out, offset % 60, 2);
  return out;
}

std::optional<Stamp> parse_stamp(std::string_view text) {
  Reader in{text};
  const Date date = read_date(in);
  in.want('T');
  const int hour = in.digits(2);
  in.want(':');
  const int minute = in.digits(2);
  in.want(':');
  const int second = in.digits(2);
  int ms = 0;
  if (in.take('.')) {
    int scale = 100;
    do {
      ms += in.digits(1) * scale;
      scale /= 10;
    } while (in.at_digit());
  }
  int offset = 0;
  if (!in.take('Z')) {
    const bool west = in.take('-');
    if (!west) in.want('+');
    const int hours = in.digits(2);
    in.want(':');
    const int minutes = in.digits(2);
    if (minutes > 59 || (west && hours == 0 && minutes == 0)) in.fail();  // '-00:00' says 'unknown'.
    offset = (hours * 60 + minutes) * (west ? -1 : 1);
  }
  if (!in.ok || !in.rest.empty() || hour > 23 || minute > 59 || second > 60 || offset < -720 || offset > 840) {
    return std::nullopt;
  }
  const std::int64_t minute_start = day_number(date) * kDay + hour * kHour + minute * kMinute - offset * kMinute;
  // A leap second ends a UTC month (RFC 3339, 5.7). Our scale has none: it becomes the next second.
  if (second == 60) {
    const std::int64_t after = minute_start + kMinute;
    if (after - floor_div(after, kDay) * kDay != 0 || date_from_day_number(floor_div(after, kDay)).day != 1) {
      return std::nullopt;
    }
  }
  return Stamp{{minute_start + second * kSecond + ms}, offset};
}

}  // namespace steep
