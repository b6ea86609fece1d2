#pragma once
/// Lanes of an invented book for measuring how files are merged: entries about brews, made by several copies
/// that see each other's work only now and then. The same bytes on every machine.

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "book/book.h"
#include "handover/file_writer.h"

namespace steep::bench {

/// Fields of one entry: brew, what, at, amount, note. A correction writes amount and note, every second
/// one also what: two and a half field edits.
constexpr int kFields = 5;

/// xorshift64.
struct Chance {
  std::uint64_t state = 88172645463325252u;
  std::uint64_t next();
  std::size_t below(std::size_t n) { return static_cast<std::size_t>((next() >> 11) % n); }
};

/// One copy's lane of the year, written line by line.
struct WrittenLane {
  Lane lane;
  std::vector<Book::Line> lines;
};

/// Several copies writing in turns.
class Workload {
 public:
  explicit Workload(int copies);
  ~Workload();
  Workload(const Workload&) = delete;
  Workload& operator=(const Workload&) = delete;

  /// So many entries of their own, all by one copy.
  void create(int copy, std::int64_t entries);
  /// So many corrections by one copy of entries that it sees.
  void correct(int copy, std::int64_t saves);
  /// One copy saves so often, four of five times correcting any entry that it sees.
  void write(int copy, std::int64_t saves);
  /// Exactly so many lines, half of them corrections of the newest entries.
  void write_day(int copy, std::int64_t lines);
  /// From here on everybody sees everything.
  void meet();

  const WrittenLane& lane(int copy) const;
  std::int64_t changes() const;  ///< Of all copies.
  /// The whole book as a handover file; `without`: all but this copy's lane.
  std::string whole_file(int without = -1) const;
  /// Lines of one copy from `from` on: what somebody lacks who has all before.
  std::string later_file(int copy, std::int64_t from) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace steep::bench
