#pragma once
/// The presses of a pass. Each is one committed write; killing the page loses nothing.

#include <algorithm>
#include <optional>
#include <string>

#include "book/book.h"
#include "book/caution.h"
#include "book/pass_start.h"
#include "book/pass_state.h"
#include "quantity/written.h"

namespace steep {

/// 'N11 done': everything that is open of the bed, from the load in the tank. `volume` only if measured.
/// Trouble: BadInput  the pass has ended, the bed has nothing open, a label lacks its crop (before work);
///          Ask  'done' with a measured 0.
struct DoneRequest {
  Id pass, bed;
  std::optional<Moment> start;   ///< Empty = since the press before.
  std::optional<Moment> finish;  ///< Empty = now.
  std::optional<Written> volume;
  std::string note;
};
Result<Outcome> bed_done(Book& book, const DoneRequest& request, const Going& going);

/// 'Half': the half at which the walk enters the bed. `other` = the half at the other end.
Result<Outcome> bed_half(Book& book, const Id& pass, const Id& bed, bool other, const Going& going);

/// Corrects the stretch of the last dose on a bed ('other half', 'feet') while it is fresh.
Result<Outcome> change_stretch(Book& book, const Id& dose, const Written& from, const Written& to, const Going& going);

/// The reason is stored: a word ('wet', 'picked', 'covered', 'clogged', 'other') or the person's own.
Result<Outcome> skip_bed(Book& book, const Id& pass, const Id& bed, std::string_view reason, const Going& going);

/// Takes back the last write of this pass, any number of times. The entry is struck as `kUndone`, the
/// pass counts it. Outcome::record = what was taken back; not written when there is nothing.
Result<Outcome> undo_press(Book& book, const Id& pass, const Going& going);

/// Where did it run dry, what was left, and what goes in now?
struct RefillSheet {
  Id load;
  int number = 0;                  ///< Of the load that closes.
  std::optional<std::size_t> bed;  ///< Index into `state.beds` of the bed in hand; nullopt = between beds.
  Length proposed;                 ///< Place along it, from its zero end, by the rate.
  std::optional<Volume> went_in;   ///< With what stayed.
  Volume left;                     ///< As typed, else proposed: dry where the rate says so, else what it says.
  bool left_is_estimate = false;   ///< '~': by the rate, not what the pump cannot reach.
  /// By the rate, where that is far from dry and nothing was typed: somebody has to say which it is.
  std::optional<Volume> left_by_rate;
  std::optional<Volume> gone;
  Length on_length;  ///< Feet treated from this load, with the proposed stretch.
  int beds = 0;      ///< Beds it reached.
  bool last_is_part = false;
  // Load 2:
  std::optional<Mix> next;                   ///< To add: enough for what is open, at most a full tank.
  std::optional<Mix> full;                   ///< 'Fill up'.
  std::optional<Volume> in_tank, can_spray;  ///< After `next`.
  std::vector<std::size_t> covers;           ///< Open beds that it reaches, the first with what is left of it.
  Id brew, water_source;
  std::string brew_code, water_name;
  PassState state;
  /// Water that fills to the mark of `mix` beside what is left and tea as they are shown: three rounded amounts would miss it.
  Volume water_to_mark(const Mix& mix, Volume shown_left, Volume shown_tea) const {
    return std::max(Volume{}, left + mix.spray() - shown_left - shown_tea);
  }
};
/// What the person moved or typed; empty = proposed.
struct RefillTyped {
  std::optional<Length> at;    ///< The place where it ran dry.
  std::optional<Volume> left;  ///< In the tank.
  bool dry = false;            ///< Said to be dry, whatever the rate says.
};
Result<RefillSheet> refill_sheet(const Book& book, const Id& pass, const Id& chosen, const RefillTyped& typed,
                                 Moment now);

struct RefillRequest {
  Id pass;
  Id bed;                       ///< In hand; nil = the tank ran dry between beds.
  std::optional<Written> at;    ///< Place along it where it ran dry; empty = none of it.
  std::optional<Written> left;  ///< In the tank; empty = not taken.
  Id brew;
  std::optional<Written> tea, water;  ///< New load; empty = not taken.
  Id water_source;
  std::vector<ProductGiven> products;
  bool left_was_asked = false;  ///< Somebody said it with the rate's own figure beside it.
};
/// Writes the treated stretch, closes the load, opens the next, in one act. Outcome::record = the new load.
/// Warns of what 'done' would warn of, of a brew or tank that gives or holds less, and when what is left is far off
/// what the rate says. Trouble: Ask  more left than the load held.
Result<Outcome> refill(Book& book, const RefillRequest& request, const Going& going);

}  // namespace steep
