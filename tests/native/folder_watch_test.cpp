// A file that could not be taken in just now comes again; nobody has to change it first.
#include "native/folder_watch.h"

#include <doctest/doctest.h>

#include <fstream>
#include <thread>

#include "tests/own_temporary.h"
#include "tests/unit/book_copies.h"

using namespace steep;
using namespace steep::test;

namespace {

struct Folder {
  std::filesystem::path place = own_temporary("watched");
  Copy office{"Office", 2};
  FolderWatch watch{place.string()};

  Folder() {
    std::filesystem::remove_all(place);
    std::filesystem::create_directories(place);
    REQUIRE(office.book->start("Alder Reach", false));
    write("a");
  }
  ~Folder() { std::filesystem::remove_all(place); }
  void write(std::string_view text) const { std::ofstream(place / "ana.steepbook") << text; }
  /// What the watch finds now, and after its rest.
  std::string found() {
    const auto next = watch.next(*office.book);
    REQUIRE(next);
    return *next ? (*next)->name : std::string();
  }
  std::string found_after_rest() {
    CHECK(found().empty());
    std::this_thread::sleep_for(FolderWatch::kRest + std::chrono::milliseconds(50));
    return found();
  }
};

}  // namespace

TEST_CASE("a watched folder: a file comes once; one that could not be taken comes again, in time") {
  Folder folder;
  CHECK(folder.found_after_rest() == "ana.steepbook");
  CHECK(folder.found_after_rest().empty());
  folder.watch.again("ana.steepbook");
  CHECK(folder.found_after_rest() == "ana.steepbook");
  folder.watch.again("ana.steepbook", std::chrono::seconds(60));
  CHECK(folder.found_after_rest().empty());
  SUBCASE("not before its time") { CHECK(folder.found_after_rest().empty()); }
  SUBCASE("unless it is changed") {
    folder.write("another");
    CHECK(folder.found_after_rest() == "ana.steepbook");
  }
  SUBCASE("nothing is known of it") {
    folder.watch.again("marek.steepbook");
    CHECK(folder.found_after_rest().empty());
  }
}
