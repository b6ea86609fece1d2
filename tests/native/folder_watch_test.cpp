// A file that could not be taken in just now comes again; nobody has to change it first.
#include "native/folder_watch.h"

#include <doctest/doctest.h>

#include <fstream>
#include <thread>

#include "handover/take.h"
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

TEST_CASE("a watched folder: a device that was copied whole goes by its original's name until the two have met") {
  Folder folder;
  std::filesystem::remove(folder.place / "ana.steepbook");
  const auto meets = [](FolderWatch& watch, Copy& copy) {  // Looks until nothing is new, then answers: did it write?
    for (;;) {
      auto found = watch.next(*copy.book);
      REQUIRE(found);
      if (*found) {
        REQUIRE((*found)->file);
        CHECK(take_in(*copy.book, std::move(*(*found)->file)));
      } else if (watch.waits()) {
        std::this_thread::sleep_for(FolderWatch::kRest + std::chrono::milliseconds(50));
      } else {
        break;
      }
    }
    const auto wrote = watch.answer(*copy.book);
    REQUIRE(wrote);
    return *wrote;
  };
  const auto rigs = [](const Copy& copy) { return copy.book->records("rig")->size(); };
  Copy& office = folder.office;
  CHECK(meets(folder.watch, office));
  CHECK_FALSE(meets(folder.watch, office));
  const auto twin = office.clone("Office", 7, true);
  REQUIRE(twin->book->copy() == office.book->copy());
  FolderWatch other(folder.place.string());
  // As long as both hold the same neither has anything to write.
  CHECK_FALSE(meets(other, *twin));
  CHECK_FALSE(meets(folder.watch, office));

  twin->clock += 5;
  add(*office.book, "rig", {text_field_value("name", "Backpack")});
  add(*twin->book, "rig", {text_field_value("name", "Cart")});
  CHECK(meets(folder.watch, office));
  CHECK_FALSE(*other.answer(*twin->book));  // Not over what it has not read.
  CHECK(meets(other, *twin));
  CHECK(rigs(*twin) == 2);
  CHECK(twin->book->notice());
  CHECK(meets(folder.watch, office));
  CHECK(rigs(office) == 2);
  CHECK(twin->book->copy() != office.book->copy());
  meets(other, *twin);
  CHECK_FALSE(meets(folder.watch, office));
  CHECK(twin->book->digest() == office.book->digest());
}
