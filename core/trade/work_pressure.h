#pragma once
/// The pressure at the place, as several calculations take it: 'pressure' or 'elevation', both optional, not both.

#include "trade/calculation.h"

namespace steep {

/// Neither given = 1 atm, and a note says so. Trouble: BadInput  both given; OutOfRange  elevation outside −500 to 5,000 m.
Result<Pressure> station_pressure(const Inputs& in, Answer& answer, std::string_view of);

}  // namespace steep
