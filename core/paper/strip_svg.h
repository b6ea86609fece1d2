#pragma once
/// A bed as a small strip in black and white: what was treated filled, a wait taped along the foot.

#include <string>
#include <vector>

#include "quantity/quantities.h"
#include "trade/stretch.h"

namespace steep {

/// SVG with attributes only, 44 × 11 points. `whole` of no length draws the strip full or empty.
std::string strip_svg(Stretch whole, const std::vector<Stretch>& treated, bool taped);
/// The mark of the program: an ink square with three strips filled 100, 62 and 28 %.
std::string mark_svg(int points);

}  // namespace steep
