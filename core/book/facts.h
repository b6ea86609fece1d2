#pragma once
/// What every record has beside its own fields.

#include <string>
#include <vector>

#include "base/id.h"
#include "base/moment.h"
#include "book/kinds.h"
#include "book/taken.h"

namespace steep {

/// Base of the typed records. Their fields hold the stand-in winner of each group; `differs` names the
/// groups about which copies disagree. Waits never rest on these alone: bed_states.h reads all heads.
struct RecordFacts {
  Id id;
  Part part;
  Stamp made;                        ///< Wall clock of the first change.
  Id made_by;                        ///< Person; nil = nobody named.
  Id lane;                           ///< Lane of the first change: on which copy.
  std::string struck;                ///< Reason; empty = not struck.
  std::vector<std::string> differs;  ///< Groups in conflict.
  Taken<Stamp> late_at;              ///< When it happened, if it was written later …
  std::string late_from;             ///< … from 'paper' or 'memory'.
  Id same_as;                        ///< Another record that is this one; nil = none.

  bool is_struck() const { return !struck.empty(); }
  /// When it happened as far as the record itself says: late_at, else made.
  Moment happened() const { return late_at ? late_at->at : made.at; }
};

/// The stored reason of a press taken back within its pass: counted on paper, listed only in the history.
inline constexpr std::string_view kUndone = "undone";
/// The stored reason of the entry that 'Same work, written twice' gives up.
inline constexpr std::string_view kLoggedTwice = "logged twice";

}  // namespace steep
