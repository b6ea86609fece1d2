#include "trade/calibrate.h"
#include "trade/course.h"

#include <doctest/doctest.h>
#include <vector>

using namespace steep;

namespace {

doctest::Approx about(double value) { return doctest::Approx(value).epsilon(1e-12); }

TEST_CASE("course: fluid ounces caught on it are gallons per acre, milliliters on 10 m² liters per hectare") {
  const Length swath = Length::from_inches(30);
  const Length us = *course_length(swath, CourseKind::Acre128);
  CHECK(rate_from_course(Volume::from_fluid_ounces(45), us, swath)->gallons_per_acre() == about(45));
  const Length metric = *course_length(swath, CourseKind::TenSquareMeters);
  CHECK(rate_from_course(Volume::from_milliliters(420), metric, swath)->liters_per_hectare() == about(420));
}

TEST_CASE("course: a wider swath has a shorter course; refuses no width and absurd width") {
  double before = 1e9;
  for (double inches = 1; inches < 400; inches += 7) {
    const double feet = course_length(Length::from_inches(inches), CourseKind::Acre128)->feet();
    CHECK(feet < before);
    before = feet;
  }
  CHECK(course_length(Length::from_meters(0.01), CourseKind::Acre128).error().kind == Trouble::OutOfRange);
  CHECK(course_length(Length::from_meters(100.01), CourseKind::Acre128).error().kind == Trouble::OutOfRange);
  CHECK(course_length(Length::from_meters(100), CourseKind::Acre128));
}

TEST_CASE("course: time and speed are two sides of one walk") {
  const Length course = Length::from_feet(136);
  const Speed walk = Speed::from_miles_per_hour(2.5);
  CHECK(course_speed(course, *course_time(course, walk))->miles_per_hour() == about(2.5));
  CHECK(course_time(course, Speed::from_si(0)).error().kind == Trouble::OutOfRange);
  CHECK(course_speed(course, Duration::from_seconds(0)).error().kind == Trouble::OutOfRange);
}

TEST_CASE("calibrate: the catches say how far they scatter") {
  const std::vector catches{Volume::from_fluid_ounces(40), Volume::from_fluid_ounces(44),
                            Volume::from_fluid_ounces(42)};
  const auto summary = summarize_catches(catches);
  CHECK(summary->mean.fluid_ounces() == about(42));
  CHECK(*summary->spread == about(2.0 / 42));
  CHECK(!summarize_catches(std::vector{catches[0]})->spread);
  CHECK(summarize_catches({}).error().kind == Trouble::BadInput);
  CHECK(!summarize_catches(std::vector{Volume::from_liters(-1)}));
}

TEST_CASE("calibrate: nozzles add up, and say how far they differ") {
  const std::vector caught{Volume::from_fluid_ounces(22.6), Volume::from_fluid_ounces(22.4)};
  const auto nozzles = add_nozzles(caught);
  CHECK(nozzles->all.fluid_ounces() == about(45));
  CHECK(*nozzles->difference == about(0.2 / 22.5));
  CHECK(!add_nozzles(std::vector{caught[0]})->difference);
  CHECK(add_nozzles({}).error().kind == Trouble::BadInput);
  CHECK(!add_nozzles(std::vector{caught[0], Volume::from_liters(0)}));
  CHECK(*rate_change(VolumePerArea::from_gallons_per_acre(45), VolumePerArea::from_gallons_per_acre(50)) ==
        about(-0.1));
  CHECK(!rate_change(VolumePerArea::from_gallons_per_acre(45), VolumePerArea{}));
}

TEST_CASE("course: the pace is the mean of the walks") {
  const std::vector walks{Duration::from_seconds(53), Duration::from_seconds(52), Duration::from_seconds(54)};
  CHECK(mean_walk(walks)->seconds() == about(53));
  CHECK(!mean_walk({}));
  CHECK(mean_walk(std::vector{walks[0], Duration{}}).error().kind == Trouble::OutOfRange);
}

TEST_CASE("calibrate: refill over a measured bed, once and twice") {
  const Area bed = Length::from_feet(100) * Length::from_inches(30);
  CHECK(rate_from_refill(Volume::from_gallons(0.5), bed)->gallons_per_acre() == about(0.5 * 43560 / 250));
  CHECK(rate_from_refill(Volume::from_gallons(0.5), bed, 2)->gallons_per_acre() == about(0.25 * 43560 / 250));
  CHECK(!rate_from_refill(Volume::from_gallons(0.5), bed, 0));
}

TEST_CASE("calibrate: flow, speed and rate there and back") {
  const auto rate =
      rate_from_flow(Flow::from_gallons_per_minute(0.2), Speed::from_miles_per_hour(3), Length::from_inches(20));
  CHECK(rate->gallons_per_acre() == about(5940 * 0.2 / 60));
  CHECK(flow_for_rate(*rate, Speed::from_miles_per_hour(3), Length::from_inches(20))->gallons_per_minute() ==
        about(0.2));
  CHECK(speed_for_rate(*rate, Flow::from_gallons_per_minute(0.2), Length::from_inches(20))->miles_per_hour() ==
        about(3));
  CHECK(!rate_from_flow(Flow::from_si(0), Speed::from_miles_per_hour(3), Length::from_inches(20)));
}

TEST_CASE("calibrate: per area of swath and per area of bed top are two numbers for one walk") {
  const auto swath_rate = VolumePerArea::from_gallons_per_acre(30);
  const auto bed_rate = per_bed_top(swath_rate, Length::from_inches(40), Length::from_inches(30));
  CHECK(bed_rate->gallons_per_acre() == about(40));
  // 100 ft of bed get the same liquid either way.
  const Volume by_swath = swath_rate * (Length::from_feet(100) * Length::from_inches(40));
  const Volume by_top = *bed_rate * (Length::from_feet(100) * Length::from_inches(30));
  CHECK(by_swath.liters() == about(by_top.liters()));
  CHECK(!band_rate(swath_rate, Length::from_inches(41), Length::from_inches(40)));
}

}  // namespace
