#pragma once
/// Entries struck because another tells of the same work ('Same bed, twice?'), while none of those tells of it any more: two
/// copies each gave up the other's, or somebody struck the kept one without knowing. Then the work would stand nowhere: such
/// an entry counts for waits, and a person is asked.

#include <map>
#include <optional>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"

namespace steep {

/// Each such dose → those that it was given up for.
using GivenUpFor = std::map<Id, std::vector<Id>>;
Result<GivenUpFor> given_up_for_none(const Book& book);
/// And where that is so under one of the readings of what people disagree about: waits count both until it is settled.
Result<GivenUpFor> given_up_in_any_reading(const Book& book);
/// About which of them a person is asked: what becomes of one decides about those that were given up for it, and in a ring one
/// answer ends it for all.
std::vector<Id> to_ask_about(const GivenUpFor& given_up);

/// What a dose says, as far as giving up goes.
struct DoseSays {
  bool struck = false, skipped = false;
  bool struck_by_some = false;    ///< Also where others say that it stands.
  bool place_in_dispute = false;  ///< Where it was, or whether it was skipped.
  std::optional<Id> bed;          ///< nullopt: not known.
  std::vector<Id> given_up_for;
};
using DosesSaid = std::map<Id, DoseSays>;
/// About which doses a person would be asked anew if these said this.
Result<std::vector<Id>> would_be_given_up(const Book& book, const DosesSaid& changed);

/// The work was done: it stands again, as one entry of its own. A reason is asked for.
Result<Outcome> count_given_up(Book& book, const Id& dose, std::string_view why, const Going& going);
/// It never happened: it stays struck for this reason, and so do those that were given up with it.
Result<Outcome> leave_given_up(Book& book, const Id& dose, std::string_view why, const Going& going);

}  // namespace steep
