#pragma once
/// A step of a calculation as its reader sees it: words in his language, numbers with his decimal mark.

#include <string>
#include <string_view>

#include "base/words.h"
#include "trade/calculation.h"

namespace steep {

struct StepShown {
  std::string formula, below;
  bool operator==(const StepShown&) const = default;
};
StepShown show_step(const Step& step, const UnitsShown& units, const Words& words);

/// 'spray = tea + water' as 'mezcla = té + agua': words that `assets/strings/formula.txt` has, the longest that fits, and
/// units behind their number. Symbols, names and numbers stay as they are.
std::string step_words(std::string_view text, const Words& words);

}  // namespace steep
