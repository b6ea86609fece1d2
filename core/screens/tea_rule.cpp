#include "screens/tea_rule.h"

#include "base/text.h"
#include "trade/hold.h"

namespace steep {

TeaRuleAnswer tea_rule_answer(TeaRuleChoice choice, std::string_view typed_days) {
  switch (choice) {
    case TeaRuleChoice::SameDay: return {true, true, 0};
    case TeaRuleChoice::OneDay: return {true, true, 1};
    case TeaRuleChoice::NotDecided: return {true, false, 0};
    case TeaRuleChoice::Other: {
      const auto days = parse_int(trim(typed_days));
      if (days && *days >= 0 && *days <= kLongestWaitDays) return {true, true, static_cast<int>(*days)};
      break;
    }
    case TeaRuleChoice::None: break;
  }
  return {};
}

}  // namespace steep
