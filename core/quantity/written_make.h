#pragma once
/// Shared by the readers of written.h.

#include <string>
#include <string_view>

#include "quantity/written.h"

namespace steep {

bool may_be_negative(Dimension dimension);

/// What was typed, fit to stand in a sentence: printable, at most 60 bytes.
std::string quoted(std::string_view typed);

/// `number` is the normal form of `amount`. Refuses (BadInput) what is negative where nothing can
/// be, below absolute zero, or too long.
Result<Written> make_written(std::string_view number, const Fraction& amount, const Unit& unit, std::string_view typed);

}  // namespace steep
