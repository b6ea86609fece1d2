#pragma once
/// The saved mark, top right on every screen, in four states. 'Saved' only when storage has
/// confirmed it. The words are look's own; the time comes in as text.

#include <string_view>

#include "look/layout.h"

namespace steep {

enum class SavedState { Saved, Saving, NotSaved, DraftSaved };

struct SavedMark {
  SavedState state = SavedState::Saved;
  std::string_view detail = {};  ///< '2:09 pm'; of Saving: '1 entry'. Of NotSaved look says 'Try again'.
};

/// Width it needs; `compact` (screens under 390 wide) keeps sign and second line only.
float saved_mark_width(const SavedMark& mark, bool compact);
/// Drawn to the right edge of the box (to the left edge when `at_left`). True when 'Try again' was pressed.
bool draw_saved_mark(const Box& box, const SavedMark& mark, bool compact = false, bool at_left = false);
/// On 'Not saved' the mark becomes a band under the top bar as well. True when 'Try again' was pressed.
/// `text`: what is at stake ('3 entries are on screen and in memory only').
bool not_saved_band(Pen& pen, std::string_view text);

}  // namespace steep
