#pragma once
/// What lies on the beds of a farm and what waits come of it: the two halves of bed_states.cpp. Only core/book includes this.

#include <optional>
#include <string>
#include <vector>

#include "book/bed_states.h"
#include "book/dose_scan.h"
#include "book/doubts.h"
#include "book/ground.h"
#include "book/hand_holds.h"
#include "book/wait_rules.h"

namespace steep {

/// One dose as it lies on a bed of today.
struct BedDose {
  Id dose;
  Stretch stretch;
  const TankFacts* tank = nullptr;
  std::vector<Moment> finishes;  // all readings; empty = not known
  Moment finish;                 // the stand-in's, for what is not a wait
  bool in_question = false;
  bool counts = true;  // for last tea and intervals: unstruck and done, by the stand-in
  bool waits = true;   // for holds
};

/// A hold set by hand, as it lies on a bed.
struct BedHold {
  SetHold said;
  Stretch stretch;
};

/// The reading of one farm: filled by collect_on_beds, then read by set_waits.
struct BedWork {
  const Book& book;
  const Places& places;
  const WaitRules& rules;
  const Doubts& doubts;
  Moment at;
  Date today;
  std::vector<std::vector<BedDose>> doses;  // one list for each bed
  std::vector<std::vector<BedHold>> holds;
  std::vector<std::vector<const Planting*>> plantings;
  std::vector<bool> shared;  // another farm wrote this bed down too
};

inline bool covers(Stretch part, Stretch whole) {
  return part.from.si() <= whole.from.si() + kOneCentimeter && part.to.si() >= whole.to.si() - kOneCentimeter;
}

/// Doses since `since` and holds, on the beds they lie on now; questions and counts go into `states`.
Result<void> collect_on_beds(BedWork& work, const Ground& ground, std::int64_t since, BedStates& states);
/// Plantings that grow today under any reading of theirs.
Result<std::vector<Planting>> plantings_in_doubt(const BedWork& work);
/// Teas, due dates, stretches and waits of one bed. Afterwards every dose on it has a length.
void set_waits(BedWork& work, BedState& state, std::size_t index);

}  // namespace steep
