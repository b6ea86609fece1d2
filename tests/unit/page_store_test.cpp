/// The page's store over a fake storage: whatever the storage does and whenever the page dies, the
/// book that is loaded next is whole and holds everything that was shown as saved.

#include "wasm/page_store.h"

#include <doctest/doctest.h>
#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <deque>
#include <map>
#include <random>
#include <string>

#include "wasm/page_vfs.h"

using namespace steep;

namespace {

/// What IndexedDB would hold: changed only by whole transactions, in the order they were begun.
struct Disk {
  struct Row {
    std::string bytes;
    std::vector<std::uint32_t> sums;
  };
  std::uint64_t generation = 0, ticket = 0, sum = 0;
  int run = 0;
  std::uint32_t page_count = 0;
  std::map<std::uint32_t, Row> pages, segments;
};

struct Transaction {
  PageWrite plan;
  int run = 0;
  std::map<std::uint32_t, Disk::Row> pages, segments;
};

class FakeStorage : public PageBackend {
 public:
  FakeStorage(Disk& disk, int run) : disk_(disk), run_(run) {}

  void write(const PageWrite& plan, const PageStore& store) override {
    Transaction t{plan, run_, {}, {}};
    for (const std::uint32_t i : plan.pages) t.pages[i] = row(store, i, 1);
    for (const std::uint32_t s : plan.segments) {
      const std::uint32_t first = s * kSegmentPages;
      t.segments[s] = row(store, first, std::min(kSegmentPages, store.page_count() - first));
    }
    begun.push_back(std::move(t));
  }
  void reopen() override { ++reopened; }

  /// Runs the oldest transaction; the answer is what the page would hear.
  WriteEnd commit_oldest(std::uint64_t* ticket, std::uint64_t* generation) {
    const Transaction t = std::move(begun.front());
    begun.pop_front();
    *ticket = t.plan.ticket;
    const bool own_late = disk_.run == t.run && disk_.ticket < t.plan.ticket;
    if (disk_.generation == 0 && t.plan.expected > 0) return WriteEnd::Gone;
    const bool as_left = disk_.generation == t.plan.expected && (t.plan.expected == 0 || disk_.run == seen_);
    if (!as_left && !own_late) return WriteEnd::Fenced;
    seen_ = t.run;
    for (const auto& [s, row] : t.segments) {
      disk_.segments[s] = row;
      disk_.pages.erase(disk_.pages.lower_bound(s * kSegmentPages), disk_.pages.lower_bound((s + 1) * kSegmentPages));
    }
    for (const auto& [i, row] : t.pages) disk_.pages[i] = row;
    disk_.pages.erase(disk_.pages.lower_bound(t.plan.page_count), disk_.pages.end());
    disk_.segments.erase(disk_.segments.lower_bound((t.plan.page_count + kSegmentPages - 1) / kSegmentPages),
                         disk_.segments.end());
    disk_.page_count = t.plan.page_count;
    disk_.sum = t.plan.sum;
    disk_.ticket = t.plan.ticket;
    disk_.run = t.run;
    *generation = ++disk_.generation;
    return WriteEnd::Done;
  }

  std::deque<Transaction> begun;
  int reopened = 0;

