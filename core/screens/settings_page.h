#pragma once
/// Settings of this device: language, units, decimals, theme, text size, hand, motion, who writes, licenses.

#include <string>
#include <vector>

#include "screens/page.h"

namespace steep {

struct SettingsView {
  std::string title, second;
  struct Line {
    std::string key, word;
    std::vector<std::pair<std::string, std::string>> choices;  ///< Stored value, word.
    int chosen = 0;
    int icon = 0;
    bool operator==(const Line&) const = default;
  };
  std::vector<Line> lines;
  std::string text_label, text_value, text_spoken;
  int text_percent = 100;
  std::string who_head, who, who_change;
  std::vector<std::pair<std::string, std::string>> people;  ///< Id, name.
  int person = -1;
  std::string copy_label, copy_hint, copy_now, copy_save;
  std::string farm_head;
  std::vector<std::pair<std::string, std::string>> farms;
  int farm = -1;
  std::string rules_head, tea_rule, tea_rule_why, limits, limits_why;  ///< Empty head: no farm yet.
  std::string watch_head, watch_why, watch_label, watch_now, watch_save,
      watch_stop;  ///< Empty head: this device cannot.
  std::string newer, use_newer;
  std::string licenses, licenses_why, problem;
  bool operator==(const SettingsView&) const = default;
};
struct SettingsInput : PageInput {
  std::string sheet;  ///< 'who', 'farm'
  std::string copy;
  bool copy_touched = false;
  std::string folder;
  bool folder_touched = false;
  bool operator==(const SettingsInput&) const = default;
};
Result<SettingsView> settings_view(const Surroundings& around, const SettingsInput& input);
std::optional<Ask> draw_settings_page(const SettingsView& view, SettingsInput& input, const Furniture& furniture);

/// The licenses of everything the program is built from.
struct LicensesView {
  std::string title, second;
  std::vector<std::string> lines, spoken;
  bool operator==(const LicensesView&) const = default;
};
struct LicensesInput : PageInput {
  bool operator==(const LicensesInput&) const = default;
};
Result<LicensesView> licenses_view(const Surroundings& around, const LicensesInput& input);
std::optional<Ask> draw_licenses(const LicensesView& view, LicensesInput& input, const Furniture& furniture);

}  // namespace steep
