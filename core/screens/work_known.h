#pragma once
/// What the book knows already of a calculation's inputs: nobody types the farm's elevation or a tank twice.
///
/// Filled in by the names of inputs, which mean the same in every calculation ('zone', 'elevation', 'today'),
/// and by what the page was opened from: a brew, a rig, the beds that are next.

#include "screens/page.h"
#include "trade/calculation.h"

namespace steep {

/// A form (work_form.h) of the inputs that are known. Empty where the book says nothing.
Result<DraftFields> known_inputs(const Surroundings& around, const Calculation& calculation);

}  // namespace steep
