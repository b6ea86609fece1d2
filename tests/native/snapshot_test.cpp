// Natively only: two connections to one file need the write-ahead log, which the page does without.
#include <doctest/doctest.h>

#include <filesystem>
#include <functional>
#include <utility>

#include "tests/own_temporary.h"
#include "tests/unit/book_copies.h"

using namespace steep;
using namespace steep::test;

namespace {

/// A window and a terminal on one book, as on the desktop.
struct TwoPrograms {
  std::filesystem::path folder = own_temporary("snapshot");
  std::uint8_t chance = 0;
  std::unique_ptr<Book> window, terminal;

  TwoPrograms() {
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    window = open();
    REQUIRE(window->start("Alder Reach", false));
    terminal = open();
  }
  ~TwoPrograms() {
    window.reset();
    terminal.reset();
    std::filesystem::remove_all(folder);
  }
  std::unique_ptr<Book> open() {
    BookNeeds needs;
    needs.now = [] { return Stamp{{kSpring2026}, -240}; };
    needs.random = [this](std::span<std::uint8_t> bytes) {
      for (auto& byte : bytes) byte = ++chance;
    };
    auto book = Book::open({(folder / "book.sqlite").string(), {}, true}, std::move(needs));
    REQUIRE(book);
    return std::make_unique<Book>(std::move(*book));
  }
  static Result<void> add_rig(Book& book, std::string name) {
    Save save;
    save.record = book.new_record();
    save.kind = "rig";
    save.fields = {text_field_value("name", std::move(name)), text_field_value("strainer", "50 mesh")};
    return book.write(save, {});
  }
  static std::size_t rigs(const Book& book) {
    const auto records = book.records("rig");
    REQUIRE(records);
    return records->size();
  }
};

/// While it lives, what is opened calls `then` once, when it begins to read its lanes.
class WhenLanesAreRead {
 public:
  explicit WhenLanesAreRead(std::function<void()> then) {
    then_ = std::move(then);
    sqlite3_auto_extension(reinterpret_cast<void (*)()>(listen));
  }
  ~WhenLanesAreRead() { sqlite3_reset_auto_extension(); }

 private:
  static int listen(sqlite3* db, char**, const sqlite3_api_routines*) {
    return sqlite3_trace_v2(db, SQLITE_TRACE_STMT, statement, nullptr);
  }
  static int statement(unsigned, void*, void*, void* text) {
    const std::string_view sql = static_cast<const char*>(text);
    if (!then_ || sql.find("FROM lane") == std::string_view::npos) return 0;
    std::exchange(then_, nullptr)();
    return 0;
  }
  static inline std::function<void()> then_;
};

}  // namespace

TEST_CASE("what is read in one go sees one state, whatever another program writes") {
  TwoPrograms two;
  REQUIRE(two.add_rig(*two.terminal, "Cart"));
  {
    const Snapshot snapshot = two.window->snapshot();
    CHECK(two.rigs(*two.window) == 1);
    REQUIRE(two.add_rig(*two.terminal, "Backpack"));
    CHECK(two.rigs(*two.window) == 1);
    const Snapshot within = two.window->snapshot();
    CHECK(two.rigs(*two.window) == 1);
  }
  CHECK(two.rigs(*two.window) == 2);
}

TEST_CASE("nothing is written out of a snapshot, and after it everything is again") {
  TwoPrograms two;
  {
    const Snapshot snapshot = two.window->snapshot();
    const auto refused = two.add_rig(*two.window, "Cart");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().word == "book.busy"_w);
  }
  CHECK(two.add_rig(*two.window, "Cart"));
  CHECK(two.rigs(*two.terminal) == 1);
}

TEST_CASE("two programs begin one book: both are the same copy, whenever the second looks") {
  const std::filesystem::path folder = own_temporary("anchor");
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  const BookPlace place{(folder / "book.sqlite").string(), {}, true};
  std::string anchor;
  std::uint8_t chance = 0;
  BookNeeds needs;
  needs.now = [] { return Stamp{{kSpring2026}, -240}; };
  needs.random = [&chance](std::span<std::uint8_t> bytes) {
    for (auto& byte : bytes) byte = ++chance;
  };
  needs.read_anchor = [&anchor] { return anchor; };
  needs.write_anchor = [&anchor](std::string_view text) { anchor = text; };
  BookNeeds first = needs, second = needs;
  SUBCASE("between the first's lanes and their anchor") {
    first.write_anchor = [&](std::string_view text) {
      const auto other = Book::open(place, second);
      REQUIRE(other);
      CHECK_FALSE(other->notice());
      anchor = text;
    };
  }
  SUBCASE("with an anchor that it had read before") {
    second.read_anchor = [&anchor, asked = 0]() mutable { return asked++ == 0 ? std::string() : anchor; };
  }
  {
    auto book = Book::open(place, first);
    REQUIRE(book);
    REQUIRE(book->start("Alder Reach", false));
    const auto other = Book::open(place, second);
    REQUIRE(other);
    CHECK_FALSE(other->notice());
    CHECK(other->copy() == book->copy());
  }
  const auto again = Book::open(place, needs);
  REQUIRE(again);
  CHECK_FALSE(again->notice());
  CHECK_FALSE(again->copy().is_nil());
  std::filesystem::remove_all(folder);
}

TEST_CASE("what another program writes while a book is opened is not taken for known") {
  TwoPrograms two;
  std::unique_ptr<Book> third;
  bool written = false;
  {
    // The first rig of this book: groups of fields that nobody knew.
    const WhenLanesAreRead listening([&] { written = two.add_rig(*two.window, "Cart").has_value(); });
    third = two.open();
  }
  CHECK(written);
  CHECK(two.add_rig(*third, "Backpack"));
  CHECK(two.add_rig(*two.terminal, "Boom"));
  CHECK(two.rigs(*two.window) == 3);
  third = two.open();
  for (const Lane& lane : third->lanes()) {
    std::int64_t last = 0;
    REQUIRE(third->each_line(lane.id, 1, [&](const Book::Line& line) {
      CHECK(line.seq == ++last);  // No number twice: no branch.
      return true;
    }));
    CHECK(last == lane.last_seq);
  }
}
