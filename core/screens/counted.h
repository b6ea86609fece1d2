#pragma once
/// Counts on screens: the answer of a counting calculation as a record, and a record as a line.

#include <optional>
#include <string>

#include "book/counts.h"
#include "screens/page.h"
#include "trade/calculation.h"

namespace steep {

/// The count behind an answer of 'fields', 'plates', 'mpn' or 'gm', without what it is of; nullopt = another calculation, or
/// a number that no record can hold.
std::optional<CountGiven> count_given(const Calculation& calculation, const Inputs& inputs, const Answer& answer);

/// '3,400,000 per mL (3,080,000 to 3,740,000, 95 %)'
std::string count_text(const Count& count, const Surroundings& around);
/// 'Microscope' or, where it is said, 'Bacteria, microscope'.
std::string count_title(const Count& count, const Words& words);

}  // namespace steep
