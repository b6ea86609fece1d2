#pragma once
/// What follows once all records of a write or a take are folded: children that came after their parent was
/// struck, the book's own row, one id in two parts, the checks of the trade. In small steps.

#include <memory>
#include <set>
#include <unordered_map>
#include <vector>

#include "book/store.h"
#include "book/take_checks.h"

namespace steep {

class AfterFold {
 public:
  AfterFold(Store& store, FoldSum sum);
  /// One small piece; false when all is done.
  Result<bool> step();
  double share() const;  ///< 0…1 done.

  std::int64_t findings = 0;  ///< Of the checks.
  std::vector<Id> touched;    ///< Records, sorted.

 private:
  enum Phase { Children, OtherChildren, Parts, Checks, Examined, Findings, Done };
  Result<void> review_child(const FoldedRecord& child);
  Result<void> review_other_child(std::int64_t record);
  Result<void> review_parts(const FoldedRecord& record);
  Result<void> look_for_two_parts();
  Result<bool> is_struck(const Id& parent);
  void begin_checks();
  std::deque<Said> said_by_touched();
  Result<void> begin_checks_over_touched();
  Result<void> forget_findings(const Id& examined);
  Result<void> keep_finding(const Review& finding);

  Store& store_;
  FoldSum sum_;
  Phase phase_ = Children;
  std::size_t next_ = 0;
  std::vector<std::int64_t> other_children_;  // of records struck or restored
  std::unordered_map<Id, bool> struck_;       // parents asked for
  std::set<Id> in_two_parts_;                 // of the records at least
  bool knows_parts_ = false;                  // the others are in one
  std::unique_ptr<Checking> checking_;
  std::vector<std::int64_t> with_findings_;  // records, sorted; of a large take only
  bool knows_findings_ = false;
};

/// All of it at once.
Result<void> after_fold(Store& store, FoldSum sum);

}  // namespace steep
