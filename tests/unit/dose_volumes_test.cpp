// Volumes of doses from several passes in one reading.
#include "book/dose_volumes.h"

#include "book/work.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

TEST_CASE("dose volumes: of two passes at once, as each pass shows them; a struck one has none") {
  FarmBook farm;
  const Id brew = farm.brew();
  std::vector<Id> wanted;
  for (const std::vector<Id>& over : {std::vector<Id>{farm.beds[0], farm.beds[1]}, std::vector<Id>{farm.beds[2]}}) {
    const Id pass = farm.start(farm.choices(brew, over), "as planned");
    for (const Id& bed : over) farm.spray(pass, bed);
    for (const Dose& dose : got(doses_of_pass(farm.book(), pass))) wanted.push_back(dose.id);
    EndRequest end;
    end.pass = pass;
    end.weather.not_taken = true;
    done(end_pass(farm.book(), end, farm.by_ana("as planned")));
  }
  REQUIRE(wanted.size() == 3);
  const auto volumes = got(dose_volumes(farm.book(), wanted));
  REQUIRE(volumes.size() == 3);
  // 100 ft × 30 in at 45 gal an acre, 20 of them tea; of a closed load its share of what went out.
  CHECK(volumes.at(wanted[0]).spray->gallons() == doctest::Approx(volumes.at(wanted[1]).spray->gallons()));
  done(strike(farm.book(), wanted[0], "wrong bed", farm.by_ana()));
  const auto after = got(dose_volumes(farm.book(), wanted));
  CHECK(after.size() == 2);
  CHECK(after.count(wanted[0]) == 0);
  CHECK(got(dose_volumes(farm.book(), std::vector<Id>{farm.farm})).empty());
}
