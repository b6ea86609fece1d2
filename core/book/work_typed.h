#pragma once
/// Inputs of a calculation as people write them.

#include "base/zone.h"
#include "trade/calculation.h"

namespace steep {

/// As read_value, and days and times also as read_date and read_time take them: '14 may 18:04', '6:04 pm', 'today'.
Result<Value> read_as_typed(const InputSpec& spec, std::string_view typed, const Habits& habits,
                            const Unit* unit_if_bare, const Zone& zone, Moment now);

/// All of them in the form of the calculations.
Result<std::vector<Typed>> in_normal_form(const Calculation& calculation, std::vector<Typed> typed,
                                          const Habits& habits, const Zone& zone, Moment now);

}  // namespace steep
