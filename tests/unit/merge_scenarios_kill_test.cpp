// Merge scenario 23: the power fails, or the disk is full, at each single write of an import (I13).
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "book/sql.h"
#include "book/written_in_place.h"
#include "tests/unit/breaking_disk.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

namespace files = std::filesystem;

/// A book in a file. Its clock stands still, so that two runs write the same bytes.
struct DiskBook {
  explicit DiskBook(const std::string& path, bool breaking) {
    BookNeeds needs;
    needs.now = [] { return Stamp{{kSpring2026 + kHour}, -240}; };
    needs.random = [](std::span<std::uint8_t> bytes) {
      for (auto& byte : bytes) byte = 7;
    };
    auto opened = Book::open({path, breaking ? BreakingDisk::kName : "", true}, std::move(needs));
    REQUIRE(opened);
    book = std::make_unique<Book>(std::move(*opened));
  }
  std::unique_ptr<Book> book;
};

std::string bytes_of(const files::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}
void put(const files::path& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

struct Folder {
  files::path folder = files::temp_directory_path() /
                       ("steepbook-kill-" + std::to_string(std::hash<std::string>{}(STEEPBOOK_SOURCE_DIR)));
  files::path path = folder / "book.steepbook-db";
  std::string before_bytes;

  Folder() {
    BreakingDisk::make();
    files::remove_all(folder);
    files::create_directories(folder);
  }
  ~Folder() { files::remove_all(folder); }

  void reset() {
    for (const auto& left : files::directory_iterator(folder)) files::remove(left.path());
    put(path, before_bytes);
  }
};

struct Fixture : Folder {
  File file;
  Hash before{}, after{};

  Fixture() {
    Copy ana("Ana's phone", 1);
    REQUIRE(ana.book->start("Alder Reach", false));
    for (int i = 0; i < 40; ++i) add(*ana.book, "rig", {text_field_value("name", "Rig " + std::to_string(i))});
    const File first = file_of(ana);
    {
      DiskBook office(path.string(), false);
      REQUIRE(take_in(*office.book, first));
      before = office.book->digest();
    }
    before_bytes = bytes_of(path);
    for (const Record& rig : got(ana.book->records("rig")))
      edit(*ana.book, rig.id, {quantity_value("tank.volume", "4 gal")});
    for (int i = 0; i < 40; ++i) add(*ana.book, "vessel", {text_field_value("name", "Vessel " + std::to_string(i))});
    file = file_of(ana);
    after = ana.book->digest();
  }
  /// Through the log, or as a large take is written: in place, with pages that the cache cannot hold.
  static Result<Book::TakeIn::Outcome> take(Book& book, const File& file, bool in_place) {
    std::optional<WrittenInPlace> written;
    if (in_place) {
      written.emplace(book);
      REQUIRE(book.db().run("PRAGMA cache_size=10; PRAGMA cache_spill=10"));
    }
    return take_in(book, file);
  }
  /// As the next start of the program finds it.
  void check_after_restart(int at) {
    CAPTURE(at);
    BreakingDisk::arm(BreakingDisk::None, 0);
    DiskBook again(path.string(), false);
    const Hash digest = again.book->digest();
    const bool before_or_after = digest == before || digest == after;
    CHECK(before_or_after);
    const auto health = got(again.book->check());
    CHECK(health.sqlite == "ok");
    CHECK(health.tables_match);
    CHECK(health.broken_chains.empty());
    CHECK(health.changes == (digest == before ? 41 : 121));
    CHECK(got(again.book->batches()).size() == (digest == before ? 1u : 2u));
    // A clock moves on only with the import itself: what is written next is later than what it had seen.
    if (digest == before) REQUIRE(take_in(*again.book, file));
    CHECK(again.book->digest() == after);
  }
};

}  // namespace

