#pragma once
/// What the parts of the demo share: the book, a clock that the story moves, chance from a fixed seed.

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/function.h"
#include "base/zone.h"
#include "book/book.h"
#include "book/caution.h"
#include "book/places.h"
#include "quantity/written.h"

namespace steep {

/// A small generator (xorshift64*, Vigna 2016): only that the same seed gives the same farm matters.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  /// 0 … n − 1.
  int below(int n) { return static_cast<int>(next() % static_cast<std::uint64_t>(n)); }
  /// Between the two, evenly.
  double between(double low, double high);

 private:
  std::uint64_t state_;
};

struct Story {
  Book* book = nullptr;
  std::shared_ptr<Moment> clock;  ///< What the book reads as now.
  Chance chance{0x5eedbeda1de77eULL};
  Zone zone;
  Date today;
  Moment now;  ///< Where the season ends.

  Id farm, ana, marek;
  std::map<std::string, Id, std::less<>> ids;  ///< By the names that the story uses: 'N7', 'backpack 1'.

  /// That day at that clock, farm time. `days_ago` 0 = today.
  Moment at(int days_ago, int hour, int minute = 0) const;
  /// Sets the clock; the story never goes back.
  void go_to(Moment moment);
  void wait(std::int64_t ms) { go_to(*clock + ms); }

  Stamp stamp(Moment moment) const { return zone.stamp(moment); }
  Id operator[](std::string_view name) const;
  std::vector<Id> beds(std::string_view prefix, int from, int to) const;

  /// A record of the house or farm written as it is; kept in `ids` under `name` when that is not empty.
  Result<Id> add(std::string_view kind, std::string_view name, std::vector<FieldValue> fields);
};

/// An empty story that ends at `now`.
Story begin_story(Moment now, const Zone& zone);
/// The story's own world for a book: its clock, chance from `seed`, no anchor (the copy that looks at
/// the demo mints its own lanes).
BookNeeds story_needs(const Story& story, std::uint64_t seed, std::function<void()> committed);

/// A quantity in normal form; only for literals of the story.
Written written(std::string_view normal_form);
/// Passes on what a command answered; cautions that nobody expected are a mistake of the story.
Result<Id> expect(Result<Outcome> outcome);

/// The parts, in order.
Result<void> tell_places(Story& story);  ///< The farm, its beds, rules, plantings.
Result<void> tell_things(Story& story);  ///< Materials, lots, rigs, vessels, recipes.
/// What happened, as moments and deeds in order of time.
struct Deed {
  Moment at;
  Function<Result<void>(Story&)> what;
};
std::vector<Deed> season(const Story& story);

}  // namespace steep
