#pragma once
/// Waits: badge and card. Nothing ever says that a bed is free; a wait that has ended is simply gone.

#include <string_view>

#include "look/caution.h"
#include "look/icons.h"
#include "look/layout.h"

namespace steep {

enum class HoldKind { NoHarvest, NoEntry };
constexpr Icon hold_icon(HoldKind kind) { return kind == HoldKind::NoEntry ? Icon::NoEntry : Icon::NoHarvest; }

/// Sign 48, what, time in m, time left, and the rule it stands on.
struct HoldCard {
  std::string_view id = {};
  HoldKind kind = HoldKind::NoHarvest;
  std::string_view what = {};                   ///< 'No harvest until'
  std::string_view until = {};                  ///< 'Fri 6:46 pm'
  std::string_view left = {}, left_words = {};  ///< '23 h', 'left'
  std::string_view rule = {};                   ///< '**Farm rule:** 1 day after tea on leaf, …'; empty = none.
  std::string_view rule_button = {};            ///< 'Set the farm's rule'
};
RuleEvent hold_card(Pen& pen, const HoldCard& hold);

/// 'Held: 2 entries to settle' and a sentence, or a plain line ('24 beds, no harvest until …').
struct HoldNote {
  HoldKind kind = HoldKind::NoHarvest;
  std::string_view head = {};  ///< Beet, strong; empty = only text.
  std::string_view text = {};  ///< **bold** parts allowed.
  bool card = true;            ///< With a beet edge; else on the page.
};
void hold_note(Pen& pen, const HoldNote& note);

}  // namespace steep
