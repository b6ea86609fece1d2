#pragma once
/// The answers to 'After tea on leaves, days until picking?', as both forms that ask it read them.

#include <optional>
#include <string_view>

namespace steep {

/// In the order of the cells.
enum class TeaRuleChoice { None = -1, SameDay, OneDay, Other, NotDecided };

struct TeaRuleAnswer {
  bool given = false;    ///< False while nothing is chosen, or 'other' has no usable number.
  bool decided = false;  ///< False: 'not decided', which is an answer.
  int days = 0;
  std::optional<int> wait() const { return decided ? std::optional<int>(days) : std::nullopt; }
};
TeaRuleAnswer tea_rule_answer(TeaRuleChoice choice, std::string_view typed_days);

}  // namespace steep
