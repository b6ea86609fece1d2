#pragma once
/// The lines that a take adds, as far as other lines may have seen them, and which of them may count.
///
/// A file holds one lane after the other, so most lines saw lines that are still to come. Asking the journal
/// again for each, once all are in, costs more than all else. So rows are written as if they counted; what each
/// still lacks is kept here, and in the end the few that lack something for good are turned round. Some 50
/// bytes a line, in pieces: a list that doubles would hold the old beside the new. What is not plain (an act that
/// began in an earlier file, a second branch of a lane) is written as waiting, and Readying looks at it.

#include <algorithm>
#include <cstdint>
#include <deque>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>
#include <vector>

#include "book/store.h"

namespace steep {

class FreshLines {
 public:
  explicit FreshLines(Store& store) : store_(store) {}

  /// The next lines belong to this lane.
  void lane(const Id& lane);
  /// The next line of the lane. True: its row is to be written as counting.
  Result<bool> add(const Change& change, const Hash& prev, const Hash& hash);
  /// Where the line just added was written: one row after the other.
  void written(std::int64_t row, std::int64_t record);

  /// After the last line: begins to find out which count.
  void begin_settling();
  /// One short piece of it; false when all acts are settled.
  bool settle_next();
  struct Rows {
    std::int64_t first = 0, last = 0;
  };
  /// Then, until there are no more: rows written as counting that don't count, after all.
  std::optional<Rows> next_waiting();
  /// Then, once: records of lines that count, sorted.
  std::vector<std::int64_t> records();

 private:
  /// One lane's lines, each following the one before.
  struct Run {
    std::int64_t first = 0;  // sequence
    Hash last{};             // of its last line
    std::vector<std::uint32_t> tags;
    std::vector<bool> counts;  // proven
    std::int64_t end() const { return first + static_cast<std::int64_t>(tags.size()); }
    bool has(std::int64_t seq, std::uint32_t tag) const {
      return seq >= first && seq < end() && tags[static_cast<std::size_t>(seq - first)] == tag;
    }
    bool is_counting(std::int64_t seq) const { return counts[static_cast<std::size_t>(seq - first)]; }
    void count(std::int64_t from, std::int64_t lines) {
      const auto begin = counts.begin() + static_cast<std::ptrdiff_t>(from - first);
      std::fill(begin, begin + static_cast<std::ptrdiff_t>(lines), true);
    }
  };
  /// Saves that belong together, of which some saw what is not proven yet.
  struct Act {
    std::uint32_t lane = 0, lacks = 0, lines = 0;
    std::uint32_t line = 0;  // its first, among all written
    std::int64_t seq = 0;    // of that
  };
  /// An act that saw a line of some stretch.
  struct Lack {
    std::uint32_t place = 0, tag = 0, act = 0;  // place: of the line within the stretch
  };
  /// So many sequences of a lane: what is lacked of them is sorted in one short step.
  static constexpr std::int64_t kStretch = 16'384;
  using Stretch = std::pair<std::uint32_t, std::int64_t>;  // lane, and which of its stretches
  using Lacks = std::map<Stretch, std::vector<Lack>>;
  static constexpr std::uint32_t kForGood = UINT32_MAX;

  std::uint32_t number_of(const Id& lane);
  bool append(std::int64_t seq, const Hash& prev, const Hash& hash);
  Result<Presence> find(const ChangeRef& ref);
  void end_act(bool whole);
  void sort_lacks(const Stretch& stretch, std::vector<Lack>& lacks);
  void prove(const Act& act);
  void meet(const Lack& lack);

  Store& store_;
  std::unordered_map<Id, std::uint32_t> numbers_;
  std::vector<Run> runs_;  // by number
  std::uint32_t lane_ = 0;
  Act act_;  // being read
  bool in_act_ = false, ends_ = false;
  std::deque<Act> open_;
  std::vector<std::uint32_t> free_;  // of these: lack nothing any more
  Lacks lacks_;
  Lacks::iterator unsorted_;
  std::uint32_t next_waiting_ = 0;  // among open_
  std::int64_t first_row_ = 0;
  std::deque<std::int64_t> records_;  // of each line written; 0 = it doesn't count
};

}  // namespace steep
