#pragma once
/// What can be done with any record: correct, strike, restore, join. Settling is in settle_commands.h.

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"

namespace steep {

/// Writes new values over one or several groups, each whole: fields not given are carried along as they
/// stood at `seen`. `seen`: heads of the opening of the form; empty = those of now. A reason is asked for.
/// The checks of the kind run again; `why` is of the correction, Going::reason of going on in spite of what they say.
/// Trouble: BadInput "record.why", "check.…"; Ask.
Result<Outcome> correct(Book& book, const Id& record, std::vector<FieldValue> fields, std::vector<ChangeRef> seen,
                        std::string_view why, const Going& going);

/// Strikes the record and, in the same act, every child that hangs on it here (loads, doses, lines,
/// readings, notes …). The reason must not be blank. Children that arrive later stay unstruck.
Result<Outcome> strike(Book& book, const Id& record, std::string_view why, const Going& going);
/// The children that `strike` would take along, deepest last; for the confirm sheet.
Result<std::vector<Id>> children_of(const Book& book, const Id& record);
/// Restores it, and with `with_children` those that were struck in the same act.
Result<Outcome> restore(Book& book, const Id& record, bool with_children, std::string_view why, const Going& going);

/// 'Same bed, twice?'
enum class TwiceAnswer {
  SameWork,   ///< `kept` stands, the other is struck as kLoggedTwice and points at it.
  EachAPart,  ///< They met at `met`: the first one has from its start to there, the other the rest.
  BothFull,   ///< Both stand.
};
struct TwiceRequest {
  Id first, second;
  TwiceAnswer answer = TwiceAnswer::BothFull;
  Id kept;                        ///< Of SameWork: first or second.
  FieldValue met;                 ///< Of EachAPart: a quantity, place along the bed.
  bool first_at_zero_end = true;  ///< Of EachAPart.
  std::string why;
};
/// Trouble: BadInput  a meeting place outside the bed; NotFound  one is not here.
Result<Outcome> answer_same_bed_twice(Book& book, const TwiceRequest& request, const Going& going);

/// Two records that are one thing; reversible, ids never change. Both of one kind. Takes back that they are two, where
/// somebody said so; `say_not_same` takes back that they are one.
Result<Outcome> join_same(Book& book, const Id& record, const Id& as, std::string_view why, const Going& going);
/// Of a block also the beds that were joined with it.
Result<Outcome> part_same(Book& book, const Id& record, std::string_view why, const Going& going);
/// 'No, they are two': never offered again.
Result<Outcome> say_not_same(Book& book, const Id& record, const Id& other, const Going& going);

}  // namespace steep
