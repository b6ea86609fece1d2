#pragma once
/// Starting a farm on this device: its name, its blocks as people say them, and its rule after tea.

#include <optional>
#include <string>
#include <vector>

#include "screens/page.h"
#include "screens/tea_rule.h"

namespace steep {

struct StartFarmView {
  std::string title, second;
  std::string name_label, name_hint, person_label, person_hint, zone_label, zone_error;
  std::string blocks_title, line_label, line_hint, line_error, add, remove;
  std::string zero_label, zero_hint;
  struct Block {
    std::string first, second, spoken;
    bool operator==(const Block&) const = default;
  };
  std::vector<Block> blocks;
  bool can_add = false;
  std::string rule_question, days_label, days_error;
  std::vector<std::string> rule_choices;
  std::vector<std::string> rule_texts;  ///< One sentence per rule text.
  std::string rule_note;                ///< What the chosen answer brings.
  std::string zone;                     ///< As proposed or typed.
  UnitsShown units;                     ///< In which lines are read.
  std::string missing, start, problem;
  bool can_start = false;
  bool operator==(const StartFarmView&) const = default;
};

struct StartFarmInput : PageInput {
  std::string name, person, zone;
  bool zone_touched = false;                                ///< False: the device's zone is proposed.
  std::string line, zero_end;                               ///< The block being typed.
  std::vector<std::pair<std::string, std::string>> blocks;  ///< Line and zero end of those added.
  int rule = -1;                                            ///< TeaRuleChoice.
  std::string days;
  bool operator==(const StartFarmInput&) const = default;
};
DraftFields draft_fields(const StartFarmInput& input);
void from_draft(StartFarmInput& input, const DraftFields& fields);

Result<StartFarmView> start_farm_view(const Surroundings& around, const StartFarmInput& input);
std::optional<Ask> draw_start_farm(const StartFarmView& view, StartFarmInput& input, const Furniture& furniture);

}  // namespace steep
