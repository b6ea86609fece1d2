// Large takes are written in place while no other program has the book open.
#include "book/written_in_place.h"

#include <doctest/doctest.h>

#include <filesystem>

#include "book/sql.h"
#include "tests/own_temporary.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

struct OnDisk {
  std::filesystem::path folder = own_temporary("in-place");
  std::string path = (folder / "book.steepbook-db").string();
  OnDisk() { std::filesystem::create_directories(folder); }
  ~OnDisk() { std::filesystem::remove_all(folder); }

  Book open() const {
    BookNeeds needs;
    needs.now = [] { return Stamp{{kSpring2026}, -240}; };
    needs.random = [chance = std::uint8_t{0}](std::span<std::uint8_t> bytes) mutable {
      for (auto& byte : bytes) byte = ++chance;
    };
    return got(Book::open({path, "", true}, std::move(needs)));
  }
};

void add_rigs(Book& book, std::int64_t rigs) {
  std::vector<Save> saves;
  for (std::int64_t i = 0; i < rigs; ++i) {
    Save& save = saves.emplace_back();
    save.record = book.new_record();
    save.kind = "rig";
    save.fields = {text_field_value("name", "Rig " + std::to_string(i))};
  }
  for (std::span<const Save> left = saves; !left.empty();) {
    const auto act = left.first(std::min<std::size_t>(left.size(), 200));
    REQUIRE(book.write(act, {}));
    left = left.subspan(act.size());
  }
}

std::string journal_mode(const Book& book) {
  auto query = book.db().query("PRAGMA journal_mode");
  REQUIRE(query.next());
  return query.text(0);
}

}  // namespace

TEST_CASE("a large take is written in place, and what follows through the log again") {
  OnDisk disk;
  Book book = disk.open();
  REQUIRE(book.start("Alder Reach", false));
  {
    const WrittenInPlace in_place(book);
    CHECK(journal_mode(book) == "delete");
    add(book, "rig", {text_field_value("name", "Backpack 2")});
    const WrittenInPlace again(book);  // Changes nothing, and so puts nothing back.
  }
  CHECK(journal_mode(book) == "wal");
  CHECK(got(disk.open().records("rig")).size() == 1);
}

TEST_CASE("another program has the book open: it goes on reading, all is written through the log") {
  OnDisk disk;
  Book book = disk.open();
  REQUIRE(book.start("Alder Reach", false));
  const Book window = disk.open();
  const WrittenInPlace in_place(book);
  CHECK(journal_mode(book) == "wal");
  CHECK(window.name() == "Alder Reach");
}

TEST_CASE("a take of many changes goes in place by itself, one of few does not") {
  std::int64_t rigs = 0;
  bool cancelled = false;
  SUBCASE("few") { rigs = 10; }
  SUBCASE("many") { rigs = WrittenInPlace::kWorthIt; }
  SUBCASE("many, given up") {
    rigs = WrittenInPlace::kWorthIt;
    cancelled = true;
  }
  Copy phone("Ana's phone", 1);
  REQUIRE(phone.book->start("Alder Reach", false));
  add_rigs(*phone.book, rigs);
  OnDisk disk;
  Book office = disk.open();
  TakeJob job(office, file_of(phone));
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  job.apply({});
  REQUIRE(job.stage() == TakeJob::Stage::Applying);
  CHECK(journal_mode(office) == std::string(rigs == 10 ? "wal" : "delete"));
  job.step(1);
  if (cancelled) job.cancel();
  while (job.stage() == TakeJob::Stage::Applying) job.step(1000);
  CHECK(office.change_count() == (cancelled ? 0 : rigs + 1));
  CHECK(journal_mode(office) == "wal");
}
