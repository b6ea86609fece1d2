#pragma once
/// Starting a pass: what is known stands in one card, what is missing below it; at most four presses.

#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "book/pass_start.h"
#include "screens/amount_sheet.h"
#include "screens/page.h"

namespace steep {

/// The form as it was typed so far; also its draft. What is not in it is proposed.
struct StartPassInput : PageInput {
  DraftFields form;
  std::string
      sheet;  ///< List that is open: 'plan', 'who', 'rig', 'brew', 'rates', 'beds', 'weather', 'new-rig'; empty = none.
  AmountTyping typing;
  bool operator==(const StartPassInput&) const = default;
};
DraftFields draft_fields(const StartPassInput& input);
void from_draft(StartPassInput& input, const DraftFields& fields);
/// What the form means.
StartChoices start_choices(const DraftFields& form, const Surroundings& around);

struct StartPassView {
  std::string title, second;
  std::string known, known_note;
  struct Line {
    std::string id, first, second, spoken;
    bool operator==(const Line&) const = default;
  };
  std::vector<Line> lines;  ///< Who, rig, brew, rates, beds: what is known.

  // Load 1.
  struct Amount {
    std::string label, value, unit, spoken;
    std::optional<Written> written;
    std::string unit_word;
    bool operator==(const Amount&) const = default;
  };
  std::string load_question, load_stays, load_sum, not_taken;
  Amount tea, water;
  bool has_tea = true, load_missing = false, volumes_not_taken = false;

  // Walk.
  std::string walk_question, turn, same_end, from_word, zero_end, far_end;
  bool walk_missing = false;
  int walk = -1, from = -1;  ///< Chosen cells.

  // Weather.
  std::string weather_question, weather_last, weather_other;
  bool weather_missing = false;
  int weather = -1;  ///< 0 the last or typed one, 1 not taken.
  std::optional<WeatherGiven> last_weather;

  std::vector<std::string> cautions, stops;
  std::string cleaned;  ///< Opens the sheet that writes down a wash; empty where nothing needs one.
  std::string missing, start, problem;
  bool can_start = false;
  StartChoices choices;  ///< With all proposals: what Start writes. Not compared.

  // The list that is open.
  struct Option {
    std::string key, first, second;
    bool chosen = false;
    bool operator==(const Option&) const = default;
  };
  std::string sheet;  ///< Which one the view was made for.
  std::string sheet_title, sheet_note, sheet_add;
  std::vector<Option> options;
  std::vector<Option> aims;
  Amount spray_rate, tea_rate;
  std::vector<Option> areas;
  std::string dont_know, done;
  bool rates_unknown = false;
  Amount wind, temperature;
  std::vector<Option> directions, skies;
  // A new rig.
  std::string rig_name_label, rig_tank_label, rig_dead_label, rig_save;
  std::vector<Option> rig_kinds, rig_units;
  std::string wash_how, wash_save;
  UnitsShown units;
  bool operator==(const StartPassView& other) const {
    return title == other.title && lines == other.lines && missing == other.missing;
  }
};

Result<StartPassView> start_pass_view(const Surroundings& around, const StartPassInput& input);
std::optional<Ask> draw_start_pass(const StartPassView& view, StartPassInput& input, const Furniture& furniture);

/// An amount and its key in the form.
using AmountByKey = std::pair<std::string, const StartPassView::Amount*>;
/// One or two amounts side by side; a tap on a number opens the pad (start_pass_sheets_draw.cpp).
void draw_start_amounts(Pen& pen, StartPassInput& input, std::span<const AmountByKey> amounts);
/// Draws the open sheet (start_pass_sheets_draw.cpp).
std::optional<Ask> draw_start_sheet(const StartPassView& view, StartPassInput& input);

/// 'Wind 4 mph SW, 66 °F, clear'
std::string weather_words(const WeatherGiven& weather, const UnitsShown& units, const Words& words);
/// '45 gal spray, 20 gal tea per acre'
std::string rates_words(std::optional<VolumePerArea> spray, std::optional<VolumePerArea> tea, const UnitsShown& units,
                        const Words& words);

}  // namespace steep