 private:
  static Disk::Row row(const PageStore& store, std::uint32_t first, std::uint32_t count) {
    Disk::Row row;
    for (std::uint32_t i = first; i < first + count; ++i) {
      row.bytes.append(reinterpret_cast<const char*>(store.page(i)), kPageBytes);
      row.sums.push_back(store.page_sum(i));
    }
    return row;
  }
  Disk& disk_;
  int run_;
  int seen_ = disk_.run;  ///< Whose write the book was when it was loaded, or last written from here.
};

Result<void> load(PageStore& store, const Disk& disk, bool writer = true) {
  store.begin_load(disk.generation, disk.page_count, {}, writer);
  for (const auto& [s, row] : disk.segments) {
    std::memcpy(store.segment_room(s), row.bytes.data(), row.bytes.size());
    store.loaded_segment(s, row.sums);
  }
  for (const auto& [i, row] : disk.pages) {
    store.loaded_page(i, {reinterpret_cast<const std::uint8_t*>(row.bytes.data()), row.bytes.size()}, row.sums[0]);
  }
  return store.end_load(disk.sum);
}

/// One life of a page: storage, store, a connection, a clock.
struct Life {
  Life(Disk& disk_, int run, bool writer = true)
      : disk(disk_),
        storage(disk_, run),
        store(
            storage, [this] { return clock; }, [this] { return ticks; }) {
    const auto loaded = load(store, disk, writer);
    REQUIRE(loaded.has_value());
    serve_pages(
        &store,
        [this](std::span<std::uint8_t> bytes) {
          for (auto& b : bytes) b = static_cast<std::uint8_t>(chance());
        },
        [this] { return clock; });
    REQUIRE(register_page_vfs().has_value());
    REQUIRE(check_pages().has_value());
    REQUIRE(sqlite3_open_v2(kPageFile, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, kPageVfs) == SQLITE_OK);
    run_sql("PRAGMA journal_mode=MEMORY; PRAGMA locking_mode=EXCLUSIVE; PRAGMA cache_spill=OFF");
    run_sql("CREATE TABLE IF NOT EXISTS entry(n INTEGER PRIMARY KEY, body BLOB)");
  }
  ~Life() {
    sqlite3_close(db);
    serve_pages(nullptr, {}, {});
  }
  void run_sql(const char* sql) {
    char* trouble = nullptr;
    const int code = sqlite3_exec(db, sql, nullptr, nullptr, &trouble);
    INFO(sql, ": ", trouble == nullptr ? "" : trouble);
    CHECK(code == SQLITE_OK);
    sqlite3_free(trouble);
  }
  long long number(const char* sql) const {
    sqlite3_stmt* s = nullptr;
    REQUIRE(sqlite3_prepare_v2(db, sql, -1, &s, nullptr) == SQLITE_OK);
    REQUIRE(sqlite3_step(s) == SQLITE_ROW);
    const long long n = sqlite3_column_int64(s, 0);
    sqlite3_finalize(s);
    return n;
  }
  bool whole() const {
    sqlite3_stmt* s = nullptr;
    sqlite3_prepare_v2(db, "PRAGMA integrity_check", -1, &s, nullptr);
    const bool ok = sqlite3_step(s) == SQLITE_ROW &&
                    std::strcmp(reinterpret_cast<const char*>(sqlite3_column_text(s, 0)), "ok") == 0;
    sqlite3_finalize(s);
    return ok;
  }
  void enter(int bytes) {
    const std::string sql = "INSERT INTO entry(body) VALUES(randomblob(" + std::to_string(bytes) + "))";
    run_sql(sql.c_str());
  }
  /// The oldest transaction ends well, and the page hears it.
  void deliver() {
    std::uint64_t ticket = 0, generation = 0;
    const WriteEnd end = storage.commit_oldest(&ticket, &generation);
    store.written(ticket, end, generation, "");
  }
  /// It is aborted by the storage.
  void abort(WriteEnd end) {
    const std::uint64_t ticket = storage.begun.front().plan.ticket;
    storage.begun.pop_front();
    store.written(ticket, end, 0, "test");
  }
  void settle() {
    store.keep();
    while (!storage.begun.empty()) deliver();
  }
  void pass(std::int64_t ms) {
    clock = clock + ms;
    ticks = ticks + ms;
    store.step();
  }

  Moment clock{1'000'000};
  Moment ticks{50};
  std::mt19937 chance{7};
  Disk& disk;
  FakeStorage storage;
  PageStore store;
  sqlite3* db = nullptr;
};

}  // namespace

