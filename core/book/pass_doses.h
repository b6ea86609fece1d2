#pragma once
/// What the commands of a pass under way share: the bed in hand and the dose that is written of it. Only core/book
/// includes this.

#include <optional>
#include <string>
#include <vector>

#include "book/caution.h"
#include "book/pass_state.h"
#include "book/saves.h"

namespace steep {

struct DoseGiven {
  Id load, bed;
  Stretch stretch;
  bool whole = false, skipped = false;
  Stamp start, finish;
  std::optional<Written> volume;
  std::string note;
};

/// With the width of the bed as it is known just now, and places in the unit in which its length was written.
Save dose_save(const Book& book, const DoseGiven& given);

/// The pass as it stands, open, with the bed in hand. Refusals in words.
Result<PassState> working_state(const Book& book, const Id& pass, const Id& bed);
/// nullptr: the bed is not in the pass.
const PassBed* bed_of(const PassState& state, const Id& bed);
/// One of which something is still to be done.
Result<const PassBed*> open_bed(const PassState& state, const Id& bed);
/// May this bed be sprayed? Its stop, unless what was done already is written down.
Result<void> check_bed(const PassBed& bed, const Going& going);

/// Of work on one bed.
struct BedTimes {
  Stamp start, finish;
};

/// Those given, else since the bed has been in hand, until now.
BedTimes times_of(const Book& book, const PassState& state, std::optional<Moment> start, std::optional<Moment> finish);

bool is_whole(const PassBed& bed, Stretch stretch);
/// The part of what is open that the walk reaches before `place`.
std::vector<Stretch> walked_to(const PassBed& bed, Length place);

/// By the rate on these parts of what is open of a bed; nullopt: rate or size is not known.
std::optional<Volume> spray_on(const PassBed& bed, const std::vector<Stretch>& parts);

}  // namespace steep
