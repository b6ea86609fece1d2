#include <doctest/doctest.h>

#include <algorithm>

#include "base/zone.h"
#include "base/zone_table.h"

using namespace steep;

namespace {

Zone zone(std::string_view rule) {
  const auto made = Zone::from_rule("test", rule);
  CHECK_MESSAGE(made.has_value(), rule);
  return made ? *made : Zone();
}
LocalTime at(int year, int month, int day, int hour, int minute = 0) { return {{year, month, day}, hour, minute, 0}; }

}  // namespace

TEST_CASE("zone: UTC by default") {
  CHECK(Zone().offset_minutes({0}) == 0);
  CHECK(Zone().local({0}) == at(1970, 1, 1, 0));
  CHECK(Zone().instants(at(2026, 5, 14, 12)).size() == 1);
}

TEST_CASE("zone: what is not POSIX grammar is refused") {
  for (const std::string_view bad : {"",
                                     "EST",
                                     "E5",
                                     "EST5EDT",
                                     "EST5EDT,",
                                     "EST5EDT,M3.2.0",
                                     "EST5EDT,M3.2.0,",
                                     "EST5EDT,M13.2.0,M11.1.0",
                                     "EST5EDT,M3.6.0,M11.1.0",
                                     "EST5EDT,M3.2.7,M11.1.0",
                                     "EST5EDT,M3.2.0,M11.1.0 ",
                                     "EST25",
                                     "EST5:60",
                                     "<EST5",
                                     "<E>5",
                                     "EST5EDT,J0,J365",
                                     "EST5EDT,366,1",
                                     "EST5EDT,M3.2.0/168,M11.1.0",
                                     "EST5EDT,M3.2,M11.1.0",
                                     "EST5 EDT,M3.2.0,M11.1.0",
                                     "EST5EDT,M3.2.0,M11.1.0,M1.1.1",
                                     "ÉST5"}) {
    const auto made = Zone::from_rule("x", bad);
    CHECK_MESSAGE(!made.has_value(), bad);
    if (!made) CHECK(made.error().kind == Trouble::BadInput);
  }
}

TEST_CASE("zone: forms of the grammar") {
  CHECK(zone("<-03>3").offset_minutes({0}) == -180);
  CHECK(zone("<+0545>-5:45").offset_minutes({0}) == 345);
  CHECK(zone("IST-5:30").offset_minutes({0}) == 330);
  CHECK(zone("LMT5:36:13").offset_minutes({0}) == -337);  // Rounded down to whole minutes.
  // Days by number: J60 is 1 March in every year, 59 is 29 February or 1 March.
  const Zone by_julian = zone("AAA0BBB,J60/0,J300/0"), by_number = zone("AAA0BBB,59/0,299/0");
  CHECK(by_julian.start_of({2028, 3, 1}) == Moment{day_number({2028, 3, 1}) * kDay});
  CHECK(by_julian.local(Moment{day_number({2028, 2, 29}) * kDay}) == at(2028, 2, 29, 0));
  CHECK(by_number.local(Moment{day_number({2028, 2, 29}) * kDay}) == at(2028, 2, 29, 1));
  CHECK(by_number.local(Moment{day_number({2027, 3, 1}) * kDay}) == at(2027, 3, 1, 1));
  CHECK(by_number.local(Moment{day_number({2027, 2, 28}) * kDay}) == at(2027, 2, 28, 0));
}

TEST_CASE("zone: the gap of spring and the repeated hour of autumn") {
  const Zone newyork = zone("EST5EDT,M3.2.0,M11.1.0");
  CHECK(newyork.instants(at(2026, 3, 8, 2, 30)).empty());
  CHECK(newyork.instants(at(2026, 3, 8, 3)).size() == 1);
  const auto twice = newyork.instants(at(2026, 11, 1, 1, 30));
  CHECK(twice.size() == 2);
  if (twice.size() == 2) CHECK(twice[1] - twice[0] == kHour);
  CHECK(newyork.instants(at(2026, 11, 1, 2)).size() == 1);
}

