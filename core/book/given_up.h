#pragma once
/// Entries struck because another tells of the same work ('Same bed, twice?'), while none of those tells of it any more: two
/// copies each gave up the other's, or somebody struck the kept one without knowing. Then the work would stand nowhere: such
/// an entry counts for waits, and a person is asked.

#include <map>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"

namespace steep {

/// Each such dose → those that it was given up for.
Result<std::map<Id, std::vector<Id>>> given_up_for_none(const Book& book);

/// The work was done: it stands again, as one entry of its own. A reason is asked for.
Result<Outcome> count_given_up(Book& book, const Id& dose, std::string_view why, const Going& going);
/// It never happened: it stays struck for this reason, and so do those that were given up with it.
Result<Outcome> leave_given_up(Book& book, const Id& dose, std::string_view why, const Going& going);

}  // namespace steep
