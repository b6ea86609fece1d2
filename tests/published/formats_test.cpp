// Open standards: SHA-256, UUIDs, date-times, the calendar, time zone rules.
#include "published/published.h"

#include <array>

#include "base/id.h"
#include "base/moment.h"
#include "base/sha256.h"
#include "base/zone.h"

using namespace steep;
using published::table;

namespace {

constexpr std::string_view kFips = "FIPS 180-4, examples of NIST (from memory; recomputed with Python's hashlib)";
constexpr std::string_view kRfc3339 = "RFC 3339 (2002), 5.6-5.8";
constexpr std::string_view kUuid = "RFC 9562 (2024), 5.7 and A.6";
constexpr std::string_view kPosix = "IEEE Std 1003.1, 4.16 'Seconds Since the Epoch'";
constexpr std::string_view kIana = "IANA tz database 2025b, read by Python's zoneinfo";
constexpr std::string_view kUsLaw = "15 U.S.C. 260a: second Sunday of March to first Sunday of November, at 2:00";

std::string digest(std::string_view text) { return hex(sha256(text)); }

}  // namespace

TEST_CASE("formats: SHA-256") {
  PUBLISHED("formats", kFips, "empty",
            digest("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  PUBLISHED("formats", kFips, "abc",
            digest("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  PUBLISHED("formats", kFips, "56 bytes",
            digest("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
                "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  PUBLISHED("formats", kFips, "112 bytes",
            digest("abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmno"
                   "pqrstnopqrstu") == "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1");
  PUBLISHED("formats", kFips, "a million a",
            digest(std::string(1000000, 'a')) == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("formats: UUID version 7") {
  // The random bits of the example, in their places; time, version and variant are ours to set.
  constexpr std::array<std::uint8_t, 16> kRandom = {0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xfc, 0xc3,
                                                    0xd8, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f};
  const Moment at{1645557742000};
  const Id id = make_record_id(
      at, [&](std::span<std::uint8_t> bytes) { std::copy(kRandom.begin(), kRandom.end(), bytes.begin()); });
  PUBLISHED("formats", kUuid, "A.6 example", hex(id.bytes) == "017f22e279b07cc398c4dc0c0c07398f");
  PUBLISHED("formats", kUuid, "A.6 time", stamp_text({at, 0}) == "2022-02-22T19:22:22+00:00");
  PUBLISHED("formats", kUuid, "there and back", Id::parse(id.text()) == id);
}

TEST_CASE("formats: date-times") {
  const auto utc = [](std::string_view text) {
    const auto stamp = parse_stamp(text);
    return stamp ? stamp_text({stamp->at, 0}) : std::string("refused");
  };
  PUBLISHED("formats", kRfc3339, "20 minutes and 50.52 seconds after the 23rd hour",
            utc("1985-04-12T23:20:50.52Z") == "1985-04-12T23:20:50+00:00");
  PUBLISHED("formats", kRfc3339, "hundredths are kept", parse_stamp("1985-04-12T23:20:50.52Z")->at.ms % 1000 == 520);
  PUBLISHED("formats", kRfc3339, "Pacific time", utc("1996-12-19T16:39:57-08:00") == "1996-12-20T00:39:57+00:00");
  PUBLISHED("formats", kRfc3339, "leap second in UTC", utc("1990-12-31T23:59:60Z") == "1991-01-01T00:00:00+00:00");
  PUBLISHED("formats", kRfc3339, "leap second in Pacific time",
            utc("1990-12-31T15:59:60-08:00") == "1991-01-01T00:00:00+00:00");
  PUBLISHED("formats", kRfc3339, "offset of 20 minutes",
            utc("1937-01-01T12:00:27.87+00:20") == "1937-01-01T11:40:27+00:00");
  PUBLISHED("formats", kRfc3339, "offset comes back",
            stamp_text(*parse_stamp("1996-12-19T16:39:57-08:00")) == "1996-12-19T16:39:57-08:00");
  for (const std::string_view bad :
       {"1985-04-12T24:00:00Z", "1985-04-12T23:20:50", "1985-04-12 23:20:50Z", "1985-13-12T23:20:50Z",
        "1985-02-29T23:20:50Z", "1985-04-12T23:60:50Z", "1985-04-12T23:20:61Z", "1985-04-12T12:00:60Z",
        "1985-W15-5T23:20:50Z", "19850412T232050Z", "1985-04-12T23:20:50+0100", "1985-04-12T23:20Z"}) {
    PUBLISHED("formats", kRfc3339, std::string("not of the profile: ") + std::string(bad), utc(bad) == "refused");
  }
}

TEST_CASE("formats: the calendar against the formula of POSIX") {
  // tm_year counts from 1900, tm_yday from 0.
  for (int year = 1970; year <= 2099; ++year) {
    bool same = true;
    int yday = 0;
    for (Date date{year, 1, 1}; date.year == year; date = date + 1, ++yday) {
      const std::int64_t y = year - 1900;
      same = same && day_number(date) == yday + (y - 70) * 365 + (y - 69) / 4 - (y - 1) / 100 + (y + 299) / 400;
    }
    PUBLISHED("formats", kPosix, "every day of " + std::to_string(year), same);
  }
  PUBLISHED("formats", kPosix, "10^9 s", stamp_text({{1000000000000}, 0}) == "2001-09-09T01:46:40+00:00");
  PUBLISHED("formats", "ISO 8601: Monday is 1 (from memory)", "1 January 2000 was a Saturday",
            weekday({2000, 1, 1}) == 6);
  PUBLISHED("formats", "ISO 8601: Monday is 1 (from memory)",
            "4 October 1582 + 10 days of the reform: 15 October was a Friday", weekday({1582, 10, 15}) == 5);
}

TEST_CASE("formats: waiting days across a leap day") {
  constexpr std::string_view kCalendar = "counted by the lengths of the months; days of 7 CFR 205.203(c)(1)";
  PUBLISHED("formats", kCalendar, "1 Nov 2027 + 90", date_text(Date{2027, 11, 1} + 90) == "2028-01-30");
  PUBLISHED("formats", kCalendar, "1 Nov 2027 + 120", date_text(Date{2027, 11, 1} + 120) == "2028-02-29");
  PUBLISHED("formats", kCalendar, "1 Nov 2026 + 90", date_text(Date{2026, 11, 1} + 90) == "2027-01-30");
  PUBLISHED("formats", kCalendar, "1 Nov 2026 + 120", date_text(Date{2026, 11, 1} + 120) == "2027-03-01");
  PUBLISHED("formats", kCalendar, "25 Feb 2028 + 7", date_text(Date{2028, 2, 25} + 7) == "2028-03-03");
  PUBLISHED("formats", kCalendar, "25 Feb 2027 + 7", date_text(Date{2027, 2, 25} + 7) == "2027-03-04");
}

TEST_CASE("formats: offsets of zones around their changes") {
  for (const auto& row : table("zone_offsets")) {
    REQUIRE(row.size() == 4);
    const auto zone = Zone::from_rule(row[0], row[1]);
    REQUIRE_MESSAGE(zone, row[1]);
    const Moment at{std::stoll(row[2]) * 1000};
    PUBLISHED("formats", kIana, row[0] + " at " + row[2], zone->offset_minutes(at) == std::stoi(row[3]));
  }
}

TEST_CASE("formats: a brew across the clock change of spring") {
  const auto zone = Zone::from_rule("America/New_York", "EST5EDT,M3.2.0,M11.1.0");
  REQUIRE(zone);
  const auto one = [&](LocalTime time) {
    const auto found = zone->instants(time);
    REQUIRE(found.size() == 1);
    return found[0];
  };
  const Moment air_on = one({{2026, 3, 7}, 18, 0, 0});
  PUBLISHED("formats", kUsLaw, "24 h later the clock shows 19:00",
            zone->local(air_on + kDay) == LocalTime{{2026, 3, 8}, 19, 0, 0});
  PUBLISHED("formats", kUsLaw, "01:30 is at 7.5 h", one({{2026, 3, 8}, 1, 30, 0}) - air_on == 7 * kHour + 30 * kMinute);
  PUBLISHED("formats", kUsLaw, "03:30 is at 8.5 h", one({{2026, 3, 8}, 3, 30, 0}) - air_on == 8 * kHour + 30 * kMinute);
  PUBLISHED("formats", kUsLaw, "Sunday 18:00 is at 23 h", one({{2026, 3, 8}, 18, 0, 0}) - air_on == 23 * kHour);
  PUBLISHED("formats", kUsLaw, "02:30 did not exist", zone->instants({{2026, 3, 8}, 2, 30, 0}).empty());
  PUBLISHED("formats", kUsLaw, "01:30 on 1 November came twice", zone->instants({{2026, 11, 1}, 1, 30, 0}).size() == 2);
}
