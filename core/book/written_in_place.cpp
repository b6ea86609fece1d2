#include "book/written_in_place.h"

#include "book/sql.h"

namespace steep {
namespace {

// What is written again and again, a few indexes, fits; of the lines, which are read once more from all over the journal, no
// cache would hold enough. A larger one is no faster.
constexpr std::string_view kSmallCache = "PRAGMA cache_size=-32768";

/// What SQLite goes by after it was asked for `sql`: 'wal', 'delete', … Empty: it refused, or says nothing.
std::string answer(const Database& db, std::string_view sql) {
  auto query = db.query(sql);
  const std::string mode = query.next() ? query.text(0) : std::string();
  return query.done() ? mode : std::string();
}

}  // namespace

WrittenInPlace::WrittenInPlace(const Book& book) {
  const Database& db = book.db();
  if (answer(db, "PRAGMA journal_mode") != "wal") return;
  if (answer(db, "PRAGMA journal_mode=DELETE") != "delete") return;
  db_ = &db;
  cache_ = answer(db, "PRAGMA cache_size");
  (void)answer(db, kSmallCache);
}

WrittenInPlace::~WrittenInPlace() {
  if (db_ == nullptr) return;
  (void)answer(*db_, "PRAGMA cache_size=" + cache_);
  (void)answer(*db_, "PRAGMA journal_mode=WAL");
}

}  // namespace steep
