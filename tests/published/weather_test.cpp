#include "trade/sun.h"
#include "trade/wetbulb.h"

#include <cstdlib>
#include <string>

#include "published/published.h"

using namespace steep;
using namespace steep::published;

namespace {

TEST_CASE("weather: wet bulb by Stull, and against the thermodynamic wet bulb") {
  struct Row {
    double celsius, percent, stull, thermodynamic;
  };
  for (const Row& row : {
           Row{0, 50, -3.4978, -2.9752}, {5, 80, 3.1282, 3.5876},    {10, 50, 5.1013, 5.5362},
           {10, 90, 8.9197, 9.1572},     {15, 40, 8.2533, 8.4808},   {15, 60, 10.5167, 10.8178},
           {20, 20, 9.0954, 9.2708},     {20, 50, 13.6993, 13.7834}, {20, 80, 17.5293, 17.6792},
           {25, 30, 14.5927, 14.4215},   {25, 50, 17.9981, 17.8894}, {25, 70, 20.9379, 20.9656},
           {28, 40, 18.8232, 18.5218},   {30, 15, 14.4343, 14.4968}, {30, 40, 20.4492, 20.0640},
           {30, 60, 23.9955, 23.8125},   {35, 20, 19.3024, 18.8704}, {35, 50, 26.5954, 26.1414},
           {40, 10, 18.5073, 18.5659},   {40, 30, 25.9194, 25.0934},
       }) {
    const auto wet = wet_bulb(Temperature::from_celsius(row.celsius), Share::from_percent(row.percent));
    REQUIRE(wet);
    const std::string name = std::to_string(row.celsius) + " °C, " + std::to_string(row.percent) + " %";
    PUBLISHED_NUMBER("weather", "Stull 2011, eq. 1, evaluated independently", name, wet->celsius(), row.stull, 0.0001);
    // The paper states -1 to +0.65 °C; against the thermodynamic wet bulb it is off by up to 0.83.
    PUBLISHED_NUMBER("weather", "ASHRAE 2017 ch. 1 by psychrolib 1.1.1 (npm), sea level", name, wet->celsius(),
                     row.thermodynamic, 1.0);
    PUBLISHED_NUMBER(
        "weather", "Stull 2011, eq. 1, evaluated independently", name + ", Delta T",
        delta_t(Temperature::from_celsius(row.celsius), Share::from_percent(row.percent))->celsius_degrees(),
        row.celsius - row.stull, 0.0001);
  }
  PUBLISHED("weather", "Stull 2011, the paper's example", "20 °C, 50 %",
            agrees(wet_bulb(Temperature::from_celsius(20), Share::from_percent(50))->celsius(), "13.7"));
}

double seconds_off(Moment ours, const char* theirs) {
  return std::abs(static_cast<double>(ours - parse_stamp(theirs)->at)) / 1000;
}

TEST_CASE("sun: rise, noon and set against an ephemeris") {
  struct Row {
    const char* place;
    double latitude, longitude;
    const char *date, *rise, *noon, *set;
    double noon_altitude;
  };
  for (const Row& row : {

           Row{"Corvallis OR", 44.5646, -123.262, "2024-06-20", "2024-06-20T12:28:02Z", "2024-06-20T20:14:50Z",
               "2024-06-21T04:01:38Z", 68.8730},
           {"Corvallis OR", 44.5646, -123.262, "2024-12-21", "2024-12-21T15:46:54Z", "2024-12-21T20:11:31Z",
            "2024-12-22T00:36:07Z", 21.9955},
           {"Ames IA", 42.0308, -93.6319, "2025-03-20", "2025-03-20T12:17:13Z", "2025-03-20T18:21:49Z",
            "2025-03-21T00:27:08Z", 48.1214},
           {"Ames IA", 42.0308, -93.6319, "2025-07-04", "2025-07-04T10:44:35Z", "2025-07-04T18:19:05Z",
            "2025-07-05T01:53:18Z", 70.7694},
           {"Wooster OH", 40.8051, -81.9351, "2025-10-15", "2025-10-15T11:39:23Z", "2025-10-15T17:13:25Z",
            "2025-10-15T22:46:50Z", 40.3989},
           {"London UK", 51.5074, -0.1278, "2024-06-21", "2024-06-21T03:43:14Z", "2024-06-21T12:02:26Z",
            "2024-06-21T20:21:36Z", 61.9285},
           {"London UK", 51.5074, -0.1278, "2025-12-21", "2025-12-21T08:03:51Z", "2025-12-21T11:58:42Z",
            "2025-12-21T15:53:33Z", 15.0522},
           {"Quito EC", -0.1807, -78.4678, "2025-09-22", "2025-09-22T11:03:12Z", "2025-09-22T17:06:26Z",
            "2025-09-22T23:09:40Z", 89.7995},
           {"Wagga Wagga AU", -35.1082, 147.3598, "2025-01-15", "2025-01-14T19:12:06Z", "2025-01-15T02:19:54Z",
            "2025-01-15T09:27:20Z", 75.9895},
           {"Wagga Wagga AU", -35.1082, 147.3598, "2025-06-21", "2025-06-20T21:18:39Z", "2025-06-21T02:12:20Z",
            "2025-06-21T07:06:00Z", 31.4514},
           {"Hamilton NZ", -37.787, 175.2793, "2025-11-01", "2025-10-31T17:12:17Z", "2025-11-01T00:02:29Z",
            "2025-11-01T06:53:18Z", 66.6520},
           {"Nairobi KE", -1.2921, 36.8219, "2026-04-10", "2026-04-10T03:31:27Z", "2026-04-10T09:34:01Z",
            "2026-04-10T15:36:34Z", 80.6898},
           {"Uppsala SE", 59.8586, 17.6389, "2025-05-01", "2025-05-01T02:47:47Z", "2025-05-01T10:46:30Z",
            "2025-05-01T18:46:57Z", 45.3644},
           {"Tromso NO", 69.6492, 18.9553, "2025-06-21", "", "2025-06-21T10:46:01Z", "", 43.7871},
           {"Tromso NO", 69.6492, 18.9553, "2025-12-21", "", "2025-12-21T10:42:20Z", "", -3.0896},
       }) {
    const auto day = sun_day({row.latitude, row.longitude}, *parse_date(row.date));
    REQUIRE(day);
    const std::string name = std::string(row.place) + " " + row.date;
    // Refraction near the horizon differs by model: 30 s below 50° of latitude, 60 s above, where the sun sinks slower.
    const double tolerance_s = std::abs(row.latitude) < 50 ? 30 : 60;
    const char* source = "astronomy-engine 2.1.19 (npm), upper limb, 34' refraction, sea level";
    PUBLISHED_NUMBER("sun", source, name + " noon", seconds_off(day->noon, row.noon), 0, 30);
    PUBLISHED_NUMBER("sun", source, name + " elevation at noon", day->noon_elevation, row.noon_altitude, 0.02);
    if (row.rise[0] == '\0') {
      PUBLISHED("sun", source, name + " has no sunrise", !day->rise && !day->set);
      continue;
    }
    PUBLISHED_NUMBER("sun", source, name + " rise", seconds_off(*day->rise, row.rise), 0, tolerance_s);
    PUBLISHED_NUMBER("sun", source, name + " set", seconds_off(*day->set, row.set), 0, tolerance_s);
  }
}

TEST_CASE("sun: 200 place-days from 58° south to 59° north") {
  constexpr const char* kGrid =
      "astronomy-engine 2.1.19 (npm), upper limb, 34' refraction, sea level; suncalc 2.0.2 (npm) agrees within 7 s";
  const auto rows = table("sun_grid");
  REQUIRE(rows.size() == 200);
  for (const auto& row : rows) {
    REQUIRE(row.size() == 6);
    const double latitude = std::strtod(row[0].c_str(), nullptr), longitude = std::strtod(row[1].c_str(), nullptr);
    const auto day = sun_day({latitude, longitude}, *parse_date(row[2]));
    REQUIRE(day);
    REQUIRE((day->rise && day->set));
    // As above: the sun sinks slower toward the poles.
    const double tolerance_s = std::abs(latitude) < 50 ? 30 : 60;
    const std::string name = row[0] + ", " + row[1] + " on " + row[2];
    PUBLISHED_NUMBER("sun", kGrid, name + " rise", seconds_off(*day->rise, row[3].c_str()), 0, tolerance_s);
    PUBLISHED_NUMBER("sun", kGrid, name + " noon", seconds_off(day->noon, row[4].c_str()), 0, 30);
    PUBLISHED_NUMBER("sun", kGrid, name + " set", seconds_off(*day->set, row[5].c_str()), 0, tolerance_s);
  }
}

}  // namespace
