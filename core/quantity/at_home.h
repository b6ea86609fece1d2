#pragma once
/// Whose unit is it?

#include "quantity/units_shown.h"

namespace steep {

/// Does the reader write amounts in this unit, so that no second number is needed beside it?
bool is_at_home(const Unit& unit, const UnitsShown& units);

}  // namespace steep
