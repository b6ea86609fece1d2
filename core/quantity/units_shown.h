#pragma once
/// Quantities as people see them: unit always present, three significant digits, marks as set.

#include <string>
#include <string_view>

#include "base/words.h"
#include "quantity/decimal_mark.h"
#include "quantity/quantities.h"
#include "quantity/written.h"

namespace steep {

enum class System { Us, Metric };
enum class Clock { Hours12, Hours24 };

/// What the farm and the person chose; passed as a parameter to views and papers.
struct UnitsShown {
  System system = System::Us;
  DecimalMark mark = DecimalMark::Point;
  Clock clock = Clock::Hours12;
  Gallons gallons = Gallons::Us;  ///< Imperial: gallons and fluid ounces shown are imperial, and say so.
  bool operator==(const UnitsShown&) const = default;
};

/// Number and unit apart, for widgets that draw them in two sizes.
struct Shown {
  std::string number;  ///< '5.89'
  std::string unit;    ///< 'gal', '°F'; never empty but for bare numbers.
  std::string spoken;  ///< The unit in full for screen readers: 'gallons'.
  bool close = false;  ///< The unit follows without a space: '85%' in English.
  /// '5.89 gal'.
  std::string text() const;
  /// '5.89 gallons'.
  std::string speech() const;
};

/// In the unit that suits the size and the system.
Shown show_parts(Length, const UnitsShown&, const Words&);
Shown show_parts(Area, const UnitsShown&, const Words&);
Shown show_parts(Volume, const UnitsShown&, const Words&);
Shown show_parts(Mass, const UnitsShown&, const Words&);
Shown show_parts(Temperature, const UnitsShown&, const Words&);
Shown show_parts(TemperatureDifference, const UnitsShown&, const Words&);
Shown show_parts(Pressure, const UnitsShown&, const Words&);
Shown show_parts(Speed, const UnitsShown&, const Words&);
Shown show_parts(Flow, const UnitsShown&, const Words&);
Shown show_parts(VolumePerArea, const UnitsShown&, const Words&);
Shown show_parts(MassPerArea, const UnitsShown&, const Words&);
Shown show_parts(Concentration, const UnitsShown&, const Words&);
Shown show_parts(VolumePerVolume, const UnitsShown&, const Words&);
Shown show_parts(FlowPerVolume, const UnitsShown&, const Words&);
Shown show_parts(Conductivity, const UnitsShown&, const Words&);
Shown show_parts(Share, const UnitsShown&, const Words&);
template <class Q>
std::string show(Q quantity, const UnitsShown& units, const Words& words) {
  return show_parts(quantity, units, words).text();
}

/// In a unit that the caller fixes, so that a column or a gauge keeps one unit. `places` < 0 = three
/// significant digits.
Shown show_in(const Unit& unit, double si, const UnitsShown&, const Words&, int places = -1);
/// The unit that show_parts would take for this much: for gauges and steppers.
const Unit& suited_unit(Dimension dimension, double si, const UnitsShown&);
/// That of a flow of air, as pumps are rated: cfm from 1 cfm on where gallons are used, else L/min.
const Unit& air_unit(Flow air, const UnitsShown&);

/// As it was typed ('2 1/2 cups', '1,50 gal'), marks and unit words of the reader, not converted.
Shown show_parts(const Written&, const UnitsShown&, const Words&);
std::string show(const Written&, const UnitsShown&, const Words&);
/// As typed, and where the reader's system differs converted behind it: '22 kg (48.5 lb)'; also for
/// another kind of gallon than the reader's.
std::string show_both(const Written&, const UnitsShown&, const Words&);

/// '100 ft × 30 in', '30 m × 75 cm': length first, width in the small unit.
std::string show_bed_size(Length length, Length width, const UnitsShown&, const Words&);
/// '8 ft 6 in' to the nearest inch; metric as show.
std::string show_feet_inches(Length, const UnitsShown&, const Words&);

/// A bare number: three significant digits (places < 0) or fixed places; thousands from 10,000 on.
std::string show_number(double value, const UnitsShown&, int places = -1);
std::string show_count(long long value, const UnitsShown&);
/// A decimal text with a point, digits kept as they are: '12500.50' -> '12,500.50'.
std::string show_decimal(std::string_view decimal, const UnitsShown&);

/// The word of a unit alone: 'gal', 'tazas' (for `amount` of it).
std::string unit_label(const Unit& unit, double amount, const Words&);
std::string unit_spoken(const Unit& unit, double amount, const Words&);

}  // namespace steep
