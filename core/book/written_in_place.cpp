#include "book/written_in_place.h"

#include "book/sql.h"

namespace steep {
namespace {

/// What SQLite goes by after it was asked for `sql`: 'wal', 'delete', … Empty: it refused.
std::string journal_mode(const Database& db, std::string_view sql) {
  auto query = db.query(sql);
  const std::string mode = query.next() ? query.text(0) : std::string();
  return query.done() ? mode : std::string();
}

}  // namespace

WrittenInPlace::WrittenInPlace(const Book& book) {
  const Database& db = book.db();
  if (journal_mode(db, "PRAGMA journal_mode") != "wal") return;
  if (journal_mode(db, "PRAGMA journal_mode=DELETE") == "delete") db_ = &db;
}

WrittenInPlace::~WrittenInPlace() {
  if (db_ != nullptr) (void)journal_mode(*db_, "PRAGMA journal_mode=WAL");
}

}  // namespace steep
