#pragma once
/// The fold of one record: from its ready changes to heads, stand-ins and conflicts. Pure.
///
///   heads(g)    = {c : c writes g} − {d : some c saw d and writes g}; what c saw through a line that is set aside and
///                 writes g itself counts as seen
///   winner(g)   = the greatest head by (t, c, lane, hash); a stand-in only where heads differ
///   conflict(g) = at least two distinct values of the whole group among heads(g)

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "book/change.h"

namespace steep {

struct FoldLine {
  std::int64_t row = 0;
  Hash hash{};
  Change change;
  bool aside = false;  ///< In no value, but what its author had seen was over for whoever saw it.
};

struct FoldedGroup {
  std::string key;
  std::vector<std::size_t> heads;  ///< Places in the lines, the winner first.
  bool differs = false;
};

struct Folded {
  std::size_t first = 0;            ///< The creating line.
  std::vector<FoldedGroup> groups;  ///< By key.
  std::string struck;               ///< Reason; empty = not struck.
  bool needs_newer = false;
  std::vector<std::string> unaware;  ///< Groups with a head whose author had not seen the strike.

  const FoldedGroup* group(std::string_view key) const;
};

/// `lines`: at least one that is not set aside, in any order; the result does not depend on it.
Folded fold(std::span<const FoldLine> lines);
/// Lists whose items were said one by one: heads that list different ones do not contradict each other, all of them hold.
bool gathers(std::string_view group);
/// The items of all these, each once, as one list; `key` of a group that gathers.
FieldValue gathered(std::string_view key, std::span<const FieldValue* const> lists);
/// Do both write the same value of the whole group? Quantities by exact amount, all else by text.
bool same_group(const Change& a, const Change& b, std::string_view group);
bool same_value(const FieldValue& a, const FieldValue& b);
/// By (t, c, lane, hash).
bool outranks(const FoldLine& a, const FoldLine& b);
/// Of the change that wins: nullptr when it does not write the field.
const FieldValue* field_of(const Change& change, std::string_view key);

}  // namespace steep