TEST_CASE("page store: saved only after the storage has completed the write") {
  Disk disk;
  Life life(disk, 1);
  life.settle();
  CHECK(life.store.health().state == SaveState::Saved);
  life.enter(100);
  CHECK(life.store.health().state == SaveState::Saving);
  life.store.keep();
  CHECK(life.store.health().state == SaveState::Saving);
  life.pass(5);
  life.deliver();
  CHECK(life.store.health().state == SaveState::Saved);
  CHECK(life.store.health().last_saved == life.clock);
}

TEST_CASE("page store: one write at a time, and what comes meanwhile joins the next") {
  Disk disk;
  Life life(disk, 1);
  life.settle();
  life.enter(100);
  life.store.keep();
  life.enter(100);
  life.store.keep();
  life.enter(100);
  life.store.keep();
  CHECK(life.storage.begun.size() == 1);
  life.deliver();
  CHECK(life.storage.begun.size() == 1);  // The two others, together.
  CHECK(life.store.health().state == SaveState::Saving);
  life.deliver();
  CHECK(life.storage.begun.empty());
  CHECK(life.store.health().state == SaveState::Saved);
}

TEST_CASE("page store: a refused write is tried again and nothing is lost") {
  Disk disk;
  {
    Life life(disk, 1);
    life.settle();
    life.enter(9000);
    life.store.keep();
    life.abort(WriteEnd::Full);
    CHECK(life.store.health().state == SaveState::NotSaved);
    CHECK(life.store.health().trouble == "full: test");
    CHECK(life.storage.begun.empty());
    life.enter(10);  // Goes on working meanwhile.
    life.store.keep();
    CHECK(life.storage.begun.empty());  // Waits for its time.
    life.pass(500);
    REQUIRE(life.storage.begun.size() == 1);
    life.abort(WriteEnd::Failed);
    life.pass(1999);
    CHECK(life.storage.begun.empty());
    life.store.try_again();  // A person pressed 'Try again'.
    REQUIRE(life.storage.begun.size() == 1);
    life.deliver();
    CHECK(life.store.health().state == SaveState::Saved);
  }
  Life again(disk, 2);
  CHECK(again.number("SELECT count(*) FROM entry") == 2);
}

TEST_CASE("page store: a storage that never answers is opened anew; its late success does no harm") {
  Disk disk;
  {
    Life life(disk, 1);
    life.settle();
    life.enter(50);
    life.store.keep();
    life.pass(3500);
    CHECK(life.store.health().state == SaveState::NotSaved);
    CHECK(life.store.health().trouble == "slow");
    life.pass(8000);
    CHECK(life.storage.reopened == 1);
    life.enter(60);
    life.pass(600);
    REQUIRE(life.storage.begun.size() == 2);
    life.deliver();  // The lost one arrives after all.
    CHECK(life.store.health().state != SaveState::Saved);
    life.deliver();
    CHECK(life.store.health().state == SaveState::Saved);
    CHECK_FALSE(life.store.health().elsewhere);
    life.enter(70);
    life.settle();
    CHECK(life.store.health().state == SaveState::Saved);
  }
  Life again(disk, 2);
  CHECK(again.number("SELECT count(*) FROM entry") == 3);
}

TEST_CASE("scenario 19: two tabs of the page: another tab's newer book is never overwritten") {
  Disk disk;
  Life first(disk, 1);
  first.settle();
  Disk other = disk;  // The other tab wrote on.
  other.generation += 3;
  other.run = 2;
  disk = other;
  first.enter(10);
  first.store.keep();
  first.deliver();
  CHECK(first.store.health().elsewhere);
  CHECK(first.store.health().state == SaveState::NotSaved);
  CHECK(disk.generation == other.generation);
  first.enter(10);
  first.store.keep();
  first.pass(60 * kSecond);
  CHECK(first.storage.begun.empty());
  CHECK(first.store.file().size() == std::size_t{first.store.page_count()} * kPageBytes);  // To be given as a file.
}

TEST_CASE("scenario 19: two tabs of the page: the second reads and never writes") {
  Disk disk;
  {
    Life life(disk, 1);
    life.enter(10);
    life.settle();
  }
  Life second(disk, 2, false);
  CHECK(second.store.health().elsewhere);
  CHECK(second.number("SELECT count(*) FROM entry") == 1);
  second.enter(10);
  second.store.keep();
  CHECK(second.storage.begun.empty());
}

