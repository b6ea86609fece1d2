#pragma once
/// '5.00 gal tea left': what a brew still has, where it is chosen.

#include <string>

#include "book/work.h"
#include "screens/page.h"

namespace steep {

/// Empty while the fill is not known; 'at most …' where a load or a pour has no volume.
std::string tea_left_text(const BrewBalance& balance, const Surroundings& around);

}  // namespace steep
