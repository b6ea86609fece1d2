#pragma once
/// 'After tea on leaves, days until picking?': the farm's own rule, changed at any time.

#include <string>

#include "screens/page.h"

namespace steep {

struct FarmRuleView {
  Id farm;
  std::string by;  ///< Who is at the device: whose number it becomes.
  std::string title, second, question, days_label, days_error, save, why_not, now_line;
  std::vector<std::string> choices;  ///< 0, 1, other, not decided
  std::vector<std::string> rules;    ///< One sentence per rule text.
  bool ready = false;
  bool operator==(const FarmRuleView&) const = default;
};

struct FarmRuleInput : PageInput {
  int choice = -1;
  std::string days;
  bool operator==(const FarmRuleInput&) const = default;
};

Result<FarmRuleView> farm_rule_view(const Surroundings& around, const FarmRuleInput& input);
std::optional<Ask> draw_farm_rule(const FarmRuleView& view, FarmRuleInput& input, const Furniture& furniture);

}  // namespace steep