TEST_CASE("page store: a clock that is set does not hold up a save, nor what is said of it") {
  Disk disk;
  Life life(disk, 1);
  life.settle();
  for (const std::int64_t jump : {-400 * kDay, 400 * kDay}) {
    INFO("jump of ms: ", jump);
    life.enter(10);
    life.store.keep();
    life.abort(WriteEnd::Failed);
    life.clock = life.clock + jump;
    life.pass(499);
    CHECK(life.storage.begun.empty());
    CHECK(life.store.health().state == SaveState::Saving);
    life.pass(1);
    REQUIRE(life.storage.begun.size() == 1);
    CHECK(life.store.next_step() <= life.ticks + 10 * kSecond);
    life.pass(3000);
    CHECK(life.store.health().state == SaveState::NotSaved);  // Slow is said all the same.
    life.deliver();
    CHECK(life.store.health().state == SaveState::Saved);
    CHECK(life.store.health().last_saved == life.clock);
  }
}

TEST_CASE("page store: a store that was cleared while the page was open gets the whole book again") {
  Disk disk;
  long long rows = 0;
  for (const bool told : {true, false}) {  // The browser says that the connection ended, or the next save finds out.
    INFO("told: ", told);
    {
      Life life(disk, told ? 1 : 3);
      rows = life.number("SELECT count(*) FROM entry");
      for (int i = 0; i < 150; ++i) {
        life.enter(3000);
        life.settle();
      }
      REQUIRE(life.store.health().state == SaveState::Saved);
      disk = {};
      if (told) {
        life.store.doubt();
        CHECK(life.store.health().state == SaveState::Saving);
      } else {
        life.enter(3000);
        ++rows;
        life.store.keep();
      }
      while (!life.storage.begun.empty()) life.deliver();
      CHECK(life.store.health().state == SaveState::Saved);
      CHECK_FALSE(life.store.health().elsewhere);
      life.enter(10);
      life.settle();
      CHECK(life.store.health().state == SaveState::Saved);
    }
    Life again(disk, told ? 2 : 4);
    CHECK(again.whole());
    CHECK(again.number("SELECT count(*) FROM entry") == rows + 151);
  }
}

TEST_CASE("page store: a store that was cleared and begun anew by another tab is not overwritten") {
  Disk disk;
  Life first(disk, 1);
  first.settle();
  disk = {};
  disk.generation = 1;
  disk.run = 2;
  first.enter(10);
  first.store.keep();
  first.deliver();
  CHECK(first.store.health().elsewhere);
  CHECK(disk.run == 2);
}

TEST_CASE("page store: a doubt finds the store as it was, and a tab that only reads has none") {
  Disk disk;
  {
    Life life(disk, 1);
    life.enter(10);
    life.settle();
    life.store.doubt();
    REQUIRE(life.storage.begun.size() == 1);
    CHECK(life.storage.begun.front().plan.pages.empty());
    CHECK(life.storage.begun.front().plan.segments.empty());
    life.deliver();
    CHECK(life.store.health().state == SaveState::Saved);
  }
  Life second(disk, 2, false);
  second.store.doubt();
  CHECK(second.storage.begun.empty());
  CHECK(second.store.health().state == SaveState::Saved);
}

TEST_CASE("page store: nothing is written before the load has ended") {
  Disk disk;
  FakeStorage storage(disk, 1);
  PageStore store(
      storage, [] { return Moment{5}; }, [] { return Moment{5}; });
  const std::string page(kPageBytes, 'x');
  store.begin_load(4, 2, {}, true);
  store.write_page(0, reinterpret_cast<const std::uint8_t*>(page.data()));
  store.commit_ended();
  store.keep();
  store.try_again();
  store.step();
  CHECK(storage.begun.empty());
  CHECK_FALSE(store.end_load(0).has_value());  // Page 1 never came.
  store.keep();
  CHECK(storage.begun.empty());
  CHECK(store.health().state == SaveState::NotSaved);
  CHECK(store.health().trouble == "damaged");
}

