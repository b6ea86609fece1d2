#pragma once
/// Copies of a book in memory, with a clock and chance of their own, that meet through lines alone.

#include <doctest/doctest.h>
#include <sqlite3.h>

#include <algorithm>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/take_checks.h"

namespace steep::test {

/// The end of a wait: the whole minute that is not before it.
inline Moment on_the_minute(Moment end) { return end + (kMinute - end.ms % kMinute) % kMinute; }

inline constexpr std::int64_t kSpring2026 = 1'778'796'000'000;  // 2026-05-14T22:00:00Z

/// xorshift64; the same on every machine.
struct Chance {
  std::uint64_t state;
  explicit Chance(std::uint64_t seed) : state(seed * 0x9E3779B97F4A7C15u + 88172645463325252u) {}
  std::uint64_t next() {
    state ^= state << 13;
    state ^= state >> 7;
    return state ^= state << 17;
  }
  /// 0 … n − 1
  std::size_t below(std::size_t n) { return static_cast<std::size_t>((next() >> 11) % n); }
  bool one_in(std::size_t n) { return below(n) == 0; }
};

/// One copy. The database lives in memory under a name, so that it can be closed, opened and cloned.
class Copy {
 public:
  Copy(std::string label, std::uint64_t seed) : Copy(seed) {
    open();
    CHECK(book->set_copy_label(label));
  }
  ~Copy() {
    book.reset();
    sqlite3_close(keeper_);
  }
  Copy(const Copy&) = delete;
  Copy& operator=(const Copy&) = delete;

  void open() {
    book.reset();
    BookNeeds needs;
    needs.now = [this] { return Stamp{{clock += 40}, -240}; };
    needs.random = [this](std::span<std::uint8_t> bytes) {
      for (auto& byte : bytes) byte = static_cast<std::uint8_t>(chance_.next() >> 33);
    };
    needs.read_anchor = [this] { return anchor; };
    needs.write_anchor = [this](std::string_view text) { anchor = text; };
    needs.checks = checks;
    auto opened = Book::open(place(), std::move(needs));
    REQUIRE(opened);
    book.reset(new Book(std::move(*opened)));
  }

  /// The stored bytes as another device would find them; the anchor comes along only if it lay beside them.
  std::unique_ptr<Copy> clone(std::string label, std::uint64_t seed, bool with_anchor) const {
    std::unique_ptr<Copy> twin(new Copy(seed));
    sqlite3_backup* backup = sqlite3_backup_init(twin->keeper_, "main", keeper_, "main");
    REQUIRE(backup != nullptr);
    sqlite3_backup_step(backup, -1);
    REQUIRE(sqlite3_backup_finish(backup) == SQLITE_OK);
    twin->clock = clock;
    twin->anchor = with_anchor ? anchor : std::string();
    twin->open();
    CHECK(twin->book->set_copy_label(label));
    return twin;
  }
  /// Not the page's way: there one connection keeps the file to itself.
  BookPlace place() const { return {path_, "memdb", true}; }
  /// An SQL statement behind the book's back.
  void tamper(const char* sql) { REQUIRE(sqlite3_exec(keeper_, sql, nullptr, nullptr, nullptr) == SQLITE_OK); }

  std::int64_t clock = kSpring2026;
  std::string anchor;
  std::function<std::unique_ptr<Checking>(const Book&, Touched)> checks;  ///< None unless a test wants some.
  std::unique_ptr<Book> book;

