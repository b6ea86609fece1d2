#include <doctest/doctest.h>

#include "quantity/time_shown.h"

using namespace steep;

namespace {
const Words kEnglish(Language::English), kSpanish(Language::Spanish);
constexpr Date kToday{2026, 5, 14};
LocalTime at(Date date, int hour, int minute) { return {date, hour, minute, 0}; }
std::string duration(double seconds) { return show_duration(Duration::from_seconds(seconds), kEnglish); }
}  // namespace

TEST_CASE("time shown: clocks") {
  CHECK(show_clock(at(kToday, 18, 46), Clock::Hours12, kEnglish) == "6:46 pm");
  CHECK(show_clock(at(kToday, 18, 46), Clock::Hours24, kEnglish) == "18:46");
  CHECK(show_clock(at(kToday, 0, 5), Clock::Hours12, kEnglish) == "12:05 am");
  CHECK(show_clock(at(kToday, 12, 0), Clock::Hours12, kEnglish) == "12:00 pm");
  CHECK(show_clock(at(kToday, 0, 5), Clock::Hours24, kEnglish) == "0:05");
  CHECK(show_clock_span(at(kToday, 18, 40), at(kToday, 19, 20), Clock::Hours12, kEnglish) == "6:40–7:20 pm");
  CHECK(show_clock_span(at(kToday, 11, 40), at(kToday, 12, 10), Clock::Hours12, kEnglish) == "11:40 am–12:10 pm");
  CHECK(show_clock_span(at(kToday, 18, 40), at(kToday, 19, 20), Clock::Hours24, kEnglish) == "18:40–19:20");
}

TEST_CASE("time shown: days, never all digits") {
  CHECK(show_day(kToday, kToday, kEnglish) == "Thu 14 May");
  CHECK(show_day(kToday, kToday, kSpanish) == "jue 14 may");
  CHECK(show_day({2025, 12, 31}, kToday, kEnglish) == "Wed 31 Dec 2025");
  CHECK(show_full_day(kToday, kSpanish) == "jue 14 may 2026");
  CHECK(show_short_day({2027, 1, 2}, kToday, kEnglish) == "2 Jan 2027");
  CHECK(show_near_day(kToday, kToday, kEnglish) == "today");
  CHECK(show_near_day({2026, 5, 13}, kToday, kSpanish) == "ayer");
  CHECK(show_near_day({2026, 5, 15}, kToday, kEnglish) == "tomorrow");
  CHECK(show_near_day({2026, 5, 20}, kToday, kEnglish) == "Wed");
  CHECK(show_near_day({2026, 5, 21}, kToday, kEnglish) == "Thu 21 May");
}

TEST_CASE("time shown: day and clock") {
  CHECK(show_when(at(kToday, 18, 46), kToday, Clock::Hours12, kEnglish) == "6:46 pm");
  CHECK(show_when(at({2026, 5, 15}, 18, 46), kToday, Clock::Hours12, kEnglish) == "Fri 6:46 pm");
  CHECK(show_when(at({2026, 5, 25}, 18, 46), kToday, Clock::Hours24, kSpanish) == "lun 25 may, 18:46");
  CHECK(show_full_when(at(kToday, 6, 5), Clock::Hours24, kEnglish) == "Thu 14 May 2026, 6:05");
}

TEST_CASE("time shown: lengths of time, two parts at most") {
  CHECK(duration(0) == "0 s");
  CHECK(duration(45) == "45 s");
  CHECK(duration(59.6) == "1 min");
  CHECK(duration(80) == "1 min 20 s");
  CHECK(duration(20 * 60) == "20 min");
  CHECK(duration(3599) == "1 h");
  CHECK(duration(4800) == "1 h 20 min");
  CHECK(duration(23 * 3600) == "23 h");
  CHECK(duration(36 * 3600 + 1800) == "36 h 30 min");
  CHECK(duration(76 * 3600) == "3 d 4 h");
  CHECK(duration(48 * 3600) == "2 d");
  CHECK(duration(-4800) == "-1 h 20 min");
}

TEST_CASE("time shown: from now") {
  CHECK(show_days_from({2026, 5, 17}, kToday, kEnglish) == "in 3 days");
  CHECK(show_days_from({2026, 5, 13}, kToday, kSpanish) == "hace 1 día");
}
