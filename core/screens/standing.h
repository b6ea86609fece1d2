#pragma once
/// The standing caution under the top bar: the beds that nobody may enter now.

#include <optional>
#include <string>

#include "look/tape_band.h"
#include "screens/page.h"

namespace steep {

/// One band at most; other closures (until another time) are counted.
struct StandingCaution {
  std::string first, second, spoken;  ///< 'No entry: T3, T4' / 'until 8:52 pm · sulfur, 24 h'
  int more = 0;
  PagePlace leads_to;  ///< The bed that is closed longest.
  bool operator==(const StandingCaution&) const = default;
  TapeBand band() const;  ///< Points into this.
};
Result<std::optional<StandingCaution>> standing_caution(const Surroundings& around);

}  // namespace steep
