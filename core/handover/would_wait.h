#pragma once
/// How many lines of a file would wait, told before anything is taken in: those that saw what is neither here nor in the file,
/// those whose act is not whole, and all that builds on them. Lines that wait here already may count once the file is in.

#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "book/book.h"

namespace steep {

class WouldWait {
 public:
  explicit WouldWait(const Book& book) : book_(book) {}
  /// A line that is not here, with its predecessor's and its own hash.
  void add(const Change& change, const Hash& prev, const Hash& hash);
  /// Once all are added: how many of them would wait.
  Result<std::int64_t> count();

 private:
  struct Line {
    ChangeRef ref;
    std::int64_t act = 0;
    bool ends = false, fresh = true;
    std::uint32_t prev = 0;  ///< Tag of the line before.
    std::vector<ChangeRef> seen;
    std::size_t unit = 0;  ///< First line of its act, as far as that is known.
  };
  /// Saves that belong together: they count all at once or not at all.
  struct Unit {
    bool begins = false, ends = false, lacks = false;
    std::size_t open = 0;              ///< Sights of other units that do not count yet.
    std::vector<std::size_t> seen_by;  ///< Units.
  };
  void put(const Change& change, const Hash& prev, const Hash& hash, bool fresh);
  std::optional<std::size_t> find(const ChangeRef& ref) const;
  std::optional<std::size_t> before(const Line& line) const;
  void gather_acts();
  void gather_sights();
  void settle();

  const Book& book_;
  std::vector<Line> lines_;
  std::multimap<std::pair<Id, std::int64_t>, std::size_t> at_;  // lane, sequence → lines
  std::vector<Unit> units_;                                     // by their first line
};

}  // namespace steep
