#pragma once
/// Numbers without a unit in fields that hold values of several kinds: a farm's number, a reading.

#include <string_view>

#include "base/result.h"
#include "book/change.h"
#include "quantity/written.h"

namespace steep {

/// `number` with the one unit that is meant for `what` ('oxygen': mg/L); a pH, which has none, stays as it is.
/// Trouble: Ask  several units could be meant ('brew-age', '36'). Problem::place = the field.
Result<FieldValue> with_its_unit(FieldValue number, std::string_view kind, std::string_view what, const Habits& habits);

}  // namespace steep
