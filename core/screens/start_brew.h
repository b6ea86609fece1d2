#pragma once
/// Starting a brew: recipe, vessel, water, how much, and what went in. A plan for about now (or the page's record) fills it
/// in; the recipe, scaled to the fill, proposes lots and amounts.

#include <optional>
#include <string>
#include <vector>

#include "book/brew_commands.h"
#include "screens/amount_sheet.h"
#include "screens/page.h"
#include "screens/work_links.h"

namespace steep {

struct StartBrewView {
  std::string title, second;
  struct Option {
    std::string key, first, second;
    bool chosen = false;
    bool operator==(const Option&) const = default;
  };
  struct Line {
    std::string id, first, second, spoken;
    bool missing = false;
    bool operator==(const Line&) const = default;
  };
  std::vector<Line> lines;  ///< Recipe, vessel, water: a tap changes each.
  std::string fill_question, fill_label, fill_value, fill_unit, fill_spoken, fill_note;
  std::optional<Written> fill;
  std::string in_head, in_why;
  struct Lot {
    std::string id, name, detail;  ///< Detail: 'lot K-19 · recipe 1 to 2 fl oz'.
    std::string value, shown_unit, spoken;
    std::optional<Written> written;
    std::string unit;
    bool on = false, proposed = false;  ///< Proposed: by recipe or plan, nobody changed it yet.
    bool operator==(const Lot& o) const { return id == o.id && value == o.value && detail == o.detail && on == o.on; }
  };
  std::vector<Lot> lots;                 ///< Those of the recipe first.
  std::vector<std::string> without_lot;  ///< What the recipe asks for and no lot is here of.
  std::string water_check, air_check;
  bool in_water = true, air_on = true;
  std::string sheet, list_title, list_add;
  std::vector<Option> options;
  // A new vessel.
  std::string vessel_name, vessel_holds, vessel_working, vessel_save;
  std::string start, missing, problem;
  bool can_start = false;
  WorkLinks links;
  BrewGiven given;
  UnitsShown units;
  bool operator==(const StartBrewView& other) const {
    return lines == other.lines && lots == other.lots && missing == other.missing && fill_value == other.fill_value &&
           without_lot == other.without_lot;
  }
};
struct StartBrewInput : PageInput {
  DraftFields
      form;  ///< 'plan', 'recipe', 'vessel', 'water', 'fill', 'lot:<id>' = amount, 'off:<id>', 'no-water', 'no-air'
  std::string sheet;  ///< 'plan', 'recipe', 'vessel', 'water', 'new-vessel'
  AmountTyping typing;
  bool operator==(const StartBrewInput&) const = default;
};
DraftFields draft_fields(const StartBrewInput& input);
void from_draft(StartBrewInput& input, const DraftFields& fields);
Result<StartBrewView> start_brew_view(const Surroundings& around, const StartBrewInput& input);
std::optional<Ask> draw_start_brew(const StartBrewView& view, StartBrewInput& input, const Furniture& furniture);

}  // namespace steep
