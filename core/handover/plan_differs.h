#pragma once
/// What a file would leave to settle, told before anything is taken in: each record that it changes is folded in
/// memory, once as it stands and once with the file's lines.

#include <functional>
#include <map>
#include <set>
#include <vector>

#include "book/book.h"
#include "book/fold.h"
#include "book/given_up.h"
#include "book/late.h"
#include "handover/take.h"

namespace steep {

class Comparing {
 public:
  /// A fresh line of a record that is here. False once kMostCompared lines are kept: later ones are not compared.
  bool add(const Change& change, const Hash& hash);
  /// A line of a record that is new here differs from nothing, but its dose may be struck for one that is here.
  bool add_new(const Change& change, const Hash& hash);
  /// A line of a record that is new here and belongs to `parent`, which is not: it may be struck.
  bool add_child(const Change& change, const Id& parent);
  /// Compares the next record and adds what would differ, by group; false when all are compared. Lines that would wait
  /// are compared as if they had all they wait for.
  Result<bool> compare_next(const Book& book, std::vector<PlanDiffers>& found);
  /// Once all are compared: doses that would be given up for one that stands no more. `is_new`: is a record in the file
  /// that is not here?
  Result<void> find_given_up(const Book& book, const std::function<bool(const Id&)>& is_new,
                             std::vector<PlanDiffers>& found);
  /// Then: children that would stand although what they belong to is struck.
  Result<void> find_late(const Book& book, std::vector<PlanDiffers>& found);

 private:
  std::map<Id, std::vector<FoldLine>> fresh_;
  std::set<Id> new_;  // of these, not here
  std::size_t lines_ = 0;
  DosesSaid doses_;  // as they would be
  StrikesSaid strikes_;
  std::map<Id, std::string> children_;  // new with the file → kind
};

}  // namespace steep
