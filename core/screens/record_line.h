#pragma once
/// What a record is about in one line, to stand below its name in a list.

#include <string>

#include "screens/page.h"

namespace steep {

/// '10 beds, 2.59 gal spray (1.15 tea)' of a pass, 'Broccoli, 31 lb' of a harvest, 'Cart, hot water' of a wash. Empty where
/// the name says it all.
Result<std::string> record_line(const Surroundings& around, const Record& record);

}  // namespace steep
