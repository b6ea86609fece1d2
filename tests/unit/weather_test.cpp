// Wet bulb, sun, spraying hours, nozzles, areas.
#include <doctest/doctest.h>
#include <vector>

#include "trade/geodesy.h"
#include "trade/nozzle.h"
#include "trade/spraytime.h"
#include "trade/sun.h"
#include "trade/wetbulb.h"

using namespace steep;

namespace {

Result<Temperature> wet(double celsius, double percent) {
  return wet_bulb(Temperature::from_celsius(celsius), Share::from_percent(percent));
}

TEST_CASE("wet bulb: says where it is rough: very dry, very hot, freezing") {
  const auto rough = [](double celsius, double percent) {
    return is_rough_wet_bulb(Temperature::from_celsius(celsius), Share::from_percent(percent), *wet(celsius, percent));
  };
  CHECK(!rough(20, 50));
  CHECK(!rough(40, 10));
  CHECK(rough(40.1, 30));
  CHECK(rough(30, 9.9));
  CHECK(rough(-5, 60));
}

TEST_CASE("wet bulb: rises with humidity, refuses just outside") {
  double before = -99;
  for (int percent = 10; percent <= 99; ++percent) {
    CHECK(wet(25, percent)->celsius() > before);
    before = wet(25, percent)->celsius();
  }
  CHECK(wet(25, 4.9).error().word == "wet-bulb.humidity"_w);
  CHECK(!wet(25, 99.1));
  CHECK(wet(50.1, 50).error().word == "wet-bulb.temperature"_w);
  CHECK(!wet(-20.1, 90));
  CHECK(wet(0, 5).error().word == "wet-bulb.cold-and-dry"_w);
  CHECK(wet_bulb(Temperature::from_fahrenheit(68), Share::from_percent(50))->celsius() ==
        doctest::Approx(wet(20, 50)->celsius()).epsilon(1e-9));
}

TEST_CASE("Delta T: bands, edges to the better one") {
  const auto band = [](double d) { return delta_t_band(TemperatureDifference::from_celsius_degrees(d)); };
  CHECK(band(1.99) == DeltaTBand::Low);
  CHECK(band(2) == DeltaTBand::Preferred);
  CHECK(band(8) == DeltaTBand::Preferred);
  CHECK(band(8.01) == DeltaTBand::Marginal);
  CHECK(band(10) == DeltaTBand::Marginal);
  CHECK(band(10.01) == DeltaTBand::High);
}

TEST_CASE("sun: stands at the horizon when it rises, highest at noon; refusals") {
  const Place farm{42.03, -93.63};
  const SunDay day = *sun_day(farm, {2026, 6, 3});
  CHECK(*sun_elevation(farm, *day.rise) == doctest::Approx(-0.833).epsilon(0.02));
  CHECK(*sun_elevation(farm, *day.set) == doctest::Approx(-0.833).epsilon(0.02));
  CHECK(*sun_elevation(farm, day.noon) == doctest::Approx(day.noon_elevation).epsilon(1e-4));
  CHECK(*sun_elevation(farm, day.noon) > *sun_elevation(farm, day.noon + kHour));
  CHECK(!sun_day({91, 0}, {2026, 6, 3}));
  CHECK(!sun_day({0, 181}, {2026, 6, 3}));
  CHECK(!sun_day(farm, {1899, 6, 3}));
  CHECK(sun_day({69.65, 18.96}, {2025, 6, 21})->kind == SunDay::Kind::PolarDay);
  CHECK(sun_day({69.65, 18.96}, {2025, 12, 21})->kind == SunDay::Kind::PolarNight);
}

Zone eastern() { return *Zone::from_rule("America/New_York", "EST5EDT,M3.2.0,M11.1.0"); }
Moment clock(int hour, int minute = 0) { return eastern().instants({{2026, 6, 3}, hour, minute, 0}).front(); }
const Place kFarm{40.8, -81.9};

TEST_CASE("spray time: limits that were set, minute by minute; what was not known is said") {
  SprayLimits limits;
  limits.most_wind = Speed::from_miles_per_hour(8);
  limits.hours = {{5 * 60, 9 * 60}};
  const std::vector<WeatherSample> weather{{clock(5), Speed::from_miles_per_hour(4), {}, {}},
                                           {clock(6), Speed::from_miles_per_hour(10), {}, {}}};
  const auto spans = spray_times(kFarm, {2026, 6, 3}, eastern(), limits, weather);
  REQUIRE(spans);
  CHECK(spans->front().from == eastern().start_of({2026, 6, 3}));
  CHECK(spans->back().to == eastern().start_of({2026, 6, 4}));
  std::int64_t within = 0;
  for (std::size_t i = 0; i < spans->size(); ++i) {
    if (i > 0) CHECK((*spans)[i].from == (*spans)[i - 1].to);
    if ((*spans)[i].within_all()) within += ((*spans)[i].to - (*spans)[i].from) / kMinute;
  }
  CHECK(within == 60);  // From 5 to 6; then too windy, after 7 the sample is too old.
  for (const SpraySpan& span : *spans) {
    if (span.from <= clock(6, 30) && clock(6, 30) < span.to) CHECK(span.is_outside(SprayCheck::MostWind));
    if (span.from <= clock(8) && clock(8) < span.to) CHECK(span.is_unknown(SprayCheck::MostWind));
    if (span.from <= clock(12) && clock(12) < span.to) CHECK(span.is_outside(SprayCheck::Hours));
  }
}

TEST_CASE("spray time: calm air near sunset is a sign of inversion; days of clock change have their own length") {
  const std::vector<WeatherSample> calm{{clock(20), Speed::from_kilometers_per_hour(2), {}, {}}};
  bool signs = false;
  const auto spans = spray_times(kFarm, {2026, 6, 3}, eastern(), {}, calm);
  for (const SpraySpan& span : *spans)
    if (span.from <= clock(20, 30) && clock(20, 30) < span.to) signs = span.inversion_signs;
  CHECK(signs);
  const auto spring = spray_times(kFarm, {2026, 3, 8}, eastern(), {}, {});
  CHECK(spring->back().to - spring->front().from == 23 * kHour);
  CHECK(!spray_times({99, 0}, {2026, 6, 3}, eastern(), {}, {}));
}

TEST_CASE("nozzle: there and back, worn and clogged at the limit, sizes") {
  const Flow flow = Flow::from_liters_per_minute(0.8);
  const Flow lower = *flow_at_pressure(flow, Pressure::from_bar(3), Pressure::from_bar(2));
  CHECK(pressure_for_flow(flow, Pressure::from_bar(3), lower)->bar() == doctest::Approx(2).epsilon(1e-12));
  CHECK(check_nozzle(Flow::from_liters_per_minute(0.88), flow)->state == NozzleState::Worn);
  CHECK(check_nozzle(Flow::from_liters_per_minute(0.879), flow)->state == NozzleState::AsNew);
  CHECK(check_nozzle(Flow::from_liters_per_minute(0.72), flow)->state == NozzleState::Clogged);
  CHECK(!check_nozzle(Flow{}, flow));
  CHECK(!flow_at_pressure(flow, Pressure::from_bar(3), Pressure{}));
  CHECK(find_iso_nozzle("2") == find_iso_nozzle("02"));
  CHECK(!find_iso_nozzle("07"));
  CHECK(nearest_iso_nozzle(lower, Pressure::from_bar(2))->size == "02");
  CHECK(!nearest_iso_nozzle(Flow::from_liters_per_minute(0.1), Pressure::from_bar(3)));
  double before = 0;
  for (const IsoNozzle& nozzle : iso_nozzles()) {
    CHECK(nozzle.nominal.si() > before);
    before = nozzle.nominal.si();
  }
}

TEST_CASE("area: says why it cannot answer; across the date line") {
  const std::vector<Place> square{{42, -93}, {42.001, -93}, {42.001, -92.999}, {42, -92.999}};
  CHECK(polygon_area(square));
  CHECK(polygon_area(std::vector{square[0], square[1]}).error().word == "area.few-vertices"_w);
  CHECK(polygon_area(std::vector{square[0], square[2], square[1], square[3]}).error().word == "area.crossing"_w);
  CHECK(polygon_area(std::vector<Place>{{42, -93}, {45, -93}, {45, -90}}).error().word == "area.too-large"_w);
  CHECK(polygon_area(std::vector<Place>{{91, 0}, {1, 0}, {1, 1}}).error().word == "area.place"_w);
  const std::vector<Place> line{{42, 179.9995}, {42.001, 179.9995}, {42.001, -179.9995}, {42, -179.9995}};
  CHECK(polygon_area(line)->square_meters() == doctest::Approx(polygon_area(square)->square_meters()).epsilon(1e-9));
  CHECK(distance_between({0, 0}, {0, 180}).error().word == "area.opposite"_w);
  CHECK(distance_between({42, 1}, {42, 1})->meters() == 0);
}

}  // namespace
