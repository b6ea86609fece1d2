#pragma once
/// How a command answers: done, or not yet because something should be said first.
///
/// *Stop* (not savable) and *Ask* (two readings) come as Problems, Trouble::BadInput and Trouble::Ask.
/// *Warn* comes as Cautions: nothing is written; the caller shows them and repeats the request with the
/// person's reason, which is kept on the record.

#include <string>
#include <vector>

#include "base/id.h"
#include "base/word_id.h"

namespace steep {

struct Caution {
  WordId word;
  std::vector<std::string> values;  ///< For `spell` (spelled.h).
  std::string place;                ///< Field it is about: 'mix.tea'; empty = the whole.
  Id record;                        ///< Bed, rig, lot it is about; nil = none.
  bool operator==(const Caution&) const = default;
};

/// Who does it, and why in spite of cautions.
struct Going {
  Id person;
  std::string reason;           ///< Empty = stop at the first cautions.
  bool after_the_fact = false;  ///< Entered later: Stops of 'before work' become findings.
};

struct Outcome {
  bool written = false;           ///< False: cautions to answer, nothing was written.
  std::vector<Caution> cautions;  ///< Also when written: those that were gone on with.
  Id record;                      ///< The record made or changed.
};

}  // namespace steep
