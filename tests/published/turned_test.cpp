// Published figures asked the other way round, or through the calculations that put others together.
#include <string>
#include <string_view>
#include <vector>

#include "published/published.h"
#include "trade/calibrate.h"
#include "trade/compost_mix.h"
#include "trade/injector.h"
#include "trade/loads.h"
#include "trade/nozzle.h"
#include "trade/oxygen.h"
#include "trade/ratio.h"
#include "trade/slip.h"
#include "trade/sun.h"
#include "trade/window.h"

using namespace steep;
using namespace steep::published;

namespace {

TEST_CASE("turned: the speed that a flow needs, the bed's share of a swath") {
  struct Row {
    double gpa, mph, inches, gpm;
  };
  for (const Row& row : {Row{10, 3, 20, 0.101010},
                         {20, 3, 20, 0.202020},
                         {20, 2.5, 36, 0.303030},
                         {5, 4, 240, 0.808081},
                         {15, 5, 20, 0.252525},
                         {50, 2.5, 48, 1.010101}})
    PUBLISHED_NUMBER("sprayer", "GPM = GPA mph in / 5940, evaluated independently",
                     "mph for " + std::to_string(row.gpm) + " gal/min",
                     speed_for_rate(VolumePerArea::from_gallons_per_acre(row.gpa),
                                    Flow::from_gallons_per_minute(row.gpm), Length::from_inches(row.inches))
                         ->miles_per_hour(),
                     row.mph, 3e-5);
  // 20 gal/acre in bands of 14 in every 40 in are 7 over the field; put on the band alone, 7 are 20 again.
  PUBLISHED(
      "sprayer", "sprayer controller manual, appendix on band rates", "7 gal/acre of 40 in on 14 in",
      agrees(per_bed_top(VolumePerArea::from_gallons_per_acre(7), Length::from_inches(40), Length::from_inches(14))
                 ->gallons_per_acre(),
             "20"));
}

TEST_CASE("turned: the pressure that a flow needs, the size that a flow tells") {
  struct Row {
    double flow, at, wanted, expected;
  };
  for (const Row& row : {Row{0.2, 40, 20, 0.141421},
                         {0.2, 40, 60, 0.244949},
                         {0.4, 40, 30, 0.346410},
                         {0.8, 3, 2, 0.653197},
                         {0.8, 3, 4, 0.923760},
                         {1.2, 3, 1.5, 0.848528},
                         {0.6, 3, 2.758, 0.575291},
                         {1, 1, 4, 2.000000}})
    PUBLISHED_NUMBER("nozzle", "square-root law, evaluated independently",
                     "pressure for " + std::to_string(row.expected),
                     pressure_for_flow(Flow::from_liters_per_minute(row.flow), Pressure::from_bar(row.at),
                                       Flow::from_liters_per_minute(row.expected))
                         ->bar(),
                     row.wanted, 2e-5 * row.wanted);
  // The number of a size, taken as tenths, is its US gallons a minute at 40 psi.
  struct Size {
    std::string_view size;
    double gpm;
  };
  const Size sizes[] = {{"01", 0.1}, {"015", 0.15}, {"02", 0.2}, {"025", 0.25}, {"03", 0.3}, {"04", 0.4},
                        {"05", 0.5}, {"06", 0.6},   {"08", 0.8}, {"10", 1.0},   {"15", 1.5}, {"20", 2.0}};
  for (const Size& one : sizes) {
    const IsoNozzle* nearest = nearest_iso_nozzle(Flow::from_gallons_per_minute(one.gpm), Pressure::from_psi(40));
    PUBLISHED("nozzle", "University of Arizona 2012, US gal/min at 40 psi", std::string(one.size),
              nearest && nearest->size == one.size);
  }
  PUBLISHED("nozzle", "ISO 10625 sizes 01 to 20 (from memory)", "twelve sizes",
            iso_nozzles().size() == std::size(sizes));
}

TEST_CASE("turned: ratio of a bucket test, water for a moisture, water for a tea") {
  const Volume one = Volume::from_gallons(1), hundred = Volume::from_gallons(100);
  PUBLISHED_NUMBER("injector", "University of Massachusetts: 1 gal of concentrate gives 100 gal",
                   "1:100 on final volume", *measured_ratio(one, hundred, InjectorRatio::OnFinalVolume), 100, 1e-9);
  PUBLISHED_NUMBER("injector", "greenhouse supplier's newsletter: 1 part to R parts of water",
                   "the same bucket is 1:99", *measured_ratio(one, hundred, InjectorRatio::ToPartsOfWater), 99, 1e-9);
  // Water is a material of 100 %: (60 − 35) / (100 − 60) of the leaves' weight.
  const std::vector leaves{Feedstock{Mass::from_kilograms(10), Share::from_percent(35), std::nullopt, std::nullopt}};
  PUBLISHED_NUMBER("compost", "Cornell Composting, moisture of a mix, with water as the second material",
                   "10 kg at 35 % to 60 %",
                   water_to_reach_moisture(*compost_mix(leaves), Share::from_percent(60))->liters(), 6.25, 1e-9);
  struct Row {
    double dilution, tea_L, spray_L;
  };
  for (const Row& row : {Row{1, 4.73176, 4.73176},
                         {4, 4.73176, 18.92706},
                         {10, 4.73176, 47.31765},
                         {4, 37.85412, 151.41647},
                         {10, 75.70824, 757.08236}})
    PUBLISHED_NUMBER("mix", "common practice, no source; arithmetic evaluated independently",
                     "tea in " + std::to_string(row.spray_L) + " L of spray",
                     mix_for_spray(Volume::from_liters(row.spray_L), {1, row.dilution - 1})->tea.liters(), row.tea_L,
                     6e-6 + 1e-6 * row.tea_L);
  // '1:4' is read as one of tea to four of water; 'one part in R of the whole' is the other convention of the trade.
  PUBLISHED("mix", "greenhouse supplier's newsletter: 1 part to R parts of water", "1:4",
            read_ratio("1:4 tea to water")->front() == Parts{1, 4});
  PUBLISHED("mix", "University of Massachusetts: 1 part in R parts of final volume", "1 in 100",
            read_ratio("1 in 100")->front() == Parts{1, 99});
}

TEST_CASE("turned: tankfuls for a field") {
  LoadPlanInput field;
  field.beds = {{{Length{}, Length::from_feet(1000)}, Area::from_acres(30)}};
  field.spray_rate = Volume::from_liters(40) / Area::from_acres(1);
  field.tank = Volume::from_liters(1200);
  const LoadPlan one = *plan_loads(field);
  constexpr const char* kAlberta = "Alberta Agdex 606-1: 30 acres at 40 L/acre are 1200 L";
  PUBLISHED("loads", kAlberta, "one tank of 1200 L",
            one.loads.size() == 1 && within(one.total.spray().liters(), 1200, 1e-6));
  field.tank = Volume::from_liters(600);
  const LoadPlan two = *plan_loads(field);
  PUBLISHED("loads", kAlberta, "two of 600 L, the first ends half way",
            two.loads.size() == 2 && within(two.loads[0].ends_at.feet(), 500, 1e-6) &&
                within(two.loads[0].area.acres(), 15, 1e-9));
  PUBLISHED("loads", kAlberta, "15 acres are used up half way",
            within(place_after(Area::from_acres(15), field.beds, Walk::SameEnd).at.feet(), 500, 1e-6));
}

TEST_CASE("turned: vapor pressure inside the oxygen equation") {
  struct Row {
    double celsius, pascals;
  };
  // The older formula inside the oxygen equation stands 0.13 % under today's; oxygen feels nothing of it.
  for (const Row& row : {Row{5, 872.49},
                         {10, 1228.00},
                         {15, 1705.45},
                         {20, 2338.80},
                         {25, 3169.22},
                         {28, 3782.21},
                         {30, 4246.03},
                         {35, 5627.82},
                         {40, 7383.46}})
    PUBLISHED_NUMBER(
        "oxygen", "ASHRAE 2017 ch. 1 by psychrolib 1.1.1 (npm), saturated vapor", std::to_string(row.celsius) + " C",
        vapor_pressure(Temperature::from_celsius(row.celsius)).pascals(), row.pascals, 1.5e-3 * row.pascals);
}

TEST_CASE("turned: where the sun stands at published hours") {
  struct Row {
    const char* place;
    double latitude, longitude;
    const char *rise, *noon, *set;
    double noon_altitude;
  };
  constexpr const char* kEphemeris = "astronomy-engine 2.1.19 (npm), upper limb, 34' refraction, sea level";
  for (const Row& row : {
           Row{"Corvallis OR", 44.5646, -123.262, "2024-06-20T12:28:02Z", "2024-06-20T20:14:50Z",
               "2024-06-21T04:01:38Z", 68.8730},
           {"Ames IA", 42.0308, -93.6319, "2025-03-20T12:17:13Z", "2025-03-20T18:21:49Z", "2025-03-21T00:27:08Z",
            48.1214},
           {"London UK", 51.5074, -0.1278, "2025-12-21T08:03:51Z", "2025-12-21T11:58:42Z", "2025-12-21T15:53:33Z",
            15.0522},
           {"Quito EC", -0.1807, -78.4678, "2025-09-22T11:03:12Z", "2025-09-22T17:06:26Z", "2025-09-22T23:09:40Z",
            89.7995},
           {"Wagga Wagga AU", -35.1082, 147.3598, "2025-06-20T21:18:39Z", "2025-06-21T02:12:20Z",
            "2025-06-21T07:06:00Z", 31.4514},
           {"Nairobi KE", -1.2921, 36.8219, "2026-04-10T03:31:27Z", "2026-04-10T09:34:01Z", "2026-04-10T15:36:34Z",
            80.6898},
       }) {
    const auto elevation = [&](const char* at) {
      return *sun_elevation({row.latitude, row.longitude}, parse_stamp(at)->at);
    };
    // At rise and set the center stands 50' under the horizon: 34' of refraction and half the disk.
    PUBLISHED_NUMBER("sun", kEphemeris, std::string(row.place) + ", elevation at rise", elevation(row.rise), -50.0 / 60,
                     0.03);
    PUBLISHED_NUMBER("sun", kEphemeris, std::string(row.place) + ", elevation at set", elevation(row.set), -50.0 / 60,
                     0.03);
    PUBLISHED_NUMBER("sun", kEphemeris, std::string(row.place) + ", elevation at noon", elevation(row.noon),
                     row.noon_altitude, 0.02);
  }
}

TEST_CASE("turned: brewing time by Q10") {
  struct Row {
    double q10, at_C, hours, other_C, other_hours;
  };
  for (const Row& row : {Row{2, 20, 24, 10, 48.0000},
                         {2, 20, 24, 15, 33.9411},
                         {2, 20, 24, 25, 16.9706},
                         {2, 20, 24, 30, 12.0000},
                         {2.5, 20, 36, 12, 74.9298},
                         {3, 25, 24, 15, 72.0000},
                         {1.5, 18, 30, 24, 23.5216}}) {
    BrewPace pace;
    pace.q10 = row.q10;
    pace.recipe_temperature = Temperature::from_celsius(row.at_C);
    pace.recipe_time = Duration::from_hours(row.hours);
    const Moment start{0};
    const std::vector<TemperatureAt> temperatures{{start, Temperature::from_celsius(row.other_C)}};
    const BrewWindow window = *brew_window(start, start, temperatures, pace);
    // Half of the last digit, and the second to which the moment is sought.
    PUBLISHED_NUMBER("window", "Q10 rule, evaluated independently",
                     std::to_string(row.at_C) + " C to " + std::to_string(row.other_C) + " C",
                     static_cast<double>(window.expected - start) / kHour, row.other_hours, 0.00005 + 1.0 / 3600);
  }
}

TEST_CASE("turned: slips of unit are the factors of the units") {
  constexpr const char* kNist = "NIST SP 811 App. B (from memory)";
  struct Row {
    double given;
    SlipKind kind;
  };
  for (const Row& row : {Row{2.2046226, SlipKind::KilogramsForPounds},
                         {0.45359237, SlipKind::PoundsForKilograms},
                         {3.785411784, SlipKind::GallonsForLiters},
                         {0.264172052, SlipKind::LitersForGallons}}) {
    const auto slip = likely_slip(row.given, 1, 1);
    PUBLISHED("recipe", kNist, std::to_string(row.given),
              slip && slip->kind == row.kind && near(slip->factor, row.given, 1e-3));
  }
}

}  // namespace
