// The first write of all.
#include <doctest/doctest.h>

#include "book/farm_commands.h"
#include "book/places.h"
#include "tests/unit/book_copies.h"

using namespace steep;
using namespace steep::test;

TEST_CASE("a farm is started in one write: after a kill there are a book and its farm, or neither") {
  int commits = 0;
  std::uint8_t chance = 0;
  BookNeeds needs;
  needs.now = [] { return Stamp{{kSpring2026}, -240}; };
  needs.random = [&chance](std::span<std::uint8_t> bytes) {
    for (auto& byte : bytes) byte = ++chance;
  };
  needs.committed = [&commits] { ++commits; };
  auto book = Book::open({":memory:", {}, false}, needs);
  REQUIRE(book);
  commits = 0;
  FarmGiven given;
  given.name = "Alder Reach";
  given.person_name = "Ana Leland";
  given.zone_name = "America/Los_Angeles";
  given.blocks = {{}};
  given.blocks.front().name = "North";
  given.blocks.front().beds = 3;
  const auto started = start_farm(*book, given, {});
  REQUIRE(started);
  CHECK(commits == 1);
  CHECK(book->is_started());
  CHECK(book->name() == "Alder Reach");
  CHECK(book->kind_of(started->person) == "person");
  const auto all = farms(*book);
  REQUIRE(all);
  REQUIRE(all->size() == 1);
  CHECK(all->front().id == started->farm);
  CHECK(started->beds.size() == 3);
}
