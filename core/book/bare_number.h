#pragma once
/// A farm's own numbers, typed without their unit.

#include <string_view>

#include "base/result.h"
#include "book/change.h"
#include "quantity/written.h"

namespace steep {

/// `number` with the one unit that is meant for the limit `which`; what is no number stays as it is.
/// Trouble: Ask  several units could be meant ('brew-age', '36'). Problem::place = the field.
Result<FieldValue> with_its_unit(FieldValue number, std::string_view which, const Habits& habits);

}  // namespace steep
