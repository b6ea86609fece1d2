// Natively only: two connections to one file need the write-ahead log, which the page does without.
#include <doctest/doctest.h>

#include <filesystem>

#include "tests/unit/book_copies.h"

using namespace steep;
using namespace steep::test;

namespace {

/// A window and a terminal on one book, as on the desktop.
struct TwoPrograms {
  std::filesystem::path folder = std::filesystem::temp_directory_path() / "steepbook-snapshot";
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
    save.fields = {text_field_value("name", std::move(name))};
    return book.write(save, {});
  }
  static std::size_t rigs(const Book& book) {
    const auto records = book.records("rig");
    REQUIRE(records);
    return records->size();
  }
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
