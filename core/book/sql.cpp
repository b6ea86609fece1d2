#include "book/sql.h"

#include <sqlite3.h>

#include <algorithm>
#include <cassert>
#include <unordered_map>
#include <utility>
#include <vector>

namespace steep {
namespace {

constexpr std::int64_t kPatience = 3000;  // ms
constexpr std::size_t kCachedStatements = 256;

tl::unexpected<Problem> trouble_of(sqlite3* db, int code) {
  const std::string text = std::string(sqlite3_errmsg(db)) + " (" + std::to_string(code) + ")";
  switch (code & 0xFF) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED: return refuse(Trouble::Conflict, "book.elsewhere"_w, {}, text);
    case SQLITE_CORRUPT: return refuse(Trouble::Damaged, "book.damaged"_w, {}, text);
    case SQLITE_NOTADB: return refuse(Trouble::Damaged, "book.not_a_book"_w, {}, text);
    case SQLITE_READONLY: return refuse(Trouble::System, "book.read_only"_w, {}, text);
    case SQLITE_FULL: return refuse(Trouble::System, "book.full"_w, {}, text);
    case SQLITE_NOMEM: return refuse(Trouble::System, "book.memory"_w, {}, text);
    default: return refuse(Trouble::System, "book.storage"_w, {}, text);
  }
}

/// Of length and both ends: the middle of a long statement tells no two apart that these don't.
struct Hasher {
  using is_transparent = void;
  std::size_t operator()(std::string_view text) const {
    constexpr std::size_t kEnd = 32;
    const std::hash<std::string_view> hash;
    if (text.size() <= 2 * kEnd) return hash(text);
    return hash(text.substr(0, kEnd)) * 31 + hash(text.substr(text.size() - kEnd)) + text.size();
  }
};

}  // namespace

struct IdleStatements : std::vector<sqlite3_stmt*> {};

/// Statements by their text; those in use elsewhere are not among them.
struct StatementCache {
  std::unordered_map<std::string, IdleStatements, Hasher, std::equal_to<>> by_text;

  /// nullptr when no more texts are kept.
  IdleStatements* of(std::string_view sql) {
    auto place = by_text.find(sql);
    if (place == by_text.end() && by_text.size() < kCachedStatements)
      place = by_text.try_emplace(std::string(sql)).first;
    return place == by_text.end() ? nullptr : &place->second;
  }
  ~StatementCache() {
    for (const auto& [sql, idle] : by_text)
      for (sqlite3_stmt* statement : idle) sqlite3_finalize(statement);
  }
};

Query::Query(sqlite3* db, std::shared_ptr<StatementCache> cache, std::string_view sql)
    : db_(db), cache_(std::move(cache)), home_(cache_->of(sql)) {
  if (home_ != nullptr && !home_->empty()) {
    statement_ = home_->back();
    home_->pop_back();
    return;
  }
  const char* rest = nullptr;
  code_ =
      sqlite3_prepare_v3(db_, sql.data(), static_cast<int>(sql.size()), SQLITE_PREPARE_PERSISTENT, &statement_, &rest);
}

Query::Query(Query&& other) noexcept
    : db_(other.db_),
      cache_(std::move(other.cache_)),
      home_(other.home_),
      statement_(std::exchange(other.statement_, nullptr)),
      stepped_(other.stepped_),
      code_(other.code_) {}

Query& Query::operator=(Query&& other) noexcept {
  std::swap(db_, other.db_);
  std::swap(cache_, other.cache_);
  std::swap(home_, other.home_);
  std::swap(statement_, other.statement_);
  std::swap(stepped_, other.stepped_);
  std::swap(code_, other.code_);
  return *this;
}

Query::~Query() {
  if (statement_ == nullptr) return;
  reset();
  if (home_ == nullptr) {
    sqlite3_finalize(statement_);
    return;
  }
  sqlite3_clear_bindings(statement_);
  home_->push_back(statement_);
}

/// Lets go of locks.
void Query::reset() {
  if (std::exchange(stepped_, false)) sqlite3_reset(statement_);
}

Query& Query::note(int code) {
  if (code != SQLITE_OK && code_ == SQLITE_OK) code_ = code;
  return *this;
}
Query& Query::bind(int place, std::int64_t value) { return note(sqlite3_bind_int64(statement_, place, value)); }
Query& Query::bind(int place, double value) { return note(sqlite3_bind_double(statement_, place, value)); }
Query& Query::bind(int place, std::string_view text) {
  // An empty view may have no address, which SQLite would take for NULL.
  return note(sqlite3_bind_text(statement_, place, text.empty() ? "" : text.data(), static_cast<int>(text.size()),
                                SQLITE_TRANSIENT));
}
Query& Query::bind(int place, const Id& id) { return bind_bytes(place, id.bytes); }
Query& Query::bind_bytes(int place, std::span<const std::uint8_t> bytes) {
  if (bytes.empty()) return note(sqlite3_bind_zeroblob(statement_, place, 0));
  return note(sqlite3_bind_blob(statement_, place, bytes.data(), static_cast<int>(bytes.size()), SQLITE_TRANSIENT));
}
Query& Query::bind_null(int place) { return note(sqlite3_bind_null(statement_, place)); }

