// How many lines of a file would wait, told beforehand and compared with what the take then does.
#include "handover/would_wait.h"
#include "two_copies.h"

using namespace steep;
using namespace steep::test;

namespace {

/// As the preview counts it: of the lines that are not here.
std::int64_t told(const Book& book, const std::vector<Section>& sections) {
  WouldWait would(book);
  for (const Section& section : sections)
    for (const Book::Line& line : section.lines)
      if (book.holds(section.lane.id, line.seq, line.hash) == Book::Held::No)
        would.add(*read_change(line.body), line.prev, line.hash);
  const auto count = would.count();
  REQUIRE(count);
  return *count;
}

std::int64_t told_and_done(Book& book, const std::vector<Section>& sections) {
  const std::int64_t before = told(book, sections);
  const auto outcome = take(book, sections);
  REQUIRE(outcome);
  CHECK(outcome->waiting == before);
  return before;
}

/// Two saves, one act.
void add_act(ForeignLane& lane, const Book& book, const std::string& name) {
  const auto act = static_cast<std::int64_t>(lane.lines.size()) + 1;
  lane.add(book.new_record(), "rig", {text_field_value("name", name)}, {}, act, false);
  lane.add(book.new_record(), "rig", {text_field_value("name", name + " too")}, {}, act, true);
}

}  // namespace

TEST_CASE("would wait: the half of an act that waits here belongs to its own branch of a forked lane") {
  Two farm;
  Book& book = *farm.ana.book;
  ForeignLane first(9), second(9);
  add_act(first, book, "cart");
  add_act(second, book, "boom");
  REQUIRE(first.lines[0].hash != second.lines[0].hash);
  CHECK(told_and_done(book, {second.section(2, 2)}) == 1);
  SUBCASE("both branches come: nothing waits, in whatever order they stand in the file") {
    SUBCASE("the other one first") { CHECK(told_and_done(book, {first.section(), second.section(1, 1)}) == 0); }
    SUBCASE("the other one last") { CHECK(told_and_done(book, {second.section(1, 1), first.section()}) == 0); }
    CHECK(book.waiting()->empty());
  }
  SUBCASE("only the other branch comes: it counts, what is here goes on waiting") {
    CHECK(told_and_done(book, {first.section()}) == 0);
    CHECK(book.waiting()->size() == 1);
  }
  SUBCASE("the beginning of the other branch makes nothing whole") {
    CHECK(told_and_done(book, {first.section(1, 1)}) == 1);
    CHECK(book.waiting()->size() == 2);
  }
}