TEST_CASE("page store: a damaged or missing page is noticed at load") {
  Disk disk;
  {
    Life life(disk, 1);
    for (int i = 0; i < 40; ++i) life.enter(3000);
    life.settle();
  }
  FakeStorage storage(disk, 2);
  const auto refused = [&](const Disk& bad) {
    PageStore store(
        storage, [] { return Moment{}; }, [] { return Moment{}; });
    return !load(store, bad).has_value();
  };
  CHECK_FALSE(refused(disk));
  Disk bad = disk;
  auto& rows = bad.segments.empty() ? bad.pages : bad.segments;
  rows.begin()->second.bytes[100] ^= 1;
  CHECK(refused(bad));
  bad = disk;
  (bad.segments.empty() ? bad.pages : bad.segments).erase((bad.segments.empty() ? bad.pages : bad.segments).begin());
  CHECK(refused(bad));
  bad = disk;
  bad.sum += 1;
  CHECK(refused(bad));
}

TEST_CASE("page store: a connection without the promised pragmas cannot write") {
  Disk disk;
  FakeStorage storage(disk, 1);
  PageStore store(
      storage, [] { return Moment{}; }, [] { return Moment{}; });
  REQUIRE(load(store, disk).has_value());
  serve_pages(&store, {}, {});
  REQUIRE(register_page_vfs().has_value());
  for (const char* pragmas :
       {"PRAGMA journal_mode=MEMORY", "PRAGMA journal_mode=OFF; PRAGMA cache_spill=OFF; PRAGMA locking_mode=EXCLUSIVE",
        "PRAGMA journal_mode=MEMORY; PRAGMA locking_mode=EXCLUSIVE; PRAGMA cache_spill=ON"}) {
    sqlite3* db = nullptr;
    REQUIRE(sqlite3_open_v2(kPageFile, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, kPageVfs) == SQLITE_OK);
    sqlite3_exec(db, pragmas, nullptr, nullptr, nullptr);
    CHECK(sqlite3_exec(db, "CREATE TABLE a(b)", nullptr, nullptr, nullptr) != SQLITE_OK);
    sqlite3_close(db);
  }
  CHECK(store.page_count() == 0);
  serve_pages(nullptr, {}, {});
}

TEST_CASE("page store: single pages are folded into segments when idle, and the book stays the same") {
  Disk disk;
  {
    Life life(disk, 1);
    for (int i = 0; i < 400; ++i) {
      life.enter(3000);
      life.settle();
    }
    const std::size_t rows = disk.pages.size();
    life.pass(1000);
    CHECK(life.storage.begun.empty());
    for (int i = 0; i < 10; ++i) {
      life.pass(2500);
      CHECK(life.store.health().state == SaveState::Saved);  // A person sees nothing of it.
      while (!life.storage.begun.empty()) life.deliver();
    }
    CHECK(disk.pages.size() < 96);
    INFO("rows before folding: ", rows);
    CHECK_FALSE(disk.segments.empty());
    life.run_sql("DELETE FROM entry WHERE n > 20; VACUUM");  // Gets shorter.
    life.settle();
    CHECK(disk.page_count < 100);
  }
  Life again(disk, 2);
  CHECK(again.whole());
  CHECK(again.number("SELECT count(*) FROM entry") == 20);
}

