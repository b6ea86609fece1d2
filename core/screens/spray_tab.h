#pragma once
/// The Spray tab: the pass that is under way or the next one, and the passes that were.

#include <optional>
#include <string>
#include <vector>

#include "screens/page.h"
#include "screens/work_links.h"

namespace steep {

struct SprayTabView {
  std::string title, second;
  std::optional<Id> open_pass;
  std::string head, detail, button, button_spoken;
  std::string past_head;
  struct Past {
    Id pass;
    std::string first, second, value, spoken;
    bool struck = false;
    bool operator==(const Past&) const = default;
  };
  std::vector<Past> past;
  std::string empty, empty_why;
  std::string rigs_head;
  struct Rig {
    Id rig;
    std::string name, detail;
    bool operator==(const Rig&) const = default;
  };
  std::vector<Rig> rigs;  ///< Each opens its calibration.
  WorkLinks links;
  bool operator==(const SprayTabView&) const = default;
};
struct SprayTabInput : PageInput {
  bool operator==(const SprayTabInput&) const = default;
};
Result<SprayTabView> spray_tab_view(const Surroundings& around, const SprayTabInput& input);
std::optional<Ask> draw_spray_tab(const SprayTabView& view, SprayTabInput& input, const Furniture& furniture);

}  // namespace steep
