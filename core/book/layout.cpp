// The tables of a book, and how an older program's ones become ours.
#include "base/sha256.h"
#include "book/store.h"
#include "book/wide.h"

namespace steep {
namespace {

constexpr std::int64_t kApplication = 0x53746565;  // 'Stee': PRAGMA application_id of a book.
/// Moves on whenever the fold changes: the next start folds anew.
constexpr std::string_view kFoldVersion = "fold 3";

/// What is true and local. Bodies of changes are the book; all else here is bookkeeping of this copy.
constexpr std::string_view kTrueTables = R"sql(
CREATE TABLE book(one INTEGER PRIMARY KEY CHECK(one=1), id BLOB, name TEXT NOT NULL, demo INTEGER NOT NULL,
  format INTEGER NOT NULL, shape TEXT NOT NULL, created INTEGER NOT NULL, clock INTEGER NOT NULL, digest BLOB NOT NULL);
INSERT INTO book VALUES(1, NULL, '', 0, 1, '', 0, 0, zeroblob(32));
CREATE TABLE joined(id BLOB PRIMARY KEY) WITHOUT ROWID;
CREATE TABLE part(id INTEGER PRIMARY KEY, text TEXT NOT NULL UNIQUE);
CREATE TABLE lane(id INTEGER PRIMARY KEY, uid BLOB NOT NULL UNIQUE, part INTEGER NOT NULL, label TEXT NOT NULL,
  copy BLOB, mine INTEGER NOT NULL, ours INTEGER NOT NULL, last_seq INTEGER NOT NULL, tip BLOB NOT NULL,
  told INTEGER NOT NULL, given INTEGER NOT NULL, confirmed INTEGER NOT NULL);
CREATE TABLE change(id INTEGER PRIMARY KEY, hash BLOB NOT NULL, prev BLOB NOT NULL, lane INTEGER NOT NULL,
  seq INTEGER NOT NULL, rec INTEGER NOT NULL, t INTEGER NOT NULL, c INTEGER NOT NULL, wall INTEGER NOT NULL,
  act INTEGER NOT NULL, ends INTEGER NOT NULL, ready INTEGER NOT NULL, batch INTEGER, body TEXT NOT NULL);
CREATE TABLE gap(change INTEGER PRIMARY KEY);
CREATE TABLE record(id INTEGER PRIMARY KEY, uid BLOB NOT NULL, part INTEGER NOT NULL, kind TEXT, first INTEGER,
  needs_newer INTEGER NOT NULL DEFAULT 0, UNIQUE(uid, part));
CREATE TABLE grp(id INTEGER PRIMARY KEY, key TEXT NOT NULL UNIQUE);
CREATE TABLE batch(id INTEGER PRIMARY KEY, file TEXT NOT NULL, hash BLOB NOT NULL, sender TEXT NOT NULL, copy BLOB,
  at INTEGER NOT NULL, changes INTEGER NOT NULL, aside INTEGER NOT NULL);
CREATE TABLE import_log(id INTEGER PRIMARY KEY, batch INTEGER, file TEXT NOT NULL, hash BLOB NOT NULL,
  sender TEXT NOT NULL, at INTEGER NOT NULL, lines INTEGER NOT NULL, added INTEGER NOT NULL, waiting INTEGER NOT NULL);
CREATE TABLE peer(copy BLOB PRIMARY KEY, label TEXT NOT NULL, heard INTEGER NOT NULL, given INTEGER NOT NULL,
  tips TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE draft(form TEXT PRIMARY KEY, rec BLOB, heads TEXT NOT NULL, at INTEGER NOT NULL);
CREATE TABLE draft_field(form TEXT NOT NULL, key TEXT NOT NULL, text TEXT NOT NULL, PRIMARY KEY(form, key)) WITHOUT ROWID;
CREATE TABLE setting(key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
)sql";

constexpr std::string_view kDerivedTables = R"sql(
CREATE TABLE head(rec INTEGER NOT NULL, grp INTEGER NOT NULL, chg INTEGER NOT NULL, win INTEGER NOT NULL,
  PRIMARY KEY(rec, grp, chg)) WITHOUT ROWID;
CREATE TABLE review(id INTEGER PRIMARY KEY, rec INTEGER NOT NULL, grp TEXT NOT NULL, why TEXT NOT NULL,
  vals TEXT NOT NULL, since INTEGER NOT NULL, source INTEGER NOT NULL);
CREATE INDEX review_record ON review(rec, source);
CREATE INDEX review_why ON review(why);
)sql";

struct Index {
  std::string_view name, sql;
};
/// Of the journal. A line is found by its place in its lane and its hash, which are what makes it the same line
/// wherever it comes from: lines come lane by lane, so that this index grows at its end. By the hash alone each
/// would fall on another page, and the larger the book the more pages a day's file would touch.
constexpr Index kJournalIndexes[] = {
    {"change_address", "CREATE UNIQUE INDEX change_address ON change(lane, seq, hash, wall)"},
    {"change_record", "CREATE INDEX change_record ON change(rec)"},
    {"change_waiting", "CREATE INDEX change_waiting ON change(ready) WHERE ready=0"},
    {"change_batch", "CREATE INDEX change_batch ON change(batch) WHERE batch IS NOT NULL"},
    {"record_kind", "CREATE INDEX record_kind ON record(kind) WHERE kind IS NOT NULL"}};

/// Of all that decides what the derived tables and indexes look like.
std::string shape() {
  Sha256 sum;
  sum.add(kFoldVersion);
  sum.add(kDerivedTables);
  for (const Index& index : kJournalIndexes) sum.add(index.sql);
  for (const WideTable& table : wide_tables()) sum.add(table.create);
  return hex(sum.finish());
}

Result<std::int64_t> number(const Database& db, std::string_view sql) {
  auto query = db.query(sql);
  const std::int64_t value = query.next() ? query.integer(0) : 0;
  TRY(query.done());
  return value;
}

Result<void> set_pragmas(const Database& db, bool write_ahead) {
  // A disk: write-ahead log with full sync, so another program may read while we write. The page store
  // keeps all pages in memory and writes them in one step at commit: nothing may reach it before.
  if (write_ahead)
    return db.run("PRAGMA page_size=4096; PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA cache_size=-65536;");
  return db.run(
      "PRAGMA page_size=4096; PRAGMA locking_mode=EXCLUSIVE; PRAGMA journal_mode=MEMORY; "
      "PRAGMA cache_spill=OFF; PRAGMA cache_size=-16384;");
}

/// Those of an older program become ours.
Result<void> lay_out_indexes(const Database& db) {
  for (const Index& index : kJournalIndexes) {
    auto query = db.query("SELECT 1 FROM sqlite_schema WHERE type='index' AND name=? AND sql=?");
    query.bind(1, index.name).bind(2, index.sql);
    const bool stands = query.next();
    TRY(query.done());
    if (stands) continue;
    TRY(db.run("DROP INDEX IF EXISTS " + std::string(index.name)));
    TRY(db.run(index.sql));
  }
  return {};
}

}  // namespace

Result<void> lay_out_derived(const Database& db) {
  TRY(lay_out_indexes(db));
  // Also tables of kinds that only another program knew.
  std::vector<std::string> old;
  auto tables =
      db.query("SELECT name FROM sqlite_schema WHERE type='table' AND (name GLOB 'k_*' OR name IN ('head','review'))");
  while (tables.next()) old.push_back(tables.text(0));
  TRY(tables.done());
  for (const std::string& name : old) TRY(db.run("DROP TABLE \"" + name + "\""));
  TRY(db.run(kDerivedTables));
  for (const WideTable& table : wide_tables()) TRY(db.run(table.create));
  auto query = db.query("UPDATE book SET shape=?");
  query.bind(1, shape());
  return query.run();
}

Result<bool> lay_out(const Database& db, bool write_ahead) {
  TRY(set_pragmas(db, write_ahead));
  TRY_ASSIGN(const auto& tables, number(db, "SELECT count(*) FROM sqlite_schema"));
  if (tables == 0) {
    TRY_ASSIGN(auto transaction, Transaction::begin(db));
    TRY(db.run(kTrueTables));
    TRY(db.run("PRAGMA application_id=" + std::to_string(kApplication)));
    TRY(lay_out_derived(db));
    TRY(transaction.commit());
    return false;
  }
  TRY_ASSIGN(const auto& application, number(db, "PRAGMA application_id"));
  if (application != kApplication) return refuse(Trouble::Damaged, "book.foreign"_w);
  auto row = db.query("SELECT format, shape FROM book");
  if (!row.next()) {
    TRY(row.done());
    return refuse(Trouble::Damaged, "book.foreign"_w);
  }
  if (row.integer(0) > kFormat) return refuse(Trouble::Unsupported, "book.newer"_w);
  return row.text(1) != shape();
}

}  // namespace steep
