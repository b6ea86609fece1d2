#pragma once
/// The farm's own numbers: longest age of a brew, hours off air, wind, what a plan reckons with. One row each, with whose it is.

#include <string>
#include <vector>

#include "book/limit_kinds.h"
#include "screens/amount_sheet.h"
#include "screens/page.h"

namespace steep {

struct LimitsView {
  struct Row {
    std::string which, name, value, whose, spoken;
    std::string why;  ///< What it is for.
    bool is_set = false;
    bool operator==(const Row&) const = default;
  };
  struct Group {
    std::string head;
    std::vector<Row> rows;
    bool operator==(const Group&) const = default;
  };
  Id farm;
  std::string by;  ///< Who is at the device: whose number it becomes.
  std::string title, second, note;
  std::vector<Group> groups;
  std::string change, take_back, problem;
  UnitsShown units;
  bool operator==(const LimitsView&) const = default;
};

struct LimitsInput : PageInput {
  std::string open;  ///< Which one's sheet.
  AmountTyping typing;
  bool operator==(const LimitsInput&) const = default;
};

Result<LimitsView> limits_view(const Surroundings& around, const LimitsInput& input);
std::optional<Ask> draw_limits(const LimitsView& view, LimitsInput& input, const Furniture& furniture);

}  // namespace steep
