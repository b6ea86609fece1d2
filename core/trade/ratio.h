#pragma once
/// What volumes stand behind '1:4', '1 in 4' or '4 to 1'?
///
/// Wording decides: '1:4' is 1 part tea to 4 parts water (5 parts in all), '1 in 4' is 1 part tea in 4 parts of
/// spray. Where the words leave both open ('4 to 1', '1/4'), all readings come back and a person chooses.
///
/// Source:   arithmetic; the two conventions are documented in [UMASS-INJ] and [HUMMERT-INJ].
/// Formula:  tea = total × tea parts / all parts
/// Limits:   parts above 0, at most 12 characters each; order can be fixed by 'tea to water', 'water to tea'.
/// Accuracy: exact.

#include <optional>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "quantity/decimal_mark.h"
#include "quantity/quantities.h"
#include "trade/mix.h"

namespace steep {

/// Parts of a dilution: tea and water, both 0 or more, not both 0.
struct Parts {
  double tea = 1;
  double water = 0;
  double all() const { return tea + water; }
  bool operator==(const Parts&) const = default;
};

/// All readings of what was written, the likelier first; one reading = not ambiguous. Reads 'a:b', 'a+b', 'a to b',
/// 'a in b', 'a/b', Spanish 'a a b', 'a en b', then 'tea to water' / 'water to tea' ('té a agua', 'agua a té').
/// Trouble: BadInput  anything else, and 'a in b' with a greater than b; Ask  a number that reads two ways ('1:1,000').
Result<std::vector<Parts>> read_ratio(std::string_view written, DecimalMark mark = DecimalMark::Point);

/// A share of tea as people say it: the smallest whole parts, 20 in all at most, within 1 % of the share ('4 parts tea,
/// 5 water'); nullopt when no such parts come near. 0 < `tea_fraction` ≤ 1.
std::optional<Parts> small_parts(double tea_fraction);

/// The two volumes of `spray` in all. Trouble: BadInput  volume not above 0, or no parts.
Result<Mix> mix_for_spray(Volume spray, Parts parts);
/// How much water (and spray in all) a volume of tea makes. Trouble: BadInput  as above, or no tea in it.
Result<Mix> mix_from_tea(Volume tea, Parts parts);

}  // namespace steep
