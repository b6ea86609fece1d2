#pragma once
/// What a person still has to look at or decide: one list for the badge, the merge screen, the report's foot.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"

namespace steep {

enum class QuestionKind {
  SameBedTwice,   ///< Two entries, one bed, overlapping time.
  Differs,        ///< Heads of a group with different values.
  EditedUnaware,  ///< Struck here, edited there.
  GivenUp,        ///< Struck as the same work as another entry, which does not stand either.
  LateChild,      ///< Came after its parent was struck.
  SameThing,      ///< Two records of one kind and name, or of which copies said both: one thing?
  Finding,        ///< Of the checks. Here and below nothing is asked.
  Waiting,        ///< Changes wait for earlier ones.
};

struct OpenQuestion {
  QuestionKind kind = QuestionKind::Finding;
  Id record, other;  ///< `other`: the second dose, what it was given up for, the record of the same name.
  std::string record_kind, group;
  Id farm;  ///< Nil = the house.
  WordId word;
  std::vector<std::string> values;  ///< For `spell`.
  Moment since;
  /// To settle (a decision is asked), or only to look at.
  bool is_to_settle() const { return kind < QuestionKind::Finding; }
};

struct QuestionCounts {
  int to_settle = 0, same_bed = 0, to_look_at = 0, waiting = 0;
  int all() const { return to_settle + to_look_at + waiting; }
};

/// To settle first, then by time. `farm` narrows to it and the house.
Result<std::vector<OpenQuestion>> open_questions(const Book& book, const std::optional<Id>& farm = {});
Result<QuestionCounts> question_counts(const Book& book, const std::optional<Id>& farm = {});

}  // namespace steep