bool Query::next() {
  if (code_ != SQLITE_OK) return false;
  stepped_ = true;
  const int code = sqlite3_step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) {
    code_ = code;
  } else {
    reset();  // At once; another next() would begin anew.
  }
  return false;
}

Result<void> Query::done() {
  const int code = std::exchange(code_, SQLITE_OK);
  if (code == SQLITE_OK) {
    reset();
    return {};
  }
  auto problem = trouble_of(db_, code);
  reset();
  return problem;
}

Result<void> Query::run() {
  while (next()) {}
  return done();
}

bool Query::is_null(int column) const { return sqlite3_column_type(statement_, column) == SQLITE_NULL; }
std::int64_t Query::integer(int column) const { return sqlite3_column_int64(statement_, column); }
double Query::real(int column) const { return sqlite3_column_double(statement_, column); }
std::string Query::text(int column) const { return std::string(text_view(column)); }
std::string_view Query::text_view(int column) const {
  const unsigned char* text = sqlite3_column_text(statement_, column);
  if (text == nullptr) return {};
  return {reinterpret_cast<const char*>(text), static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))};
}
std::span<const std::uint8_t> Query::bytes(int column) const {
  const void* blob = sqlite3_column_blob(statement_, column);
  if (blob == nullptr) return {};
  return {static_cast<const std::uint8_t*>(blob), static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))};
}
Id Query::id(int column) const {
  Id id;
  const auto blob = bytes(column);
  if (blob.size() == id.bytes.size()) std::copy(blob.begin(), blob.end(), id.bytes.begin());
  return id;
}
Hash Query::hash(int column) const {
  Hash hash{};
  const auto blob = bytes(column);
  if (blob.size() == hash.size()) std::copy(blob.begin(), blob.end(), hash.begin());
  return hash;
}
std::optional<double> Query::maybe_real(int column) const {
  return is_null(column) ? std::nullopt : std::optional(real(column));
}
std::optional<std::int64_t> Query::maybe_integer(int column) const {
  return is_null(column) ? std::nullopt : std::optional(integer(column));
}

Result<Database> Database::open(const std::string& path, const std::string& vfs, bool read_only) {
  Database db;
  const int flags = read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE;
  const int code = sqlite3_open_v2(path.c_str(), &db.db_, flags, vfs.empty() ? nullptr : vfs.c_str());
  if (db.db_ == nullptr) return refuse(Trouble::System, "book.memory"_w, {}, path);
  if (code != SQLITE_OK) return trouble_of(db.db_, code);
  sqlite3_extended_result_codes(db.db_, 1);
  db.be_patient(kPatience);
  sqlite3_db_config(db.db_, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  TRY(db.run("PRAGMA trusted_schema=OFF; PRAGMA temp_store=MEMORY;"));
  return db;
}

Database::Database() : cache_(std::make_shared<StatementCache>()) {}
Database::Database(Database&& other) noexcept
    : db_(std::exchange(other.db_, nullptr)), cache_(std::move(other.cache_)) {}
Database& Database::operator=(Database&& other) noexcept {
  std::swap(db_, other.db_);
  std::swap(cache_, other.cache_);
  return *this;
}
Database::~Database() {
  cache_.reset();
  sqlite3_close_v2(db_);  // Waits for a statement that somebody still holds.
}

Query Database::query(std::string_view sql) const { return Query(db_, cache_, sql); }

Result<void> Database::run(std::string_view sql) const {
  const std::string text(sql);
  const int code = sqlite3_exec(db_, text.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) return trouble_of(db_, code);
  return {};
}

void Database::be_patient(std::int64_t milliseconds) const {
  sqlite3_busy_timeout(db_, static_cast<int>(milliseconds));
}
bool Database::in_transaction() const { return sqlite3_get_autocommit(db_) == 0; }
bool Database::writing() const { return sqlite3_txn_state(db_, "main") == SQLITE_TXN_WRITE; }
std::int64_t Database::last_id() const { return sqlite3_last_insert_rowid(db_); }
bool Database::changed() const { return sqlite3_changes64(db_) != 0; }
std::string Database::trouble() const {
  return std::string(sqlite3_errmsg(db_)) + " (" + std::to_string(sqlite3_extended_errcode(db_)) + ")";
}

Result<Transaction> Transaction::begin(const Database& db) {
  if (db.in_transaction()) return refuse(Trouble::Conflict, "book.busy"_w);
  TRY(db.query("BEGIN IMMEDIATE").run());
  return Transaction(&db);
}

Transaction::Transaction(Transaction&& other) noexcept : db_(std::exchange(other.db_, nullptr)) {}

Transaction::~Transaction() {
  // A failed statement may have ended the transaction by itself.
  if (db_ != nullptr && db_->in_transaction()) (void)db_->run("ROLLBACK");
}

Result<void> Transaction::commit() {
  assert(db_ != nullptr);
  TRY(db_->query("COMMIT").run());
  db_ = nullptr;
  return {};
}

// Where BEGIN fails, so do the queries, and they say it.
Snapshot::Snapshot(const Database& db) {
  if (!db.in_transaction() && db.query("BEGIN").run()) db_ = &db;
}
Snapshot::~Snapshot() {
  if (db_ != nullptr && db_->in_transaction()) (void)db_->query("COMMIT").run();
}

}  // namespace steep
