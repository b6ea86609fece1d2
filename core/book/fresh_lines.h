#pragma once
/// The lines that a take adds, as far as other lines may have seen them, and which of them may count.
///
/// A file holds one lane after the other, so most lines saw lines that are still to come. Asking the journal
/// again for each, once all are in, costs more than all else. So rows are written as if they counted; what each
/// still lacks is kept here, and in the end the few that lack something for good are turned round. Some 50
/// bytes a line. What is not plain (an act that began in an earlier file, a second branch of a lane) is
/// written as waiting, and Readying looks at it.

#include <algorithm>
#include <cstdint>
#include <unordered_map>
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
  /// Where the line just added was written.
  void written(std::int64_t row, std::int64_t record);

  struct Rows {
    std::int64_t first = 0, last = 0;
  };
  /// After the last line: rows written as counting that don't count, after all.
  std::vector<Rows> settle();
  /// After settle(): records of lines that count; may repeat.
  std::vector<std::int64_t>& records() { return records_; }

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
    std::size_t records = 0;        // where those of its lines begin
    std::int64_t seq = 0, row = 0;  // of its first line
  };
  struct Lack {
    std::int64_t seq = 0;
    std::uint32_t lane = 0, tag = 0, act = 0;
  };
  static constexpr std::uint32_t kForGood = UINT32_MAX;

  std::uint32_t number_of(const Id& lane);
  bool append(std::int64_t seq, const Hash& prev, const Hash& hash);
  Result<Presence> find(const ChangeRef& ref);
  void end_act(bool whole);
  void prove(const Act& act, std::vector<std::uint32_t>& free);

  Store& store_;
  std::unordered_map<Id, std::uint32_t> numbers_;
  std::vector<Run> runs_;  // by number
  std::uint32_t lane_ = 0;
  Act act_;  // being read
  bool in_act_ = false, ends_ = false;
  std::vector<Act> open_;
  std::vector<Lack> lacks_;
  std::vector<std::int64_t> open_records_, records_;
};

}  // namespace steep
