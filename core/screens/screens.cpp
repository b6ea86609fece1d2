#include "screens/screens.h"

#include <algorithm>
#include <vector>

namespace steep {
namespace {

constexpr PageEntry kPages[] = {
    {"first-run", nullptr},
};

constexpr TabEntry kTabs[] = {
    {"today", "app.tab_today"_w, Icon::Today},       {"brew", "app.tab_brew"_w, Icon::Brew},
    {"spray", "app.tab_spray"_w, Icon::Spray},       {"beds", "app.tab_beds"_w, Icon::Beds},
    {"book", "app.tab_book"_w, Icon::Book},          {"merge", "app.tab_merge"_w, Icon::Merge},
    {"reports", "app.tab_reports"_w, Icon::Reports}, {"settings", "app.tab_settings"_w, Icon::Settings},
};

}  // namespace

std::span<const PageEntry> pages() { return kPages; }

std::unique_ptr<Page> make_page(std::string_view name) {
  const auto found = std::find_if(std::begin(kPages), std::end(kPages), [&](const PageEntry& p) { return p.name == name; });
  return found == std::end(kPages) || !found->make ? nullptr : found->make();
}

std::span<const TabEntry> tabs() { return kTabs; }

}  // namespace steep
