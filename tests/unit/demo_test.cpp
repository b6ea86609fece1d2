// The demo farm is believable at whatever hour it is made: what happened has its own time, and every balance holds.
#include "demo/demo.h"

#include <map>

#include "book/brew_commands.h"
#include "book/questions.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

struct DemoOf {
  Copy device{"Looker", 7};
  explicit DemoOf(std::string_view now) {
    DemoWish wish;
    wish.now = parse_stamp(now)->at;
    device.book.reset();
    REQUIRE(make_demo(device.place(), wish));
    device.clock = wish.now.ms;
    device.open();
  }
  const Book& book() const { return *device.book; }
};

Moment time_of(const Taken<Stamp>& at) {
  REQUIRE(at);
  return at->at;
}

/// The shortest time between two readings of one quantity of one brew.
std::int64_t shortest_gap(const Book& book, const Id& brew) {
  std::map<std::string, Moment> before;
  std::int64_t shortest = kDay;
  for (const Reading& reading : got(readings(book, brew))) {
    const Moment at = time_of(reading.at);
    if (const auto last = before.find(reading.quantity); last != before.end())
      shortest = std::min(shortest, at - last->second);
    before[reading.quantity] = at;
  }
  return shortest;
}

}  // namespace

TEST_CASE("demo: each brew was written when it began, read hours apart, and nothing of it is overdrawn") {
  for (const std::string_view now : {"2026-05-14T05:00:00-07:00", "2026-05-14T18:39:00-07:00",
                                     "2026-11-02T00:10:00-08:00", "2027-01-01T12:00:00-08:00"}) {
    CAPTURE(std::string(now));
    const DemoOf demo(now);
    const Book& book = demo.book();
    const std::vector<Brew> all = got(brews(book));
    CHECK(all.size() >= 13);
    for (const Brew& brew : all) {
      CAPTURE(brew.number);
      CHECK(brew.made.at - time_of(brew.met_water) <= 10 * kMinute);
      CHECK(shortest_gap(book, brew.id) >= 2 * kHour);
      CHECK_FALSE(got(read_brew_balance(book, brew.id)).is_overdrawn());
    }
  }
}

TEST_CASE("demo: nothing in it waits, has to be settled, or was picked inside a wait") {
  for (const std::string_view now : {"2026-05-14T05:00:00-07:00", "2026-05-14T20:30:00-07:00"}) {
    const DemoOf demo(now);
    CHECK(got(open_questions(demo.book())).empty());
    CHECK(got(demo.book().reviews()).empty());
    const Book::Health health = got(demo.book().check());
    CHECK(health.waiting == 0);
    CHECK(health.tables_match);
    CHECK(health.broken_chains.empty());
  }
}