TEST_CASE("zone: a day begins at its first instant, also where midnight is skipped or comes twice") {
  const Zone santiago = zone("<-04>4<-03>,M9.1.6/24,M4.1.6/24");
  CHECK(santiago.instants(at(2026, 9, 6, 0)).empty());
  CHECK(santiago.local(santiago.start_of({2026, 9, 6})) == at(2026, 9, 6, 1));
  CHECK(santiago.local(santiago.start_of({2026, 9, 6}) - 1).date == Date{2026, 9, 5});
  const Zone havana = zone("CST5CDT,M3.2.0/0,M11.1.0/1");
  CHECK(havana.local(havana.start_of({2026, 3, 8})) == at(2026, 3, 8, 1));
  CHECK(havana.instants(at(2026, 11, 1, 0)).size() == 2);
  CHECK(havana.start_of({2026, 11, 1}) == havana.instants(at(2026, 11, 1, 0)).front());
}

TEST_CASE("zone: summer time that turns the year, is negative, or never ends") {
  const Zone sydney = zone("AEST-10AEDT,M10.1.0,M4.1.0/3");
  CHECK(sydney.offset_minutes(*sydney.instants(at(2026, 1, 1, 12)).begin()) == 660);
  CHECK(sydney.offset_minutes(*sydney.instants(at(2026, 7, 1, 12)).begin()) == 600);
  const Zone dublin = zone("IST-1GMT0,M10.5.0,M3.5.0/1");
  CHECK(dublin.offset_minutes(Moment{day_number({2026, 7, 1}) * kDay}) == 60);
  CHECK(dublin.offset_minutes(Moment{day_number({2026, 12, 1}) * kDay}) == 0);
  const Zone always = zone("EST5EDT,0/0,J365/25");
  for (const Date date : {Date{2026, 1, 1}, Date{2026, 7, 1}, Date{2026, 12, 31}, Date{2027, 1, 1}}) {
    CHECK(always.offset_minutes(Moment{day_number(date) * kDay + 5 * kHour}) == -240);
  }
}

TEST_CASE("zone: every instant comes back from its clock, every half hour of a year") {
  for (const std::string_view rule : {"EST5EDT,M3.2.0,M11.1.0", "<+1030>-10:30<+11>-11,M10.1.0,M4.1.0",
                                      "CET-1CEST,M3.5.0,M10.5.0/3", "<-04>4<-03>,M9.1.6/24,M4.1.6/24"}) {
    const Zone here = zone(rule);
    bool all = true;
    for (std::int64_t half = 0; half < 2 * 366 * 24; ++half) {
      const Moment moment{day_number({2026, 1, 1}) * kDay + half * kHour / 2};
      const auto found = here.instants(here.local(moment));
      all = all && std::find(found.begin(), found.end(), moment) != found.end();
    }
    CHECK_MESSAGE(all, rule);
  }
}

TEST_CASE("zone: the table of names") {
  const auto table = zone_table();
  CHECK(table.size() > 300);
  CHECK(std::is_sorted(table.begin(), table.end(), [](const auto& a, const auto& b) { return a.name < b.name; }));
  const auto newyork = Zone::from_name("America/New_York");
  CHECK(newyork.has_value());
  if (newyork) CHECK(newyork->rule() == "EST5EDT,M3.2.0,M11.1.0");
  for (const ZoneRow& row : table) CHECK_MESSAGE(Zone::from_name(row.name).has_value(), row.name);
  for (const std::string_view bad : {"", "america/new_york", "Alder/Reach", "../etc/passwd", "zone.tab"}) {
    const auto made = Zone::from_name(bad);
    CHECK_FALSE(made.has_value());
    if (!made) CHECK(made.error().kind == Trouble::NotFound);
  }
}
