#pragma once
/// A record whose copies differ: every version of each group that does, and what both started from.

#include <map>
#include <string>
#include <vector>

#include "base/words.h"
#include "book/book.h"

namespace steep {

/// One version of a group that differs.
struct DifferingVersion {
  std::size_t choice = 0;  ///< For `settle`.
  bool stand_in = false;   ///< What tables and totals show meanwhile.
  Id copy_id;              ///< Of the copy that wrote it; labels may be those of two.
  std::string who, copy;
  Moment at;
  bool clock_doubtful = false;
  std::string why;
  std::vector<FieldValue> fields;
  std::vector<std::size_t> not_seen;  ///< Places of the versions that its author had not seen.
};
struct DifferingGroup {
  std::string group;
  std::vector<DifferingVersion> versions;
  std::vector<FieldValue> before;  ///< The value both started from; empty = none.
};
struct DifferingRecord {
  Id record;
  std::string kind;
  std::vector<DifferingGroup> groups;
  std::vector<FieldValue> same;  ///< Fields of all other groups, as they stand.
};
Result<DifferingRecord> differing(const Book& book, const Id& record);
/// A copy by its label; where it has none, 'This book' or 'a copy without a name (k7q)'.
std::string copy_told(const Book& book, const Id& copy, const std::string& label, const Words& words);
/// The copies whose versions its author had not seen, each once.
std::string not_seen_told(const Book& book, const DifferingGroup& group, const DifferingVersion& version,
                          const Words& words);
/// Lane → the copy that wrote in it; this one for all lanes that it ever went by.
std::map<Id, Id> copies_of_lanes(const Book& book);

}  // namespace steep
