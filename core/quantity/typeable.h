#pragma once
/// What a person can type so that one amount is read, and nothing is asked.

#include <span>
#include <string>

#include "quantity/units_shown.h"
#include "quantity/written.h"

namespace steep {

/// '2 oz wt', '3 US gal', '1,5 L': `amount` in the reader's words, told apart from the others it is offered `among`.
std::string typeable(const Written& amount, std::span<const Written> among, const UnitsShown& units,
                     const Words& words);

}  // namespace steep
