#pragma once
/// All pages of the program. A new one is a file in this folder and a line in screens.cpp.

#include <memory>
#include <span>
#include <string_view>

#include "look/icons.h"
#include "screens/page.h"

namespace steep {

struct PageEntry {
  std::string_view name;  ///< Of PagePlace::page.
  std::unique_ptr<Page> (*make)();
};
std::span<const PageEntry> pages();
/// nullptr for a name that is not in the list.
std::unique_ptr<Page> make_page(std::string_view name);

/// The tabs, in their order; the first five stand in the bottom bar, 'settings' at the rail's foot.
struct TabEntry {
  std::string_view page;
  WordId word;
  Icon icon = Icon::None;
};
std::span<const TabEntry> tabs();

}  // namespace steep
