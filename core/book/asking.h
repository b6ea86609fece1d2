#pragma once
/// Facts that differ, put to a person who may know: 'Ask Marek in the next file'.
///
/// The question is a note on the record, so it travels with the next file like everything else. It names the versions it is
/// about, and is open while at least two of them still stand against each other: settling answers it, on every copy.

#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"

namespace steep {

/// Asks `person` about the facts of the record that differ; `group` narrows to one of them, empty = all. An empty `text` asks
/// which version is right. Trouble: BadInput "settle.agrees" when nothing (of that group) differs, "asking.nobody" without a
/// person.
Result<Outcome> ask_person(Book& book, const Id& record, std::string_view group, const Id& person,
                           std::string_view text, const Going& going);

struct AskedFact {
  Id note, record;
  std::string kind;                 ///< Of the record.
  std::vector<std::string> groups;  ///< Facts that it is about and that still differ.
  Id person, by;
  std::string text;  ///< Empty = 'Which is right?'.
  Moment at;
};
/// Questions that nobody has answered, oldest first; `person`: those put to that one, nil = all.
Result<std::vector<AskedFact>> open_asks(const Book& book, const Id& person = {});

}  // namespace steep
