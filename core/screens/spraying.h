#pragma once
/// The pass under way (04, 08, 15): the tank beside the beds, and one press a bed.

#include <optional>
#include <string>
#include <vector>

#include "book/pass_state.h"
#include "look/tank_gauge.h"
#include "screens/amount_sheet.h"
#include "screens/page.h"

namespace steep {

struct SprayingView {
  Id pass;
  std::string title, second;
  struct Head {
    std::string number, words, words2, amount, amount_unit, line2, line3, spoken;
    bool operator==(const Head&) const = default;
  } head;

  struct Row {
    Id bed;
    TankRowState state = TankRowState::Waiting;
    std::string number, crop, right, flag, slab, refill, spoken;
    float from_this_load = 1, treated_from = 0, treated_to = 0;
    bool operator==(const Row&) const = default;
  };
  std::vector<Row> rows;
  struct Loupe {
    std::string number, crop, size, volume, slab_unit, walk, walk_text, wait_text;
    float walked = -1, treated_from = 0, treated_to = 0;
    StripHold wait = StripHold::None;
    bool operator==(const Loupe&) const = default;
  } loupe;
  std::string used, used_word, sump_spoken, then;
  bool sump = false;

  // What the presses write.
  Id hand;  ///< Nil: nothing is left in hand, 'End pass'.
  bool is_ended = false;
  std::string done, done_second, done_spoken, end, end_second;
  std::string half, half_second, half_spoken, skip, skip_second, skip_spoken, undo, undo_second, undo_spoken, refill,
      refill_second, refill_spoken;
  bool can_half = false, can_skip = false, can_undo = false;

  // Said about the bed in hand.
  std::string warn_first, warn_second, warn_skip, warn_spray;  ///< Empty first = nothing.
  std::string stop;                                            ///< Cannot be sprayed: why.
  std::vector<std::string> notes;  ///< 'becomes tea at 60 min', 'more comes out than planned'.

  // 'Half' just written: other half, feet.
  Id half_dose;
  std::string half_of, other_half, feet;
  Written other_from, other_to;

  // Skip.
  std::string skip_title, skip_why, skip_other_label, skip_go;
  struct Reason {
    std::string key, text;
    bool operator==(const Reason&) const = default;
  };
  std::vector<Reason> reasons;

  // Feet.
  std::string feet_title, feet_from, feet_to, feet_save;
  Written from_now, to_now, bed_length;
  std::string from_text, to_text, unit_text, from_spoken, to_spoken;

  std::string problem;
  UnitsShown units;
  bool keep_awake = true;
  Moment good_until;
  bool operator==(const SprayingView& other) const {
    return title == other.title && rows == other.rows && done == other.done && head == other.head &&
           loupe == other.loupe;
  }
};

struct SprayingInput : PageInput {
  Id chosen;          ///< Bed that was tapped; until the next press.
  std::string sheet;  ///< 'skip', 'feet'; empty = none.
  std::string skip_words;
  std::string from, to;  ///< Of 'feet', normal form; empty = as it stands.
  AmountTyping typing;
  bool operator==(const SprayingInput&) const = default;
};

Result<SprayingView> spraying_view(const Surroundings& around, const SprayingInput& input);
std::optional<Ask> draw_spraying(const SprayingView& view, SprayingInput& input, const Furniture& furniture);

/// The bed that is in hand unless another was tapped: the one to go on with after the last press.
/// Nil when no bed is wholly open (halves that were left so stay as they are).
Id bed_to_go_on_with(const PassState& state);
/// The next wholly open bed after `bed` in walking order; nil = none.
Id next_open_after(const PassState& state, const Id& bed);

}  // namespace steep
