#include "book/takes_reason.h"

#include <algorithm>
#include <array>

namespace steep {

bool takes_reason(const Problem& problem) {
  static constexpr std::array kWords = {
      "check.unusual"_w,
      "check.too-hot"_w,
      "check.too-much-oxygen"_w,
      "check.far-from-pass"_w,
      "check.left-more-than-held"_w,
      "check.dose-more-than-held"_w,
      "check.more-than-left"_w,
      "check.in-the-future"_w,
      "check.long-ago"_w,
      "check.plan-past"_w,
      "check.plan-far"_w,
      "check.picked-nothing"_w,
  };
  return problem.kind == Trouble::Ask && std::find(kWords.begin(), kWords.end(), problem.word) != kWords.end();
}

}  // namespace steep
