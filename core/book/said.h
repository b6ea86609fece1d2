#pragma once
/// What the lines of a record ever said, as far as checks of other records rest on it: a finding may rest on a value
/// that was replaced or set aside, on one that is not the stand-in, or on one that waits. Only core/book includes this.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "book/change.h"

namespace steep {

struct Said {
  struct Reference {
    std::string_view key;  ///< Of the field, as the table of kinds has it.
    Id id;
    bool operator==(const Reference&) const = default;
  };
  Id record;
  std::string_view kind;              ///< Empty: one of a newer program, or no line is here.
  std::int64_t since = INT64_MAX;     ///< The earliest time that any line names, or was written at; ms.
  std::vector<Reference> references;  ///< Each once.
  std::vector<std::string> codes;     ///< Of pickings.
  std::vector<std::string> made_of;   ///< Items of 'origin.beds', as in ground_pieces().

  void add(const Change& line);
  /// Records that a field ever named.
  std::vector<Id> ids(std::string_view key) const;
};

/// Does a check of something else rest on what a record of this kind names? Of one that no longer counts, and so has
/// no kind (''), its lines have to tell.
bool names_others(std::string_view kind);

}  // namespace steep
