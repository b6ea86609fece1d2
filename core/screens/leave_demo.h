#pragma once
/// From the demo farm to an own one: asked once, since what was tried in it goes with it.

#include <string>

#include "screens/page.h"

namespace steep {

struct LeaveDemoView {
  std::string title, second, text, go, stay, problem;
  bool operator==(const LeaveDemoView&) const = default;
};
struct LeaveDemoInput : PageInput {
  bool operator==(const LeaveDemoInput&) const = default;
};

/// Trouble::Conflict "demo.is_real" of a real book.
Result<LeaveDemoView> leave_demo_view(const Surroundings& around, const LeaveDemoInput& input);
std::optional<Ask> draw_leave_demo(const LeaveDemoView& view, LeaveDemoInput& input, const Furniture& furniture);

}  // namespace steep
