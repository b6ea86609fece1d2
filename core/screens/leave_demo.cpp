#include "screens/leave_demo.h"

#include "look/caution.h"
#include "screens/parts.h"

namespace steep {

Result<LeaveDemoView> leave_demo_view(const Surroundings& around, const LeaveDemoInput& input) {
  if (!around.book.is_demo()) return refuse(Trouble::Conflict, "demo.is_real"_w);
  const Words& words = around.words;
  LeaveDemoView view;
  view.title = words("leave_demo.title"_w);
  view.second = words("today.demo"_w);
  view.text = words("leave_demo.text"_w);
  view.go = words("leave_demo.go"_w);
  view.stay = words("leave_demo.stay"_w);
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

std::optional<Ask> draw_leave_demo(const LeaveDemoView& view, LeaveDemoInput&, const Furniture& furniture) {
  Screen screen(furniture.inner("leave-demo", view.title, view.second));
  ScreenPart main = screen.main();
  Pen pen = reading_column(main.pen());
  std::optional<Ask> ask;
  problem_line(pen, view.problem);
  std::string no_reason;
  switch (confirm(pen, {.id = "leave", .text = view.text, .go = view.go, .safe = view.stay}, no_reason)) {
    case 0: ask = Back{}; break;
    case 1: ask = LeaveDemo{}; break;
    default: break;
  }
  main.pen().below(pen);
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