TEST_CASE("scenario 23: the power fails at each write of an import: before or after, never between") {
  Fixture fixture;
  bool in_place = false;
  SUBCASE("through the log") {}
  SUBCASE("in place") { in_place = true; }
  int at = 1, none = 0, whole = 0;
  for (;; ++at) {
    fixture.reset();
    {
      DiskBook office(fixture.path.string(), true);
      BreakingDisk::arm(BreakingDisk::Power, at);
      const auto taken = Fixture::take(*office.book, fixture.file, in_place);
      ++(taken ? whole : none);
      // The program is gone with the power: nothing of it is written any more, its memory is lost.
    }
    const bool struck = BreakingDisk::struck();
    fixture.check_after_restart(at);
    if (!struck) break;
  }
  const int writes = at - 1;
  MESSAGE(writes, " writes, the power failing at each: ", none, " imports untouched or torn, ", whole, " complete");
  CHECK(none > 5);
}

TEST_CASE("scenario 23: the disk is full at each write of an import: a sentence, the book as before, then it goes on") {
  Fixture fixture;
  bool in_place = false;
  SUBCASE("through the log") {}
  SUBCASE("in place") { in_place = true; }
  int refused = 0;
  for (int at = 1;; ++at) {
    CAPTURE(at);
    fixture.reset();
    bool struck = false;
    {
      DiskBook office(fixture.path.string(), true);
      BreakingDisk::arm(BreakingDisk::Full, at);
      const auto taken = Fixture::take(*office.book, fixture.file, in_place);
      struck = BreakingDisk::struck();
      BreakingDisk::arm(BreakingDisk::None, 0);
      if (!taken) {
        ++refused;
        CHECK(taken.error().word.key == "book.full");
        CHECK(office.book->digest() == fixture.before);
        CHECK(office.book->change_count() == 41);
        CHECK(take_in(*office.book, fixture.file));  // Room was made: the same program goes on.
      }
      CHECK(office.book->digest() == fixture.after);
    }
    fixture.check_after_restart(at);
    if (!struck) break;
  }
  CHECK(refused > 3);
}

TEST_CASE(
    "scenarios 23, 33: the power fails, the disk is full at each write of a take that joins two starts: the join "
    "stands only with the records") {
  Folder place;
  Copy ana("Ana's phone", 1);
  REQUIRE(ana.book->start("Alder Reach", false));
  for (int i = 0; i < 40; ++i) add(*ana.book, "rig", {text_field_value("name", "Rig " + std::to_string(i))});
  const File file = file_of(ana);
  {
    DiskBook laptop(place.path.string(), false);
    REQUIRE(laptop.book->start("Alder Reach Farm", false));
  }
  place.before_bytes = bytes_of(place.path);
  auto fault = BreakingDisk::None;
  SUBCASE("power") { fault = BreakingDisk::Power; }
  SUBCASE("full") { fault = BreakingDisk::Full; }
  int untouched = 0, whole = 0;
  for (int at = 1;; ++at) {
    CAPTURE(at);
    place.reset();
    {
      DiskBook laptop(place.path.string(), true);
      BreakingDisk::arm(fault, at);
      const auto taken = take_in(*laptop.book, file, "Alder Reach");
      const bool struck = BreakingDisk::struck();
      // What the running program says is what it would find again.
      if (struck && fault == BreakingDisk::Full) CHECK(laptop.book->joined().size() == (taken ? 2u : 1u));
    }
    const bool struck = BreakingDisk::struck();
    BreakingDisk::arm(BreakingDisk::None, 0);
    DiskBook again(place.path.string(), false);
    const bool joined = again.book->joined().size() == 2;
    ++(joined ? whole : untouched);
    CHECK(again.book->change_count() == (joined ? 43 : 1));  // Its own start, the join, and Ana's 41.
    CHECK(got(again.book->records("rig")).size() == (joined ? 40u : 0u));
    CHECK(got(again.book->check()).tables_match);
    if (!joined) {
      CHECK(take_in(*again.book, file).error().word.key == "take.other_book");
      CHECK(take_in(*again.book, file, "Alder Reach"));
    }
    if (!struck) break;
  }
  CHECK(untouched > 3);
  CHECK(whole >= 1);
}
