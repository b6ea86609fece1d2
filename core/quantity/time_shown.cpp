#include "quantity/time_shown.h"

#include <cmath>

namespace steep {
namespace {

std::string numbered(std::string_view stem, int n, const Words& words) {
  const std::string key = std::string(stem) + std::to_string(n);
  return words.stored(key, key);
}
std::string month_word(Date date, const Words& words) { return numbered("time.month.", date.month, words); }
std::string weekday_word(Date date, const Words& words) { return numbered("time.weekday.", weekday(date), words); }
std::string day_of_month(Date date, const Words& words) {
  return words("time.day-month"_w, {std::to_string(date.day), month_word(date, words)});
}
std::string day_of_year(Date date, const Words& words) {
  return words("time.day-month-year"_w, {std::to_string(date.day), month_word(date, words), std::to_string(date.year)});
}

std::string two_digits(int n) { return (n < 10 ? "0" : "") + std::to_string(n); }

enum class Part { Day, Hour, Minute, Second };
std::string part(Part which, std::int64_t n, const Words& words) {
  const std::string number = std::to_string(n);
  switch (which) {
    case Part::Day: return words("time.d"_w, {number});
    case Part::Hour: return words("time.h"_w, {number});
    case Part::Minute: return words("time.min"_w, {number});
    case Part::Second: return words("time.s"_w, {number});
  }
  return number;
}

std::string digits_of(LocalTime time, Clock clock) {
  const int hour = clock == Clock::Hours24 ? time.hour : time.hour % 12 == 0 ? 12 : time.hour % 12;
  return std::to_string(hour) + ":" + two_digits(time.minute);
}

}  // namespace

std::string show_clock(LocalTime time, Clock clock, const Words& words) {
  const std::string shown = digits_of(time, clock);
  if (clock == Clock::Hours24) return shown;
  return time.hour < 12 ? words("time.am"_w, {shown}) : words("time.pm"_w, {shown});
}

std::string show_clock_span(LocalTime from, LocalTime to, Clock clock, const Words& words) {
  const bool same_half = (from.hour < 12) == (to.hour < 12);
  const std::string first = same_half ? digits_of(from, clock) : show_clock(from, clock, words);
  return words("time.clock-span"_w, {first, show_clock(to, clock, words)});
}

std::string show_short_day(Date date, Date today, const Words& words) {
  return date.year == today.year ? day_of_month(date, words) : day_of_year(date, words);
}

std::string show_day(Date date, Date today, const Words& words) {
  return words("time.weekday-day"_w, {weekday_word(date, words), show_short_day(date, today, words)});
}

std::string show_full_day(Date date, const Words& words) {
  return words("time.weekday-day"_w, {weekday_word(date, words), day_of_year(date, words)});
}

std::string show_near_day(Date date, Date today, const Words& words) {
  const std::int64_t days = day_number(date) - day_number(today);
  if (days == 0) return words("time.today"_w);
  if (days == -1) return words("time.yesterday"_w);
  if (days == 1) return words("time.tomorrow"_w);
  if (days > -7 && days < 7) return weekday_word(date, words);
  return show_day(date, today, words);
}

std::string show_when(LocalTime time, Date today, Clock clock, const Words& words) {
  const std::string at = show_clock(time, clock, words);
  const std::int64_t days = day_number(time.date) - day_number(today);
  if (days == 0) return at;
  if (days > -7 && days < 7) return words("time.weekday-clock"_w, {weekday_word(time.date, words), at});
  return words("time.day-clock"_w, {show_day(time.date, today, words), at});
}

std::string show_full_when(LocalTime time, Clock clock, const Words& words) {
  return words("time.day-clock"_w, {show_full_day(time.date, words), show_clock(time, clock, words)});
}

std::string show_duration(Duration duration, const Words& words) {
  const double seconds = duration.seconds();
  if (!std::isfinite(seconds) || std::fabs(seconds) > 1e12) return "\xE2\x80\x93";
  const std::string sign = seconds <= -0.5 ? "-" : "";
  std::int64_t s = std::llround(std::fabs(seconds));
  if (s < 60) return sign + part(Part::Second, s, words);
  if (s < 600 && s % 60 != 0)
    return sign + words("time.two-parts"_w, {part(Part::Minute, s / 60, words), part(Part::Second, s % 60, words)});
  const std::int64_t minutes = (s + 30) / 60;
  if (minutes < 60) return sign + part(Part::Minute, minutes, words);
  if (minutes < 48 * 60) {
    const std::string hours = part(Part::Hour, minutes / 60, words);
    return sign +
           (minutes % 60 == 0 ? hours : words("time.two-parts"_w, {hours, part(Part::Minute, minutes % 60, words)}));
  }
  const std::int64_t hours = (s + 1800) / 3600;
  const std::string days = part(Part::Day, hours / 24, words);
  return sign + (hours % 24 == 0 ? days : words("time.two-parts"_w, {days, part(Part::Hour, hours % 24, words)}));
}

std::string show_days_from(Date then, Date today, const Words& words) {
  const std::int64_t days = day_number(then) - day_number(today);
  if (days == 0) return words("time.today"_w);
  return days > 0 ? words.count("time.in-days"_w, days) : words.count("time.days-ago"_w, -days);
}

}  // namespace steep
