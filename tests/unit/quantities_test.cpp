#include <doctest/doctest.h>

#include <type_traits>

#include "quantity/quantities.h"

using namespace steep;

template <class A, class B>
concept CanAdd = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept CanMultiply = requires(A a, B b) {
  a* b;
};

TEST_CASE("quantities: only sums that make sense compile") {
  CHECK(CanAdd<Volume, Volume>);
  CHECK_FALSE(CanAdd<Volume, Mass>);
  CHECK_FALSE(CanAdd<Volume, double>);
  CHECK_FALSE(CanAdd<Temperature, Temperature>);
  CHECK(CanAdd<Temperature, TemperatureDifference>);
  CHECK_FALSE(CanMultiply<Volume, Volume>);
  CHECK_FALSE(std::is_convertible_v<double, Volume>);
  CHECK_FALSE(std::is_convertible_v<Volume, double>);
}

TEST_CASE("quantities: products of the trade") {
  // 18 beds of 100 ft x 30 in, 20 gal tea per acre.
  const Area beds = 18 * (Length::from_feet(100) * Length::from_inches(30));
  CHECK(beds.square_feet() == doctest::Approx(4500));
  CHECK((beds * VolumePerArea::from_gallons_per_acre(20)).gallons() == doctest::Approx(4500.0 / 43560 * 20));
  CHECK((Volume::from_gallons(2) / beds).gallons_per_acre() == doctest::Approx(2 / (4500.0 / 43560)));
  CHECK((Volume::from_gallons(45) / VolumePerArea::from_gallons_per_acre(45)).acres() == doctest::Approx(1));
  CHECK((Flow::from_liters_per_minute(2) * Duration::from_minutes(3)).liters() == doctest::Approx(6));
  CHECK((Volume::from_liters(6) / Flow::from_liters_per_minute(2)).minutes() == doctest::Approx(3));
  CHECK((Length::from_feet(88) / Duration::from_minutes(1)).miles_per_hour() == doctest::Approx(1));
  CHECK((Concentration::from_grams_per_liter(2) * Volume::from_liters(3)).grams() == doctest::Approx(6));
  CHECK((Flow::from_gallons_per_minute(1) / (Speed::from_miles_per_hour(3) * Length::from_inches(20)))
            .gallons_per_acre() == doctest::Approx(5940.0 / (3 * 20)).epsilon(1e-9));
  CHECK((FlowPerVolume::from_liters_per_minute_per_gallon(1) * Volume::from_gallons(5)).liters_per_minute() ==
        doctest::Approx(5));
  CHECK((Area::from_acres(1) * Length::from_inches(1)).gallons() == doctest::Approx(27154.2857).epsilon(1e-8));
}

TEST_CASE("quantities: temperatures are points, differences are not") {
  CHECK(Temperature::from_fahrenheit(131).celsius() == doctest::Approx(55).epsilon(1e-12));
  CHECK((Temperature::from_fahrenheit(68) - Temperature::from_fahrenheit(50)).celsius_degrees() == doctest::Approx(10));
  CHECK((Temperature::from_celsius(20) + TemperatureDifference::from_fahrenheit_degrees(18)).celsius() ==
        doctest::Approx(30));
  CHECK(Temperature::from_celsius(20) < Temperature::from_fahrenheit(70));
}

TEST_CASE("quantities: sums, ratios, order, zero by default") {
  Volume sum;
  sum += Volume::from_gallons(3);
  sum -= Volume::from_gallons(1);
  CHECK(sum / Volume::from_gallons(1) == doctest::Approx(2));
  CHECK(-sum < Volume());
  CHECK((sum / 2).gallons() == doctest::Approx(1));
  CHECK(Volume() == Volume::from_liters(0));
}
