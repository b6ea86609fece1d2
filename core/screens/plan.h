#pragma once
/// Planning: beds → spray → tea → recipe → water → air on → ready → first bed. Each line opens its formula, each
/// doubt is listed, and one press writes it.
///
/// The page's record, if any, is an intended pass for which a brew is planned.

#include <optional>
#include <string>
#include <vector>

#include "book/plan_sheet.h"
#include "screens/amount_sheet.h"
#include "screens/brew_figure.h"
#include "screens/page.h"

namespace steep {

/// The form as it was typed so far; also its draft. What is not in it is proposed.
struct PlanPageInput : PageInput {
  DraftFields
      form;  ///< 'beds', 'rig', 'tea-rate', 'spray-rate', 'area', 'recipe', 'vessels', 'water', 'reserve', 'volume',
             ///< 'temperature', 'at', 'air-on' (instants), 'line:<material>' = amount
  std::string
      sheet;  ///< 'beds', 'rates', 'rig', 'recipe', 'vessels', 'water', 'time', 'air-on', 'formula:<line>'; empty = none.
  AmountTyping typing;
  bool operator==(const PlanPageInput&) const = default;
};
DraftFields draft_fields(const PlanPageInput& input);
void from_draft(PlanPageInput& input, const DraftFields& fields);
/// What the form means.
PlanChoices plan_choices(const DraftFields& form, const Surroundings& around);

struct PlanPageView {
  std::string title, second;

  /// A line of a ledger. Its formula: in words, with the numbers put in, and whose figures they are.
  struct Line {
    std::string id = {}, words = {}, detail = {}, number = {}, unit = {};
    bool total = false;
    std::string formula = {}, numbers = {}, note = {};
    /// Sheet or amount that changes it, and the button's words.
    std::vector<std::pair<std::string, std::string>> changes = {};
    bool operator==(const Line&) const = default;
  };
  std::string rates_of;   ///< 'Rates per acre of bed top'
  std::vector<Line> tea;  ///< Beds, tea, left in the rig, reserve, spare, total.
  std::string loads_head;
  std::vector<Line> loads;

  std::string recipe, recipe_note, recipe_change;
  struct Ingredient {
    std::string id, name, second, value, unit, spoken;
    bool due = false;     ///< Short, not known, or more than the recipe.
    bool chosen = false;  ///< A person's amount; else the recipe's low end.
    std::optional<Written> written;
    std::string unit_word;
    bool operator==(const Ingredient& o) const { return id == o.id && second == o.second && value == o.value; }
  };
  std::vector<Ingredient> ingredients;
  std::string rule_head;
  std::vector<std::string> rules;

  struct Row {
    std::string id, first, second, value, spoken;
    bool due = false;
    bool operator==(const Row&) const = default;
  };
  std::vector<Row> things;          ///< Rig, vessels, water, temperature: a tap changes each.
  std::string start_name;           ///< 'Air on'
  std::vector<std::string> starts;  ///< The time worked out, now, another.
  int start = -1;
  BrewFigure figure;  ///< Planned ribbon; has_ribbon false without a time.
  std::string start_text, ready_text;
  std::string times_head;
  std::vector<Line> times;  ///< Water from … use by; `number` is the time.

  std::string doubts_head;
  std::vector<std::string> doubts;
  std::string estimate;
  std::string write, missing, problem;
  bool can_write = false;
  PlanChoices choices;  ///< With all proposals. Not compared.

  // What is open.
  std::string sheet, sheet_title, sheet_note;
  struct Option {
    std::string key, first, second;
    bool chosen = false;
    bool operator==(const Option&) const = default;
  };
  std::vector<Option> options, areas;
  struct Amount {
    std::string key, label, value, unit, spoken, unit_word;
    std::optional<Written> written;
  };
  std::vector<Amount> amounts;  ///< Rates, reserve, volume, temperature.
  std::string day_label, day, clock_label, clock;
  Moment time;  ///< That the steppers of a time sheet move.
  std::string done;
  Zone zone;
  UnitsShown units;
  bool operator==(const PlanPageView& o) const {
    return title == o.title && tea == o.tea && loads == o.loads && ingredients == o.ingredients && things == o.things &&
           times == o.times && doubts == o.doubts && missing == o.missing;
  }
};

Result<PlanPageView> plan_page_view(const Surroundings& around, const PlanPageInput& input);
std::optional<Ask> draw_plan_page(const PlanPageView& view, PlanPageInput& input, const Furniture& furniture);

/// Lists, amounts and times that the open sheet offers (plan_lists.cpp).
void say_plan_sheet(PlanPageView& view, const PlanSheet& sheet, const PlanPageInput& input, const Surroundings& around);
/// Draws the open sheet (plan_sheets_draw.cpp).
std::optional<Ask> draw_plan_sheet(const PlanPageView& view, PlanPageInput& input);

}  // namespace steep
