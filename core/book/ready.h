#pragma once
/// Which changes may count: an act is ready when all its lines are here, in one unbroken chain, and
/// everything that any of them saw is ready or lies in the act itself. All its lines at once, or none.

#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "book/store.h"

namespace steep {

/// Goes through the acts that wait, in the order of their clocks, which is nearly the order of cause; the
/// few met too early are tried again when what they wait for is ready.
class Readying {
 public:
  explicit Readying(Store& store) : store_(store) {}
  /// Gathers the last lines of all acts that wait.
  Result<void> begin();
  /// Tries the next act and all that it sets free. False when there is none left.
  Result<bool> step();
  double share() const { return ends_.empty() ? 1 : static_cast<double>(next_) / static_cast<double>(ends_.size()); }
  /// Records whose lines became ready; may repeat.
  std::vector<std::int64_t>& records() { return records_; }

 private:
  struct Line;
  using Address = std::pair<std::int64_t, std::int64_t>;  // lane row, sequence
  Result<void> try_act(std::int64_t end);
  Result<bool> collect(std::int64_t end, std::vector<Line>& act);
  Result<bool> may_count(std::int64_t end, const std::vector<Line>& act);
  Result<void> mark(const std::vector<Line>& act);

  Store& store_;
  std::vector<std::int64_t> ends_;
  std::size_t next_ = 0;
  std::multimap<Address, std::int64_t> blocked_;  // what is waited for → last line of the act that waits
  std::vector<std::int64_t> again_;
  std::vector<std::int64_t> records_;
};

}  // namespace steep
