#pragma once
/// One type per physical quantity; SI as a double inside, named ways in and out.
///
/// Adding works within one type only; products exist where the trade has a name for the result
/// (Length × Length = Area, VolumePerArea × Area = Volume). Not measured is std::optional, never 0.
/// Factors are exact by definition: inch 25.4 mm, pound 0.45359237 kg, US gallon 231 in³, imperial
/// gallon 4.54609 L. Source: NIST Handbook 44 App. C, NIST SP 811 App. B.

#include <compare>

#include "quantity/dimension.h"

namespace steep {

/// Common part: value, comparison, sums, scaling by a plain number.
template <class Q>
class Quantity {
 public:
  /// Zero in SI. Public, so that `Length{}` works too (the types are aggregates in C++20).
  constexpr Quantity() = default;
  static constexpr Q from_si(double value) {
    Q q;
    q.si_ = value;
    return q;
  }
  /// In the SI unit that dimension.h names.
  constexpr double si() const { return si_; }

  friend constexpr auto operator<=>(const Q& a, const Q& b) { return a.si_ <=> b.si_; }
  friend constexpr bool operator==(const Q& a, const Q& b) { return a.si_ == b.si_; }

 protected:
  double si_ = 0;
};

/// A quantity whose zero is nothing, so that sums, multiples and ratios make sense.
template <class Q>
class Magnitude : public Quantity<Q> {
 public:
  friend constexpr Q operator+(Q a, Q b) { return Q::from_si(a.si() + b.si()); }
  friend constexpr Q operator-(Q a, Q b) { return Q::from_si(a.si() - b.si()); }
  friend constexpr Q operator-(Q a) { return Q::from_si(-a.si()); }
  friend constexpr Q operator*(Q a, double factor) { return Q::from_si(a.si() * factor); }
  friend constexpr Q operator*(double factor, Q a) { return Q::from_si(a.si() * factor); }
  friend constexpr Q operator/(Q a, double divisor) { return Q::from_si(a.si() / divisor); }
  friend constexpr double operator/(Q a, Q b) { return a.si() / b.si(); }
  constexpr Q& operator+=(Q b) { return static_cast<Q&>(*this) = static_cast<Q&>(*this) + b; }
  constexpr Q& operator-=(Q b) { return static_cast<Q&>(*this) = static_cast<Q&>(*this) - b; }
};

/// Two named ways per unit: `from_NAME(double)` and `NAME()`. `factor` = SI per unit.
#define STEEP_UNIT(Type, name, factor)                                                  \
  static constexpr Type from_##name(double value) { return from_si(value * (factor)); } \
  constexpr double name() const { return si() / (factor); }

class Length : public Magnitude<Length> {
 public:
  static constexpr Dimension kDimension = Dimension::Length;
  STEEP_UNIT(Length, meters, 1.0)
  STEEP_UNIT(Length, centimeters, 0.01)
  STEEP_UNIT(Length, millimeters, 0.001)
  STEEP_UNIT(Length, kilometers, 1000.0)
  STEEP_UNIT(Length, feet, 0.3048)
  STEEP_UNIT(Length, inches, 0.0254)
  STEEP_UNIT(Length, yards, 0.9144)
  STEEP_UNIT(Length, miles, 1609.344)
};

class Area : public Magnitude<Area> {
 public:
  static constexpr Dimension kDimension = Dimension::Area;
  STEEP_UNIT(Area, square_meters, 1.0)
  STEEP_UNIT(Area, hectares, 10000.0)
  STEEP_UNIT(Area, square_feet, 0.09290304)
  STEEP_UNIT(Area, thousand_square_feet, 92.90304)
  STEEP_UNIT(Area, acres, 4046.8564224)
};

class Volume : public Magnitude<Volume> {
 public:
  static constexpr Dimension kDimension = Dimension::Volume;
  STEEP_UNIT(Volume, cubic_meters, 1.0)
  STEEP_UNIT(Volume, liters, 0.001)
  STEEP_UNIT(Volume, milliliters, 0.000001)
  STEEP_UNIT(Volume, gallons, 0.003785411784)           ///< US, 231 in³.
  STEEP_UNIT(Volume, quarts, 0.000946352946)            ///< US liquid.
  STEEP_UNIT(Volume, pints, 0.000473176473)             ///< US liquid.
  STEEP_UNIT(Volume, cups, 0.0002365882365)             ///< US customary, not the 240 mL of labels.
  STEEP_UNIT(Volume, fluid_ounces, 0.0000295735295625)  ///< US.
  STEEP_UNIT(Volume, tablespoons, 0.00001478676478125)  ///< US.
  STEEP_UNIT(Volume, teaspoons, 0.00000492892159375)    ///< US.
  STEEP_UNIT(Volume, imperial_gallons, 0.00454609)
  STEEP_UNIT(Volume, imperial_fluid_ounces, 0.0000284130625)
  STEEP_UNIT(Volume, cubic_feet, 0.028316846592)
  STEEP_UNIT(Volume, cubic_yards, 0.764554857984)
};

class Mass : public Magnitude<Mass> {
 public:
  static constexpr Dimension kDimension = Dimension::Mass;
  STEEP_UNIT(Mass, kilograms, 1.0)
  STEEP_UNIT(Mass, grams, 0.001)
  STEEP_UNIT(Mass, milligrams, 0.000001)
  STEEP_UNIT(Mass, pounds, 0.45359237)
  STEEP_UNIT(Mass, ounces, 0.028349523125)  ///< Avoirdupois; never fluid ounces.
};

/// A length of time. Points in time are Moment (base/moment.h).
class Duration : public Magnitude<Duration> {
 public:
  static constexpr Dimension kDimension = Dimension::Time;
  STEEP_UNIT(Duration, seconds, 1.0)
  STEEP_UNIT(Duration, minutes, 60.0)
  STEEP_UNIT(Duration, hours, 3600.0)
  STEEP_UNIT(Duration, days, 86400.0)  ///< 24 h each; civil days are Date (base/moment.h).
  STEEP_UNIT(Duration, milliseconds, 0.001)
};

class TemperatureDifference : public Magnitude<TemperatureDifference> {
 public:
  static constexpr Dimension kDimension = Dimension::TemperatureDifference;
  STEEP_UNIT(TemperatureDifference, celsius_degrees, 1.0)
  STEEP_UNIT(TemperatureDifference, fahrenheit_degrees, 5.0 / 9.0)
};

/// A point on the scale: it has no sums, only differences.
class Temperature : public Quantity<Temperature> {
 public:
  static constexpr Dimension kDimension = Dimension::Temperature;
  static constexpr Temperature from_celsius(double value) { return from_si(value + 273.15); }
  static constexpr Temperature from_fahrenheit(double value) { return from_si((value + 459.67) * 5.0 / 9.0); }
  constexpr double kelvin() const { return si(); }
  constexpr double celsius() const { return si() - 273.15; }
  constexpr double fahrenheit() const { return si() * 9.0 / 5.0 - 459.67; }
};
constexpr TemperatureDifference operator-(Temperature a, Temperature b) {
  return TemperatureDifference::from_si(a.si() - b.si());
}
constexpr Temperature operator+(Temperature a, TemperatureDifference b) {
  return Temperature::from_si(a.si() + b.si());
}
constexpr Temperature operator-(Temperature a, TemperatureDifference b) {
  return Temperature::from_si(a.si() - b.si());
}

class Pressure : public Magnitude<Pressure> {
 public:
  static constexpr Dimension kDimension = Dimension::Pressure;
  STEEP_UNIT(Pressure, pascals, 1.0)
  STEEP_UNIT(Pressure, kilopascals, 1000.0)
  STEEP_UNIT(Pressure, bar, 100000.0)
  STEEP_UNIT(Pressure, psi, 8896443230521.0 / 1290320000.0)
  STEEP_UNIT(Pressure, atmospheres, 101325.0)
  STEEP_UNIT(Pressure, millimeters_of_mercury, 133.322387415)  ///< Conventional.
  STEEP_UNIT(Pressure, inches_of_water, 249.08891)             ///< Conventional, 4 °C.
};

class Speed : public Magnitude<Speed> {
 public:
  static constexpr Dimension kDimension = Dimension::Speed;
  STEEP_UNIT(Speed, meters_per_second, 1.0)
  STEEP_UNIT(Speed, kilometers_per_hour, 1.0 / 3.6)
  STEEP_UNIT(Speed, miles_per_hour, 0.44704)
  STEEP_UNIT(Speed, feet_per_minute, 0.00508)
  STEEP_UNIT(Speed, knots, 1852.0 / 3600.0)
};

/// Of liquid or air; air at the state the caller says.
class Flow : public Magnitude<Flow> {
 public:
  static constexpr Dimension kDimension = Dimension::Flow;
  STEEP_UNIT(Flow, cubic_meters_per_second, 1.0)
  STEEP_UNIT(Flow, liters_per_minute, 0.001 / 60.0)
  STEEP_UNIT(Flow, milliliters_per_second, 0.000001)
  STEEP_UNIT(Flow, gallons_per_minute, 0.003785411784 / 60.0)  ///< US.
  STEEP_UNIT(Flow, cubic_feet_per_minute, 0.028316846592 / 60.0)
};

/// Area treated in a time: speed × swath.
class AreaPerTime : public Magnitude<AreaPerTime> {
 public:
  STEEP_UNIT(AreaPerTime, square_meters_per_second, 1.0)
  STEEP_UNIT(AreaPerTime, acres_per_hour, 4046.8564224 / 3600.0)
  STEEP_UNIT(AreaPerTime, hectares_per_hour, 10000.0 / 3600.0)
};

/// A spray rate. Of what (tea, spray) and per area of what (bed top, swath) is said by its name.
class VolumePerArea : public Magnitude<VolumePerArea> {
 public:
  static constexpr Dimension kDimension = Dimension::VolumePerArea;
  STEEP_UNIT(VolumePerArea, cubic_meters_per_square_meter, 1.0)
  STEEP_UNIT(VolumePerArea, liters_per_hectare, 1e-7)
  STEEP_UNIT(VolumePerArea, gallons_per_acre, 0.003785411784 / 4046.8564224)  ///< US.
  STEEP_UNIT(VolumePerArea, imperial_gallons_per_acre, 0.00454609 / 4046.8564224)
  STEEP_UNIT(VolumePerArea, gallons_per_thousand_square_feet, 0.003785411784 / 92.90304)
  STEEP_UNIT(VolumePerArea, fluid_ounces_per_thousand_square_feet, 0.0000295735295625 / 92.90304)
  STEEP_UNIT(VolumePerArea, liters_per_square_meter, 0.001)
};

class MassPerArea : public Magnitude<MassPerArea> {
 public:
  static constexpr Dimension kDimension = Dimension::MassPerArea;
  STEEP_UNIT(MassPerArea, kilograms_per_hectare, 1e-4)
  STEEP_UNIT(MassPerArea, pounds_per_acre, 0.45359237 / 4046.8564224)
  STEEP_UNIT(MassPerArea, ounces_per_acre, 0.028349523125 / 4046.8564224)
};

/// Concentration, dissolved oxygen, density.
class Concentration : public Magnitude<Concentration> {
 public:
  static constexpr Dimension kDimension = Dimension::MassPerVolume;
  STEEP_UNIT(Concentration, kilograms_per_cubic_meter, 1.0)
  STEEP_UNIT(Concentration, milligrams_per_liter, 0.001)
  STEEP_UNIT(Concentration, grams_per_liter, 1.0)
  STEEP_UNIT(Concentration, ounces_per_gallon, 0.028349523125 / 0.003785411784)
  STEEP_UNIT(Concentration, pounds_per_cubic_yard, 0.45359237 / 0.764554857984)
  STEEP_UNIT(Concentration, pounds_per_cubic_foot, 0.45359237 / 0.028316846592)
};
using Density = Concentration;

/// Liquid product per volume of spray or water. Volume / Volume gives a plain double instead.
class VolumePerVolume : public Magnitude<VolumePerVolume> {
 public:
  static constexpr Dimension kDimension = Dimension::VolumePerVolume;
  STEEP_UNIT(VolumePerVolume, ratio, 1.0)
  STEEP_UNIT(VolumePerVolume, milliliters_per_liter, 0.001)
  STEEP_UNIT(VolumePerVolume, fluid_ounces_per_gallon, 1.0 / 128.0)
};

/// Air per volume of brew.
class FlowPerVolume : public Magnitude<FlowPerVolume> {
 public:
  static constexpr Dimension kDimension = Dimension::FlowPerVolume;
  STEEP_UNIT(FlowPerVolume, per_second, 1.0)
  STEEP_UNIT(FlowPerVolume, liters_per_minute_per_liter, 1.0 / 60.0)
  STEEP_UNIT(FlowPerVolume, liters_per_minute_per_gallon, 1.0 / 60.0 / 3.785411784)
};

class Conductivity : public Magnitude<Conductivity> {
 public:
  static constexpr Dimension kDimension = Dimension::Conductivity;
  STEEP_UNIT(Conductivity, siemens_per_meter, 1.0)
  STEEP_UNIT(Conductivity, millisiemens_per_centimeter, 0.1)
  STEEP_UNIT(Conductivity, microsiemens_per_centimeter, 0.0001)
};

/// Per cent of something: moisture, humidity, saturation.
class Share : public Magnitude<Share> {
 public:
  static constexpr Dimension kDimension = Dimension::Share;
  STEEP_UNIT(Share, ratio, 1.0)
  STEEP_UNIT(Share, percent, 0.01)
};

#undef STEEP_UNIT

/// A × B = C in both orders, C / A = B, C / B = A.
#define STEEP_PRODUCT(A, B, C)                                            \
  constexpr C operator*(A a, B b) { return C::from_si(a.si() * b.si()); } \
  constexpr C operator*(B b, A a) { return C::from_si(a.si() * b.si()); } \
  constexpr B operator/(C c, A a) { return B::from_si(c.si() / a.si()); } \
  constexpr A operator/(C c, B b) { return A::from_si(c.si() / b.si()); }
STEEP_PRODUCT(VolumePerArea, Area, Volume)
STEEP_PRODUCT(MassPerArea, Area, Mass)
STEEP_PRODUCT(Concentration, Volume, Mass)
STEEP_PRODUCT(Flow, Duration, Volume)
STEEP_PRODUCT(Speed, Duration, Length)
STEEP_PRODUCT(Speed, Length, AreaPerTime)
STEEP_PRODUCT(AreaPerTime, Duration, Area)
STEEP_PRODUCT(AreaPerTime, VolumePerArea, Flow)
STEEP_PRODUCT(FlowPerVolume, Volume, Flow)
#undef STEEP_PRODUCT
constexpr Area operator*(Length a, Length b) { return Area::from_si(a.si() * b.si()); }
constexpr Volume operator*(Area a, Length depth) { return Volume::from_si(a.si() * depth.si()); }
constexpr Length operator/(Area a, Length b) { return Length::from_si(a.si() / b.si()); }

}  // namespace steep
