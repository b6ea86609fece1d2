#pragma once
/// What the first screen shows: what runs, what is due, what is closed, what waits for an answer.

#include <optional>
#include <string>
#include <vector>

#include "book/asking.h"
#include "book/bed_states.h"
#include "book/book.h"
#include "book/pass_start.h"
#include "book/questions.h"
#include "book/running_brew.h"

namespace steep {

/// One band: the beds that nobody may enter, longest first.
struct EntryClosure {
  std::vector<Id> beds;
  std::string names;  ///< 'T3, T4'.
  Hold hold;          ///< The one that lets go last.
  RuleSource rule;
  Wait wait;
};

/// 'Next pass': the one planned for about now, else beds due of one block; what they take.
struct NextPass {
  StartSheet sheet;
  int loads = 0;
};

struct Today {
  Farm farm;
  Moment at;
  std::vector<EntryClosure> closures;  ///< By block, the longest first.
  std::vector<RunningBrew> brews;
  std::optional<NextPass> next;      ///< nullopt: nothing is due or planned, or no beds.
  std::vector<PlannedWork> planned;  ///< Brews and passes still to be done, by time; without the one that is `next`.
  std::optional<Id> open_pass;       ///< Of this copy: 'Go on with pass 48'.
  std::string open_pass_code;
  std::vector<const BedState*> due;  ///< Late first, then due; into the states given.
  QuestionCounts questions;
  std::vector<AskedFact> asked;  ///< Of the person who looks: facts that somebody asks about.
};
Result<Today> read_today(const Book& book, const BedStates& states, const Id& person, Moment now);

}  // namespace steep
