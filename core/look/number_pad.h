#pragma once
/// The number pad sheet: kinds, value with a thick line, units, the farm's figure, last value,
/// keys, Not taken, Note, Save. Draws into a Sheet's pen. What is typed is the caller's string.

#include <span>
#include <string>
#include <string_view>

#include "look/choice.h"
#include "look/layout.h"

namespace steep {

struct NumberPad {
  std::string_view id = {};
  std::string_view spoken = {};        ///< What is typed, with its unit: 'Oxygen in milligrams per liter'.
  std::span<const Choice> kinds = {};  ///< 2 rows of 3; empty = only one thing is asked.
  int kind = -1;
  std::string_view unit = {};          ///< Beside the value when there is only one.
  std::span<const Choice> units = {};  ///< Chips when more than one is possible.
  int unit_chosen = -1;
  std::string_view farm_figure = {};   ///< 'farm: 6 or more'; no tick.
  std::string_view last = {};          ///< 'last 6.9 at 11:40 am'
  std::string_view error = {};         ///< Below the value, in beet.
  std::span<const Choice> words = {};  ///< Instead of keys (smell, foam); empty = keys.
  int word_chosen = -1;
  char mark = '.';        ///< Key of the Decimals setting.
  bool sign_key = false;  ///< ± where a value may be negative.
  bool can_be_not_taken = true;
  bool note_key = true;
  std::string_view save = {}, save_second = {};  ///< 'Save', 'then Smell'.
  bool can_save = true;
  std::string_view why_not = {};  ///< Why it can't be saved.
};

struct NumberPadEvent {
  bool changed = false;
  bool saved = false, not_taken = false, note = false;
  int kind = -1, unit = -1, word = -1;  ///< Newly chosen ones.
};

/// `typed`: digits with the mark as typed; empty shows a dash.
NumberPadEvent number_pad(Pen& pen, const NumberPad& spec, std::string& typed);

}  // namespace steep
