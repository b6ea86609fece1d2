#pragma once
/// Children that would come late: they would stand although what they belong to is struck (review.late_child), told before a
/// file is taken in.

#include <map>
#include <utility>
#include <vector>

#include "book/book.h"

namespace steep {

/// What a file says of strikes: records that it changes, as they would be, and children new with it.
struct StrikesSaid {
  std::map<Id, bool> struck;
  std::map<Id, Id> new_children;  ///< Child → its parent.
};
/// Child and parent; `said` alone would bring each of them.
Result<std::vector<std::pair<Id, Id>>> would_come_late(const Book& book, const StrikesSaid& said);

}  // namespace steep
