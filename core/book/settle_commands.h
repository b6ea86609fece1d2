#pragma once
/// What a person decides after files came in, beyond one fact of one record: strikes that crossed with edits, all of one side, ground
/// that two starts both wrote down.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"

namespace steep {

/// Struck on one copy, edited on another: `strike` of record_commands.h refuses what is struck already; this says
/// that it stays struck, now that both are seen. A reason is asked for. Trouble::BadInput "record.not-struck".
Result<Outcome> stay_struck(Book& book, const Id& record, std::string_view why, const Going& going);
/// A child that came after its parent was struck: it stays and counts, and is not asked about again.
/// Trouble::BadInput "record.no-parent" for a kind that hangs on nothing.
Result<Outcome> keep_child(Book& book, const Id& record, std::string_view why, const Going& going);

/// What a person chose for one fact that differs.
struct FactChoice {
  std::string group;
  std::size_t choice = 0;         ///< Of Group::heads; or
  std::vector<FieldValue> typed;  ///< another value, whole: every field that any version has.
};
/// Settles several facts of one record in one save. A reason is asked for. Trouble::BadInput "settle.agrees" for one that
/// does not differ any more, "settle.whole-fact" {field} for a typed value that leaves a field to a version. A typed value
/// meets the checks of its kind; Going::reason goes on in spite of them.
Result<Outcome> settle_facts(Book& book, const Id& record, std::span<const FactChoice> choices, std::string_view why,
                             const Going& going);

/// One fact by one of its versions.
Result<Outcome> settle(Book& book, const Id& record, std::string_view group, std::size_t choice, std::string_view why,
                       const Going& going);

/// One fact that differs, with exactly one version written on the copy in question.
struct SidedFact {
  Id record;
  std::string group;
  std::size_t choice = 0;  ///< Of Group::heads.
};
/// Copies that have a version in some difference, by label, with the number of facts each would decide. Two phones may bear
/// one label: `called` tells them apart, 'Phone (k7q)'.
struct Side {
  Id copy;
  std::string label, called;
  std::size_t facts = 0;
};
Result<std::vector<Side>> sides(const Book& book);
/// The one side of this label, code ('k7q') or id. Trouble: NotFound "settle.nothing-of"; Ask "settle.which-side" when several copies bear
/// the label.
Result<Side> side_called(const Book& book, std::string_view typed);
Result<std::vector<SidedFact>> facts_of_side(const Book& book, const Id& copy);
/// Keeps that copy's version of every fact that differs: one act a part (of more than kMaxActLines records several), one
/// reason. Others stay open.
Result<Outcome> settle_side(Book& book, const Id& copy, std::string_view why, const Going& going);

/// Blocks of two starts are one piece of ground: joins them and their beds of equal name, in one act. The beds of
/// `block` then point at those of `as`; ids never change, and `part_same` takes any of it back.
Result<Outcome> join_ground(Book& book, const Id& block, const Id& as, std::string_view why, const Going& going);

}  // namespace steep