 private:
  explicit Copy(std::uint64_t seed) : chance_(seed) {
    static int count = 0;
    path_ = "/copy-" + std::to_string(count++);
    REQUIRE(sqlite3_open_v2(path_.c_str(), &keeper_, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, "memdb") == SQLITE_OK);
  }
  Chance chance_;
  std::string path_;
  sqlite3* keeper_ = nullptr;
};

/// Lines of one lane on their way.
struct Section {
  Lane lane;
  std::vector<Book::Line> lines;
};
inline Section section_of(const Book& book, const Lane& lane, std::int64_t from = 1) {
  Section section{lane, {}};
  CHECK(book.each_line(lane.id, from, [&](const Book::Line& line) {
    section.lines.push_back(line);
    return true;
  }));
  return section;
}
/// How far each lane goes.
inline std::vector<ChangeRef> tips_of(const Book& book) {
  std::vector<ChangeRef> tips;
  for (const Lane& lane : book.lanes())
    if (lane.last_seq > 0) tips.push_back(ref_of(lane.id, lane.last_seq, lane.tip));
  return tips;
}
inline std::vector<Section> everything(const Book& book) {
  std::vector<Section> all;
  for (const Lane& lane : book.lanes())
    if (lane.last_seq > 0) all.push_back(section_of(book, lane));
  return all;
}

inline Result<Book::TakeIn::Outcome> take(Book& to, const std::vector<Section>& sections, const Book* from = nullptr) {
  Book::Origin origin;
  if (from != nullptr) {
    origin.book = from->id();
    origin.demo = from->is_demo();
    origin.copy = from->copy();
    origin.label = from->copy_label();
  }
  origin.file_name = "farm.steepbook";
  TRY_ASSIGN(auto in, to.begin_take(origin));
  for (const Section& section : sections) {
    TRY(in->lane(section.lane.id, section.lane.part, section.lane.label, section.lane.copy));
    for (const Book::Line& line : section.lines) {
      TRY_ASSIGN(const Change change, read_change(line.body));
      TRY(in->line(line.seq, line.prev, line.hash, change, line.body));
    }
  }
  for (;;) {
    TRY_ASSIGN(const auto step, in->step(1000));
    if (step.done) break;
  }
  return in->finish();
}
inline Book::TakeIn::Outcome take_all(Copy& to, const Copy& from) {
  auto outcome = take(*to.book, everything(*from.book), from.book.get());
  CHECK(outcome);
  return outcome ? *outcome : Book::TakeIn::Outcome{};
}

/// Both ways, so that both hold the same lines.
inline void meet(Copy& a, Copy& b) {
  take_all(b, a);
  take_all(a, b);
}

inline Save save_of(const Book& book, std::string kind, std::vector<FieldValue> fields) {
  Save save;
  save.record = book.new_record();
  save.kind = std::move(kind);
  save.fields = std::move(fields);
  return save;
}
/// A correction by somebody who sees the record as it is now.
inline Save edit_of(const Book& book, const Id& record, std::vector<FieldValue> fields) {
  Save save;
  const auto known = book.record(record);
  REQUIRE(known);
  REQUIRE(known->has_value());
  save.record = record;
  save.kind = (*known)->kind;
  save.part = (*known)->part;
  save.seen = (*known)->heads();
  save.fields = std::move(fields);
  return save;
}
inline void write(Book& book, const Save& save) {
  const auto written = book.write(save, {});
  if (!written) MESSAGE(written.error().word.key, " ", written.error().place);
  REQUIRE(written);
}
inline Id add(Book& book, std::string kind, std::vector<FieldValue> fields) {
  const Save save = save_of(book, std::move(kind), std::move(fields));
  write(book, save);
  return save.record;
}
inline void edit(Book& book, const Id& record, std::vector<FieldValue> fields) {
  write(book, edit_of(book, record, std::move(fields)));
}
inline std::string text_of(const Book& book, const Id& record, std::string_view key) {
  const auto known = book.record(record);
  if (!known || !*known) return "(none)";
  const FieldValue* field = (*known)->field(key);
  return field == nullptr ? "(not written)" : field->text;
}
inline bool differs(const Book& book, const Id& record) {
  const auto known = book.record(record);
  return known && *known && (*known)->differs();
}
/// How often the review list names this word.
inline int reviews(const Book& book, std::string_view word) {
  const auto all = book.reviews();
  REQUIRE(all);
  return static_cast<int>(std::count_if(all->begin(), all->end(), [&](const Review& r) { return r.why.key == word; }));
}

}  // namespace steep::test
