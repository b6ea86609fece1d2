#pragma once
/// What a file would leave to settle, told before anything is taken in: each record that it changes is folded in
/// memory, once as it stands and once with the file's lines.

#include <map>
#include <vector>

#include "book/book.h"
#include "book/fold.h"
#include "handover/take.h"

namespace steep {

class Comparing {
 public:
  /// A fresh line of a record that is here. False once kMostCompared lines are kept: later ones are not compared.
  bool add(const Change& change, const Hash& hash);
  /// Compares the next record and adds what would differ, by group; false when all are compared. Lines that would wait
  /// are compared as if they had all they wait for.
  Result<bool> compare_next(const Book& book, std::vector<PlanDiffers>& found);

 private:
  std::map<Id, std::vector<FoldLine>> fresh_;
  std::size_t lines_ = 0;
};

}  // namespace steep
