#include <doctest/doctest.h>

#include "base/moment.h"

using namespace steep;

TEST_CASE("moment: day numbers there and back over four centuries and at the ends") {
  for (std::int64_t day = day_number({1900, 1, 1}); day <= day_number({2300, 12, 31}); day += 13) {
    const Date date = date_from_day_number(day);
    CHECK(is_date(date.year, date.month, date.day));
    CHECK(day_number(date) == day);
  }
  CHECK(date_text(date_from_day_number(day_number({1, 1, 1}))) == "0001-01-01");
  CHECK(date_text(date_from_day_number(day_number({9999, 12, 31}))) == "9999-12-31");
  CHECK(day_number({1970, 1, 1}) == 0);
  CHECK(day_number({1969, 12, 31}) == -1);
}

TEST_CASE("moment: weekdays follow each other") {
  CHECK(weekday({2026, 5, 14}) == 4);
  CHECK(weekday({1969, 12, 28}) == 7);
  for (int i = 0; i < 800; ++i) CHECK(weekday(Date{1968, 1, 1} + i) == i % 7 + 1);
}

TEST_CASE("moment: only dates that exist") {
  CHECK(is_date(2028, 2, 29));
  CHECK_FALSE(is_date(2026, 2, 29));
  CHECK_FALSE(is_date(1900, 2, 29));
  CHECK(is_date(2000, 2, 29));
  for (const std::string_view bad : {"", "2026-5-14", "2026-05-32", "2026-00-10", "2026-13-01", "26-05-14",
                                     "2026/05/14", "2026-05-14 ", "0000-01-01", "2026-04-31", "+026-05-14"}) {
    CHECK_FALSE(parse_date(bad));
  }
  CHECK(parse_date("2026-05-14") == Date{2026, 5, 14});
}

TEST_CASE("moment: stamps there and back, before 1970 too") {
  for (const std::string_view text :
       {"2026-05-14T18:04:12-04:00", "1969-12-31T23:59:59+00:00", "2026-01-01T00:00:00+14:00",
        "2026-01-01T00:00:00-12:00", "2026-06-01T10:30:00+05:45"}) {
    const auto stamp = parse_stamp(text);
    CHECK(stamp.has_value());
    if (stamp) CHECK(stamp_text(*stamp) == text);
  }
  CHECK(parse_stamp("1969-12-31T23:59:59+00:00")->at.ms == -1000);
  CHECK(stamp_text({{-1}, 0}) == "1969-12-31T23:59:59+00:00");
  CHECK(parse_stamp("2026-01-01T00:00:00.123456789+00:00")->at.ms % 1000 == 123);
}

TEST_CASE("moment: other forms of stamps are refused") {
  for (const std::string_view bad :
       {"2026-05-14T18:04:12", "2026-05-14T18:04:12-00:00", "2026-05-14T18:04:12+14:01", "2026-05-14T18:04:12-12:01",
        "2026-05-14T18:04:12+01:60", "2026-05-14t18:04:12Z", "2026-05-14T18:04:12z", "2026-05-14T18:04:12.Z",
        "2026-05-14T18:04:12ZZ", "2026-05-14T25:04:12Z", "2026-05-14T18:04:12+1:00", ""}) {
    CHECK_FALSE(parse_stamp(bad));
  }
}
