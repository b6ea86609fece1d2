#pragma once
/// One intended brew or pass: begin it, plan a brew for it, or say why it was not done.

#include <string>
#include <vector>

#include "book/work.h"
#include "screens/page.h"

namespace steep {

struct PlannedView {
  Id plan;
  bool is_brew = false, is_open = false;
  std::string title, second;
  std::string number, unit;  ///< '5.00' 'gal tea', '24' 'beds'
  struct Row {
    std::string word, value;
    bool operator==(const Row&) const = default;
  };
  std::vector<Row> rows;
  std::string brews_head;  ///< Of a pass: the brews planned for it.
  struct Brew {
    Id plan;
    std::string first, second;
    bool operator==(const Brew&) const = default;
  };
  std::vector<Brew> brews;
  std::string closed;  ///< 'Not done: rain', 'Done'; empty while open.
  std::string begin, plan_brew, not_done, history;
  // 'Not done' sheet.
  std::string why_label, go, safe, missing;
  std::vector<std::string> reasons;
  std::string problem;
  bool operator==(const PlannedView&) const = default;
};
struct PlannedInput : PageInput {
  std::string sheet;  ///< 'not-done'
  std::string why;
  bool operator==(const PlannedInput&) const = default;
};
Result<PlannedView> planned_view(const Surroundings& around, const PlannedInput& input);
std::optional<Ask> draw_planned_page(const PlannedView& view, PlannedInput& input, const Furniture& furniture);

/// 'Planned brew · Leaf 3', 'Planned pass · North'
std::string planned_title(const PlannedWork& plan, const Surroundings& around);
/// 'stand water from Thu 2:00 pm'; once that is over, since when it should stand. Empty = nothing has to stand.
std::string water_text(const PlannedWork& plan, const Surroundings& around);

}  // namespace steep
