#include "bench/merge/plain.h"

#include <sqlite3.h>

#include <cstdio>
#include <vector>

namespace steep::bench {
namespace {

constexpr std::size_t kRowsAtOnce = 20'000;

/// A value that outlives the row it was read from.
using Values = std::vector<sqlite3_value*>;

class Connection {
 public:
  explicit Connection(const std::string& path) { sqlite3_open(path.c_str(), &db_); }
  ~Connection() { sqlite3_close_v2(db_); }
  bool run(const std::string& sql) {
    if (sqlite3_exec(db_, sql.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK) return true;
    std::fprintf(stderr, "plain inserts: %s\n  %s\n", sqlite3_errmsg(db_), sql.c_str());
    return false;
  }
  sqlite3_stmt* prepare(const std::string& sql) {
    sqlite3_stmt* statement = nullptr;
    if (sqlite3_prepare_v3(db_, sql.c_str(), -1, SQLITE_PREPARE_PERSISTENT, &statement, nullptr) != SQLITE_OK)
      std::fprintf(stderr, "plain inserts: %s\n", sqlite3_errmsg(db_));
    return statement;
  }

 private:
  sqlite3* db_ = nullptr;
};

struct Table {
  std::string name;
  std::vector<std::string> create;  // the table, then its indexes
};

std::vector<Table> tables_of(Connection& db) {
  std::vector<Table> tables;
  sqlite3_stmt* query =
      db.prepare("SELECT tbl_name, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY tbl_name, type DESC, rowid");
  while (query && sqlite3_step(query) == SQLITE_ROW) {
    const std::string name = reinterpret_cast<const char*>(sqlite3_column_text(query, 0));
    if (tables.empty() || tables.back().name != name) tables.push_back({name, {}});
    tables.back().create.emplace_back(reinterpret_cast<const char*>(sqlite3_column_text(query, 1)));
  }
  sqlite3_finalize(query);
  return tables;
}

bool copy_rows(Connection& from, Connection& to, const Table& table, Spent& spent) {
  sqlite3_stmt* read = from.prepare("SELECT * FROM \"" + table.name + '"');
  if (!read) return false;
  const int columns = sqlite3_column_count(read);
  std::string places = "?";
  for (int i = 1; i < columns; ++i) places += ",?";
  sqlite3_stmt* insert = to.prepare("INSERT INTO \"" + table.name + "\" VALUES(" + places + ")");
  bool fine = insert != nullptr, more = true;
  std::vector<Values> rows;
  while (fine && more) {
    rows.clear();
    while (rows.size() < kRowsAtOnce && (more = sqlite3_step(read) == SQLITE_ROW)) {
      Values& row = rows.emplace_back();
      for (int i = 0; i < columns; ++i) row.push_back(sqlite3_value_dup(sqlite3_column_value(read, i)));
    }
    const Clock clock;
    for (const Values& row : rows) {
      for (int i = 0; i < columns; ++i) sqlite3_bind_value(insert, i + 1, row[static_cast<std::size_t>(i)]);
      fine = fine && sqlite3_step(insert) == SQLITE_DONE;
      sqlite3_reset(insert);
    }
    spent += clock.spent();
    for (const Values& row : rows)
      for (sqlite3_value* value : row) sqlite3_value_free(value);
  }
  sqlite3_finalize(read);
  sqlite3_finalize(insert);
  return fine;
}

}  // namespace

Spent plain_inserts(const std::string& path, const std::string& copy, const std::string& journal) {
  Connection from(path), to(copy);
  bool fine = to.run("PRAGMA page_size=4096; PRAGMA journal_mode=" + journal +
                     "; PRAGMA synchronous=FULL; PRAGMA cache_size=-65536;");
  const std::vector<Table> tables = tables_of(from);
  for (const Table& table : tables)
    for (const std::string& sql : table.create) fine = fine && to.run(sql);
  fine = fine && to.run("BEGIN IMMEDIATE");
  Spent spent;
  for (const Table& table : tables) fine = fine && copy_rows(from, to, table, spent);
  const Clock clock;
  fine = fine && to.run("COMMIT");
  spent += clock.spent();
  return fine ? spent : Spent{-1, -1};
}

}  // namespace steep::bench