TEST_CASE("page store: what was cut off is zero when the file grows again") {
  Disk disk;
  FakeStorage storage(disk, 1);
  PageStore store(
      storage, [] { return Moment{1}; }, [] { return Moment{1}; });
  REQUIRE(load(store, disk).has_value());
  const std::string ones(kPageBytes, '\1'), zeros(kPageBytes, '\0');
  const auto write = [&](std::uint32_t number) {
    store.write_page(number, reinterpret_cast<const std::uint8_t*>(ones.data()));
  };
  const auto holds = [&](std::uint32_t number) {
    return std::string(reinterpret_cast<const char*>(store.page(number)), kPageBytes);
  };
  for (std::uint32_t i = 0; i < 2 * kSegmentPages; ++i) write(i);
  store.cut(3);
  write(kSegmentPages + 2);  // SQLite may leave a gap.
  for (const std::uint32_t i : {3u, 10u, kSegmentPages - 1, kSegmentPages, kSegmentPages + 1}) {
    INFO("page ", i);
    CHECK(holds(i) == zeros);
  }
  CHECK(holds(2) == ones);
  CHECK(holds(kSegmentPages + 2) == ones);
}

TEST_CASE("page store: a rolled back transaction leaves no trace") {
  Disk disk;
  {
    Life life(disk, 1);
    life.enter(10);
    life.settle();
    life.run_sql(
        "BEGIN; INSERT INTO entry(body) SELECT randomblob(3000) FROM (WITH RECURSIVE c(x) AS (SELECT 1 UNION ALL "
        "SELECT x+1 FROM c WHERE x < 3000) SELECT x FROM c)");
    life.store.keep();
    life.store.step();
    CHECK(life.storage.begun.empty());  // Ten megabytes are open, none of it went out.
    life.run_sql("ROLLBACK");
    life.enter(10);
    life.settle();
  }
  Life again(disk, 2);
  CHECK(again.whole());
  CHECK(again.number("SELECT count(*) FROM entry") == 2);
}

TEST_CASE("page store: killed at any moment, the book is whole and nothing shown as saved is missing") {
  Disk disk;
  std::mt19937 chance(20260514);
  const auto pick = [&](int n) { return static_cast<int>(chance() % static_cast<unsigned>(n)); };
  long long acknowledged = 0;
  for (int run = 1; run <= 120; ++run) {
    Life life(disk, run);
    life.chance.seed(static_cast<unsigned>(run));
    const long long there = life.number("SELECT count(*) FROM entry");
    REQUIRE(life.whole());
    REQUIRE(there >= acknowledged);
    REQUIRE(there == life.number("SELECT coalesce(max(n), 0) FROM entry"));
    long long committed = there;
    for (int steps = pick(40); steps > 0; --steps) {
      switch (pick(9)) {
        case 0:
        case 1:
        case 2:
          life.enter(pick(10) == 0 ? 60000 : 200);
          ++committed;
          life.store.keep();
          break;
        case 3:
        case 4:
        case 5:
          if (!life.storage.begun.empty()) life.deliver();
          break;
        case 6:
          if (!life.storage.begun.empty()) life.abort(pick(2) == 0 ? WriteEnd::Full : WriteEnd::Lost);
          break;
        case 7: life.pass(pick(12000)); break;
        default: life.store.try_again(); break;
      }
      const StorageHealth health = life.store.health();
      REQUIRE_FALSE(health.elsewhere);
      if (health.state == SaveState::Saved) acknowledged = committed;
    }
    // The process dies; of the transactions begun, the storage finishes none, some or all.
    for (int n = pick(3); n > 0 && !life.storage.begun.empty(); --n) {
      std::uint64_t ticket = 0, generation = 0;
      (void)life.storage.commit_oldest(&ticket, &generation);
    }
  }
  CHECK(acknowledged > 100);
}

TEST_CASE("page store: no safety copy is begun while saving fails; photos without room are told beside saved records") {
  Disk disk;
  Life life(disk, 1);
  life.settle();
  CHECK(life.store.ready_to_copy());
  life.enter(10);
  life.store.keep();
  life.abort(WriteEnd::Full);
  const auto ready = life.store.ready_to_copy();
  REQUIRE_FALSE(ready);
  CHECK(ready.error().word.key == "page.store.no_copy");
  life.pass(60'000);
  life.settle();
  CHECK(life.store.ready_to_copy());
  life.store.set_photos_left(2);
  CHECK(life.store.health().photos_left == 2);
  CHECK(life.store.health().state == SaveState::Saved);
}
