#pragma once
/// What every page must keep: targets for a thumb, nothing over the edge, a name for everything.

#include <doctest/doctest.h>

#include <string>

#include "tests/screens/app_run.h"

namespace steep::test {

inline bool is_button(Role role) {
  return role == Role::Button || role == Role::Tab || role == Role::Choice || role == Role::Check ||
         role == Role::Row || role == Role::FilePick || role == Role::Field;
}

/// Touch targets are 48 × 48 at least; nothing runs over the edge of the screen.
inline void check_page(AppRun& run, const std::string& page) {
  CAPTURE(page);
  const float width = run.harness.look.width, height = run.harness.look.height;
  int small = 0, outside = 0, nameless = 0;
  for (const Item& item : run.app().items().items()) {
    if (item.name.empty() || item.name.front() == '[') ++nameless;
    if (!is_button(item.role) || !item.drawn) continue;
    const ItemRect& r = item.rect;
    if (r.right <= r.left || r.bottom <= r.top) continue;  // Covered or scrolled away.
    if (r.left < -1 || r.right > width + 1) {
      ++outside;
      MESSAGE(page, ": over the edge: ", item.name);
    }
    // What is cut by the edge of a scrolling part is whole once it is scrolled in.
    const bool cut = r.top <= 140 || r.bottom >= height - 230;
    if (!cut && (r.bottom - r.top < 47 || r.right - r.left < 47)) {
      ++small;
      MESSAGE(page, ": ", r.right - r.left, " × ", r.bottom - r.top, ": ", item.name);
    }
  }
  CHECK(small == 0);
  CHECK(outside == 0);
  CHECK(nameless == 0);
}

}  // namespace steep::test
