#include "screens/screens.h"

#include <algorithm>
#include <vector>

#include "screens/first_run.h"
#include "screens/start_farm.h"

namespace steep {
namespace {

constexpr PageEntry kPages[] = {
    {"first-run", page_of<first_run_view, draw_first_run>},
    {"start-farm", page_of<start_farm_view, draw_start_farm>},
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
