#pragma once
/// A large take written in place, beside a rollback journal, instead of through the write-ahead log.

#include <cstdint>
#include <string>

#include "book/book.h"

namespace steep {

/// A large take writes more than the cache holds. Through the log each such page goes to the disk twice and is looked for
/// in the log whenever it is read again, and the commit copies all of them in one piece, in which a window stands still.
/// In place they go where they belong, and what was there before goes to the journal; after a kill or a power failure
/// whoever opens the book next puts it back. Others cannot read meanwhile. So it is done only while no other program has
/// the book open; else, and where there is no log, nothing changes.
/// Its cache is half as large meanwhile.
class WrittenInPlace {
 public:
  /// New changes; with fewer the commit is short, and others had better go on reading.
  static constexpr std::int64_t kWorthIt = 20'000;

  /// Outside a transaction.
  explicit WrittenInPlace(const Book& book);
  WrittenInPlace(const WrittenInPlace&) = delete;
  WrittenInPlace& operator=(const WrittenInPlace&) = delete;
  /// Through the log again; where another program holds the book just now, from the next start on.
  ~WrittenInPlace();

 private:
  const Database* db_ = nullptr;  ///< nullptr: nothing was changed.
  std::string cache_;             ///< As it was before.
};

}  // namespace steep
