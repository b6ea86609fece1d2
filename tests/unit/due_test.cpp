#include "trade/due.h"

#include <doctest/doctest.h>
#include <vector>

using namespace steep;

namespace {

Zone eastern() { return *Zone::from_rule("America/New_York", "EST5EDT,M3.2.0,M11.1.0"); }
Stretch feet(double from, double to) { return {Length::from_feet(from), Length::from_feet(to)}; }
TeaDose tea(Stretch stretch, int day, Aim aim = Aim::Leaf, int hour = 7) {
  return {stretch, aim, eastern().instants({{2026, 6, day}, hour, 0, 0}).front()};
}
constexpr Date june(int day) { return {2026, 6, day}; }
const std::vector<Interval> kFarmTwoWeeks{{IntervalPlace::Farm, false, 14}};

TEST_CASE("due: the narrowest interval counts, for its own aim") {
  const std::vector<Interval> set{{IntervalPlace::Planting, false, 10},
                                  {IntervalPlace::Farm, false, 14},
                                  {IntervalPlace::Block, false, 21},
                                  {IntervalPlace::Crop, false, 7},
                                  {IntervalPlace::Farm, true, 30}};
  CHECK(interval_in_force(set, false)->days == 10);
  CHECK(interval_in_force(set, true)->days == 30);
  CHECK(interval_in_force(std::vector<Interval>{set[1], set[2]}, false)->days == 21);
  CHECK(interval_in_force(std::vector<Interval>{set[2], set[3]}, false)->days == 7);
  CHECK(!interval_in_force({}, false));
  // In dispute at one place: the shorter. Below a day is no interval.
  CHECK(interval_in_force(std::vector<Interval>{{IntervalPlace::Farm, false, 14}, {IntervalPlace::Farm, false, 12}},
                          false)
            ->days == 12);
  CHECK(!interval_in_force(std::vector<Interval>{{IntervalPlace::Farm, false, 0}}, false));
}

TEST_CASE("due: without an interval there is no answer") {
  CHECK(!due(feet(0, 100), {}, false, std::vector{tea(feet(0, 100), 1)}, june(3), eastern()));
  CHECK(!due(feet(0, 100), kFarmTwoWeeks, true, {}, june(3), eastern()));
}

TEST_CASE("due: counts civil days from the last tea with that aim") {
  const std::vector doses{tea(feet(0, 100), 1), tea(feet(0, 100), 4, Aim::Soil), tea(feet(0, 100), 5, Aim::Drench)};
  const auto result = due(feet(0, 100), kFarmTwoWeeks, false, doses, june(8), eastern());
  REQUIRE(result);
  REQUIRE(result->stretches.size() == 1);
  CHECK(result->stretches[0].next == june(15));
  CHECK(result->stretches[0].days_left == 7);
  CHECK(result->stretches[0].share_left == doctest::Approx(0.5));
  CHECK(!result->any_due());
  // On soil: the drench of the 5th is the last.
  const std::vector<Interval> soil{{IntervalPlace::Farm, true, 30}};
  CHECK(due(feet(0, 100), soil, true, doses, june(8), eastern())->stretches[0].next == Date{2026, 7, 5});
}

TEST_CASE("due: late in the evening still belongs to that day of the farm") {
  const std::vector doses{tea(feet(0, 100), 1, Aim::Leaf, 23)};  // 03:00 UTC on 2 June.
  CHECK(due(feet(0, 100), kFarmTwoWeeks, false, doses, june(2), eastern())->stretches[0].next == june(15));
}

TEST_CASE("due: today, late, and full after a pass") {
  const std::vector doses{tea(feet(0, 100), 1)};
  const auto left = [&](Date today) {
    return due(feet(0, 100), kFarmTwoWeeks, false, doses, today, eastern())->stretches[0];
  };
  CHECK(left(june(1)).share_left == 1);
  CHECK(left(june(15)).days_left == 0);
  CHECK(left(june(15)).is_due());
  CHECK(left(june(17)).days_left == -2);
  CHECK(left(june(17)).share_left == 0);
}

TEST_CASE("due: a part of a bed cuts it, and each side has its own date") {
  const std::vector doses{tea(feet(0, 100), 1), tea(feet(0, 40), 8)};
  const auto result = due(feet(0, 100), kFarmTwoWeeks, false, doses, june(16), eastern());
  REQUIRE(result->stretches.size() == 2);
  CHECK(result->stretches[0].stretch.to.feet() == doctest::Approx(40));
  CHECK(result->stretches[0].next == june(22));
  CHECK(!result->stretches[0].is_due());
  CHECK(result->stretches[1].next == june(15));
  CHECK(result->any_due());
  CHECK(!result->all_due());
}

TEST_CASE("due: both halves on one day leave no cut line; a stretch never treated is due") {
  const std::vector halves{tea(feet(0, 50), 8), tea(feet(50, 100), 8, Aim::Leaf, 9)};
  const auto whole = due(feet(0, 100), kFarmTwoWeeks, false, halves, june(9), eastern());
  REQUIRE(whole->stretches.size() == 1);
  CHECK(whole->stretches[0].stretch.to.feet() == doctest::Approx(100));
  CHECK(*whole->stretches[0].last == halves[1].finish);
  const auto half = due(feet(0, 100), kFarmTwoWeeks, false, std::vector{halves[0]}, june(9), eastern());
  REQUIRE(half->stretches.size() == 2);
  CHECK(!half->stretches[1].last);
  CHECK(half->stretches[1].is_due());
}

TEST_CASE("stretch: pieces fill the whole, however the parts lie") {
  const std::vector parts{feet(60, 20), feet(-10, 30), feet(30.01, 150), feet(20, 20)};
  const auto pieces = cut_into_pieces(feet(0, 100), parts);
  REQUIRE(pieces.size() == 4);  // 0–20, 20–30, 30–60, 60–100; 30 and 30.01 ft are one place.
  CHECK(pieces.front().stretch.from.feet() == doctest::Approx(0));
  CHECK(pieces.back().stretch.to.feet() == doctest::Approx(100));
  for (std::size_t i = 1; i < pieces.size(); ++i) CHECK(pieces[i].stretch.from == pieces[i - 1].stretch.to);
  CHECK(pieces[0].covered_by == std::vector<std::size_t>{1});
  CHECK(pieces[1].covered_by == std::vector<std::size_t>{0, 1});
  CHECK(pieces[2].covered_by == std::vector<std::size_t>{0, 2});
  CHECK(pieces[3].covered_by == std::vector<std::size_t>{2});
  CHECK(cut_into_pieces(feet(5, 5), parts).empty());
  CHECK(cut_into_pieces(feet(100, 0), {}).size() == 1);
}

}  // namespace
