#include "screens/screens.h"

#include <algorithm>

#include "screens/bed_page.h"
#include "screens/beds.h"
#include "screens/book_screen.h"
#include "screens/brew_page.h"
#include "screens/brews.h"
#include "screens/calibration.h"
#include "screens/decide.h"
#include "screens/end_pass.h"
#include "screens/farm_rule.h"
#include "screens/first_run.h"
#include "screens/give_page.h"
#include "screens/leave_demo.h"
#include "screens/limits.h"
#include "screens/merge.h"
#include "screens/photo_page.h"
#include "screens/plan.h"
#include "screens/planned.h"
#include "screens/record_page.h"
#include "screens/refill.h"
#include "screens/reports.h"
#include "screens/same_thing.h"
#include "screens/settings_page.h"
#include "screens/settle.h"
#include "screens/spray_tab.h"
#include "screens/spraying.h"
#include "screens/start_brew.h"
#include "screens/start_farm.h"
#include "screens/start_pass.h"
#include "screens/take_preview.h"
#include "screens/today.h"
#include "screens/twice.h"
#include "screens/work_list.h"
#include "screens/work_page.h"

namespace steep {
namespace {

constexpr PageEntry kPages[] = {
    {"first-run", page_of<first_run_view, draw_first_run>},
    {"leave-demo", page_of<leave_demo_view, draw_leave_demo>},
    {"start-farm", page_of<start_farm_view, draw_start_farm>},
    {"today", page_of<today_view, draw_today>},
    {"brew", page_of<brews_view, draw_brews>},
    {"brew-page", page_of<brew_page_view, draw_brew_page>},
    {"start-brew", page_of<start_brew_view, draw_start_brew>},
    {"plan", page_of<plan_page_view, draw_plan_page>},
    {"planned", page_of<planned_view, draw_planned_page>},
    {"calibration", page_of<calibration_view, draw_calibration>},
    {"spray", page_of<spray_tab_view, draw_spray_tab>},
    {"start-pass", page_of<start_pass_view, draw_start_pass>},
    {"spraying", page_of<spraying_view, draw_spraying>},
    {"refill", page_of<refill_view, draw_refill>},
    {"end-pass", page_of<end_pass_view, draw_end_pass>},
    {"twice", page_of<twice_view, draw_twice>},
    {"settings", page_of<settings_view, draw_settings_page>},
    {"licenses", page_of<licenses_view, draw_licenses>},
    {"farm-rule", page_of<farm_rule_view, draw_farm_rule>},
    {"limits", page_of<limits_view, draw_limits>},
    {"beds", page_of<beds_view, draw_beds>},
    {"bed", page_of<bed_page_view, draw_bed_page>},
    {"book", page_of<book_screen_view, draw_book_screen>},
    {"take", page_of<take_preview_view, draw_take_preview>},
    {"merge", page_of<merge_view, draw_merge>},
    {"settle", page_of<settle_view, draw_settle>},
    {"decide", page_of<decide_view, draw_decide>},
    {"same-thing", page_of<same_thing_view, draw_same_thing>},
    {"give", page_of<give_page_view, draw_give_page>},
    {"photo", page_of<photo_page_view, draw_photo_page>},
    {"add-photo", page_of<add_photo_view, draw_add_photo>},
    {"record", page_of<record_page_view, draw_record_page>},
    {"reports", page_of<reports_view, draw_reports>},
    {"work", page_of<work_list_view, draw_work_list>},
    {"calculation", page_of<work_page_view, draw_work_page>},
};

constexpr TabEntry kTabs[] = {
    {"today", "app.tab_today"_w, Icon::Today},
    {"brew", "app.tab_brew"_w, Icon::Brew},
    {"spray", "app.tab_spray"_w, Icon::Spray},
    {"beds", "app.tab_beds"_w, Icon::Beds},
    {"book", "app.tab_book"_w, Icon::Book},
    {"merge", "app.tab_merge"_w, Icon::Merge},
    {"reports", "app.tab_reports"_w, Icon::Reports},
    {"work", "app.tab_work"_w, Icon::Dialpad},
    {"settings", "app.tab_settings"_w, Icon::Settings},
};

}  // namespace

std::span<const PageEntry> pages() { return kPages; }

std::unique_ptr<Page> make_page(std::string_view name) {
  const auto found =
      std::find_if(std::begin(kPages), std::end(kPages), [&](const PageEntry& p) { return p.name == name; });
  return found == std::end(kPages) || !found->make ? nullptr : found->make();
}

std::span<const TabEntry> tabs() { return kTabs; }

}  // namespace steep
