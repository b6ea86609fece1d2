#pragma once
/// What a person still has to look at or decide: one list for the badge, the merge screen, the report's foot.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/places.h"
#include "book/work.h"

namespace steep {

enum class QuestionKind {
  SameBedTwice,   ///< Two entries, one bed, overlapping time.
  Differs,        ///< Heads of a group with different values.
  EditedUnaware,  ///< Struck here, edited there.
  GivenUp,        ///< Struck as the same work as another entry, which does not stand either.
  LateChild,      ///< Came after its parent was struck.
  SameThing,      ///< Two records of one kind and name, or of which copies said both: one thing?
  Finding,        ///< Of the checks.
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
  bool is_to_settle() const { return kind <= QuestionKind::GivenUp || kind == QuestionKind::SameThing; }
};

struct QuestionCounts {
  int to_settle = 0, same_bed = 0, to_look_at = 0, waiting = 0;
  int all() const { return to_settle + to_look_at + waiting; }
};

/// To settle first, then by time. `farm` narrows to it and the house.
Result<std::vector<OpenQuestion>> open_questions(const Book& book, const std::optional<Id>& farm = {});
Result<QuestionCounts> question_counts(const Book& book, const std::optional<Id>& farm = {});

/// A pair of doses on one bed whose stretches and times overlap, by two people, copies or passes.
struct DosePair {
  Id bed, first, second;  ///< `first` finished earlier (tie by id): the one that totals count.
};
/// Not yet answered. `farm` narrows.
Result<std::vector<DosePair>> same_bed_pairs(const Book& book, const std::optional<Id>& farm = {});
/// Those of one bed's own record.
Result<std::vector<DosePair>> same_bed_pairs_on(const Book& book, const Id& bed);

/// One side of 'Same bed, twice?'.
struct TwiceEntry {
  Dose dose;
  std::string who, copy;  ///< 'Ana', 'Ana's phone'.
  std::string pass_code;
  int load_number = 0;
  ShownVolume volume;
};
struct TwiceSheet {
  TwiceEntry first, second;
  Bed bed;
  Farm farm;
  std::string crops;
  Stretch overlap;  ///< Along the bed.
  Moment overlap_from, overlap_to;
  Hold harvest;  ///< As it counts now, from the later finish.
};
Result<TwiceSheet> twice_sheet(const Book& book, const Id& first, const Id& second, Moment now);

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
  /// Copies whose version its author had not seen.
  std::vector<std::string> not_seen;
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
/// Lane → the copy that wrote in it; this one for all lanes that it ever went by.
std::map<Id, Id> copies_of_lanes(const Book& book);

}  // namespace steep
