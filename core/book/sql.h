#pragma once
/// SQLite with results instead of return codes. Only core/book includes this.

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/id.h"
#include "base/result.h"
#include "base/sha256.h"

struct sqlite3;
struct sqlite3_stmt;

namespace steep {

struct StatementCache;
struct IdleStatements;

/// A prepared statement, bound from 1 and read from 0. Every step is checked; a failed one is kept
/// and ends the loop, so `while (q.next())` followed by `TRY(q.done())` is complete.
class Query {
 public:
  Query(const Query&) = delete;
  Query& operator=(const Query&) = delete;
  Query(Query&&) noexcept;
  Query& operator=(Query&&) noexcept;
  ~Query();

  Query& bind(int place, std::int64_t value);
  Query& bind(int place, double value);
  Query& bind(int place, std::string_view text);  ///< Copied.
  Query& bind(int place, const Id& id);           ///< 16-byte blob.
  Query& bind_bytes(int place, std::span<const std::uint8_t> bytes);
  Query& bind_null(int place);

  bool next();          ///< A row is there.
  Result<void> done();  ///< Resets; the trouble of the last step if there was one.
  Result<void> run();   ///< Steps to the end of a statement without rows, resets.

  bool is_null(int column) const;
  std::int64_t integer(int column) const;
  double real(int column) const;
  std::string text(int column) const;
  std::string_view text_view(int column) const;  ///< Until the next step.
  Id id(int column) const;                       ///< Nil when NULL or not 16 bytes.
  Hash hash(int column) const;                   ///< Of zeros when NULL or not 32 bytes.
  std::optional<double> maybe_real(int column) const;
  std::optional<std::int64_t> maybe_integer(int column) const;

 private:
  friend class Database;
  Query(sqlite3* db, std::shared_ptr<StatementCache> cache, std::string_view sql);
  Query& note(int code);  ///< Keeps the first trouble.
  std::span<const std::uint8_t> bytes(int column) const;
  sqlite3* db_ = nullptr;
  void reset();
  std::shared_ptr<StatementCache> cache_;
  IdleStatements* home_ = nullptr;  ///< The statement goes back there; nullptr: nowhere.
  sqlite3_stmt* statement_ = nullptr;
  bool stepped_ = false;  ///< Since it was last reset.
  int code_ = 0;
};

class Database {
 public:
  /// `path` as SQLite takes it (':memory:' too); `vfs` empty for SQLite's own.
  static Result<Database> open(const std::string& path, const std::string& vfs, bool read_only = false);
  Database(Database&&) noexcept;
  Database& operator=(Database&&) noexcept;
  ~Database();

  /// A statement; prepared anew or taken from the cache of this connection.
  Query query(std::string_view sql) const;
  Result<void> run(std::string_view sql) const;      ///< One or several statements without values.
  void be_patient(std::int64_t milliseconds) const;  ///< With other programs' locks; 3 s when never said.
  bool in_transaction() const;
  bool writing() const;  ///< In one that is to change something.
  std::int64_t last_id() const;
  bool changed() const;  ///< Did the last INSERT, UPDATE or DELETE touch a row?
  /// 'file is not a database (26)' of the last failure; for Problem::place.
  std::string trouble() const;
  sqlite3* handle() const { return db_; }

 private:
  Database();
  sqlite3* db_ = nullptr;
  std::shared_ptr<StatementCache> cache_;
};

/// BEGIN IMMEDIATE … COMMIT; rolls back unless committed.
class Transaction {
 public:
  static Result<Transaction> begin(const Database& db);
  Transaction(Transaction&& other) noexcept;
  Transaction& operator=(Transaction&&) = delete;
  ~Transaction();
  Result<void> commit();

 private:
  explicit Transaction(const Database* db) : db_(db) {}
  const Database* db_ = nullptr;
};

/// While it lives all queries see one state, whatever another program writes, and the file is locked once for
/// all of them. Within a transaction it is that one's; none can begin within it.
class Snapshot {
 public:
  explicit Snapshot(const Database& db);
  Snapshot(const Snapshot&) = delete;
  Snapshot& operator=(const Snapshot&) = delete;
  ~Snapshot();

 private:
  const Database* db_ = nullptr;  ///< nullptr: somebody else's transaction.
};

}  // namespace steep
