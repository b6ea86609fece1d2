#include "trade/hold.h"

#include <doctest/doctest.h>
#include <string>
#include <vector>

using namespace steep;

namespace {

// A farm on the east coast of the US; its clocks go forward on 8 March and back on 1 November 2026.
Zone eastern() { return *Zone::from_rule("America/New_York", "EST5EDT,M3.2.0,M11.1.0"); }

Moment at(const Zone& zone, int year, int month, int day, int hour, int minute) {
  const auto moments = zone.instants({{year, month, day}, hour, minute, 0});
  REQUIRE(!moments.empty());
  return moments.front();
}

std::string local(const Zone& zone, Moment moment) { return stamp_text(zone.stamp(moment)).substr(0, 16); }

RuleWait label(std::string product_and_crop, Wait wait) {
  return {{RuleSource::Kind::Label, std::move(product_and_crop), "", std::nullopt}, {wait}};
}
RuleWait farm_tea(Wait wait) { return {{RuleSource::Kind::FarmTea, "Alder Reach", "", Date{2026, 1, 12}}, {wait}}; }

Treatment sprayed(Moment finish, std::vector<RuleWait> harvest) { return {"dose", {finish}, std::move(harvest), {}}; }

TEST_CASE("hold: a mixed tank on intercropped beds") {
  // Invented case: Wednesday 3 June 2026, finished 18:20. Tea with additives (farm's rule 14 days), product A
  // (lettuce 0, radish 0), product B (lettuce 7, radish not on its label). 3 June + 14 = 17 June.
  const Zone zone = eastern();
  const Moment finish = at(zone, 2026, 6, 3, 18, 20);

  SUBCASE("lettuce: the farm's tea rule is the longest") {
    const std::vector treatments{sprayed(
        finish, {farm_tea(Wait::days(14)), label("A, lettuce", Wait::days(0)), label("B, lettuce", Wait::days(7))})};
    const Hold by_hours = harvest_hold(treatments, DayCounting::Hours, zone);
    CHECK(by_hours.state == Hold::State::Until);
    CHECK(local(zone, *by_hours.until) == "2026-06-17T18:20");
    CHECK(!by_hours.whole_day);
    const Hold by_dates = harvest_hold(treatments, DayCounting::Dates, zone);
    CHECK(local(zone, *by_dates.until) == "2026-06-17T00:00");
    CHECK(by_dates.whole_day);
    CHECK(*by_dates.first_day == Date{2026, 6, 17});
    REQUIRE(by_dates.contributors.size() == 3);
    CHECK(by_dates.governing()->rule == 0);
    CHECK(by_dates.contributors[1].rule == 2);
    CHECK(by_dates.contributors[2].rule == 1);
    // A morning harvest on 17 June is inside the wait by hours, outside it by dates.
    const Moment morning = at(zone, 2026, 6, 17, 6, 0);
    CHECK(by_hours.holds_at(morning));
    CHECK(!by_dates.holds_at(morning));
  }
  SUBCASE("radish in the same bed: no harvest date is known") {
    const std::vector treatments{sprayed(finish, {farm_tea(Wait::days(14)), label("A, radish", Wait::days(0)),
                                                  label("B, radish", Wait::not_on_label())})};
    const Hold hold = harvest_hold(treatments, DayCounting::Dates, zone);
    CHECK(hold.state == Hold::State::NotKnown);
    CHECK(hold.governing()->rule == 2);
    CHECK(unknown_wait_word(hold.governing()->wait.kind) == "hold.not-on-label"_w);
    CHECK(*hold.first_day == Date{2026, 6, 17});  // 'Not before', not 'from'.
    CHECK(hold.holds_at(at(zone, 2030, 1, 1, 0, 0)));
  }
}

TEST_CASE("hold: waiting days across a leap day are counted as civil dates") {
  // Day counts checked by hand: 1 Nov + 29 = 30 Nov, + 60 = 31 Dec, + 91 = 31 Jan.
  struct Row {
    Date applied;
    int days;
    Date first;
  };
  const Zone zone = eastern();
  for (const Row& row : {Row{{2027, 11, 1}, 90, {2028, 1, 30}}, Row{{2027, 11, 1}, 120, {2028, 2, 29}},
                         Row{{2026, 11, 1}, 90, {2027, 1, 30}}, Row{{2026, 11, 1}, 120, {2027, 3, 1}},
                         Row{{2028, 2, 25}, 7, {2028, 3, 3}}, Row{{2027, 2, 25}, 7, {2027, 3, 4}}}) {
    CAPTURE(date_text(row.applied));
    CAPTURE(row.days);
    const Moment finish = at(zone, row.applied.year, row.applied.month, row.applied.day, 23, 59);
    const std::vector treatments{sprayed(finish, {label("x", Wait::days(row.days))})};
    CHECK(harvest_hold(treatments, DayCounting::Dates, zone).first_day == row.first);
  }
}

TEST_CASE("hold: a wait under 3 days counted by dates lasts its 24 h for each day") {
  const Zone zone = eastern();
  const Moment finish = at(zone, 2026, 6, 3, 18, 20);
  const auto end = [&](int days) { return local(zone, wait_end(Wait::days(days), finish, DayCounting::Dates, zone)); };
  CHECK(end(0) == "2026-06-03T18:20");
  CHECK(end(1) == "2026-06-04T18:20");
  CHECK(end(2) == "2026-06-05T18:20");
  CHECK(end(3) == "2026-06-06T00:00");
}

TEST_CASE("hold: a longer wait never ends earlier, whatever the hour, also around clock changes") {
  const Zone zone = eastern();
  for (const DayCounting counting : {DayCounting::Dates, DayCounting::Hours})
    for (int day = 1; day <= 16; ++day)
      for (const int hour : {0, 3, 12, 23}) {
        for (const int month : {3, 10}) {
          const Moment finish = at(zone, 2026, month, day + (month == 10 ? 15 : 0), hour, 59);
          for (int days = 0; days < 20; ++days)
            CHECK(wait_end(Wait::days(days + 1), finish, counting, zone) >=
                  wait_end(Wait::days(days), finish, counting, zone));
        }
      }
}

TEST_CASE("hold: an end is read to the minute, and never looks earlier than it is") {
  const Zone zone = eastern();
  const Moment finish = at(zone, 2026, 6, 3, 18, 20);
  const auto end = [&](std::int64_t seconds, Wait wait) {
    return wait_end(wait, finish + seconds * kSecond, DayCounting::Hours, zone) - finish;
  };
  CHECK(end(0, Wait::hours(4)) == 4 * kHour);
  CHECK(end(1, Wait::hours(4)) == 4 * kHour + kMinute);
  CHECK(end(59, Wait::days(1)) == kDay + kMinute);
}

TEST_CASE("hold: entry waits count in hours from the bed's own finish") {
  const Zone zone = eastern();
  Treatment treatment{
      "dose", {at(zone, 2026, 3, 7, 18, 0)}, {}, {label("B", Wait::hours(12)), label("C", Wait::hours(4))}};
  const Hold hold = entry_hold(std::vector{treatment}, zone);
  // The clock jumps that night: 12 h after 18:00 is 07:00.
  CHECK(local(zone, *hold.until) == "2026-03-08T07:00");
  CHECK(hold.governing()->rule == 0);
  treatment.entry = {label("B", Wait::not_known())};
  CHECK(entry_hold(std::vector{treatment}, zone).state == Hold::State::NotKnown);
}

TEST_CASE("hold: tea on leaves brings the farm's rule, tea on soil does not") {
  const RuleSource farm{RuleSource::Kind::FarmTea, "Alder Reach", "", std::nullopt};
  CHECK(tea_rule_wait(std::vector{Aim::Leaf}, farm, {Wait::days(1)}));
  CHECK(!tea_rule_wait(std::vector{Aim::Soil}, farm, {Wait::days(1)}));
  CHECK(!tea_rule_wait(std::vector{Aim::Drench}, farm, {Wait::days(1)}));
  CHECK(tea_rule_wait(std::vector{Aim::Soil, Aim::Leaf}, farm, {Wait::days(1)}));  // In dispute.

  const Zone zone = eastern();
  const Hold hold = harvest_hold(std::vector{sprayed(at(zone, 2026, 6, 3, 18, 20), {farm_tea(Wait::undecided())})},
                                 DayCounting::Dates, zone);
  CHECK(hold.state == Hold::State::NotKnown);
  CHECK(hold.governing()->wait.kind == Wait::Kind::Undecided);
  CHECK(!hold.until);
}

TEST_CASE("hold: over all readings of facts in dispute the most cautious governs") {
  const Zone zone = eastern();
  const Moment early = at(zone, 2026, 6, 3, 7, 46), late = at(zone, 2026, 6, 3, 7, 50);
  Treatment treatment{"dose", {early, late}, {label("B", Wait::days(1))}, {}};

  SUBCASE("two finishes: the later") {
    const Hold hold = harvest_hold(std::vector{treatment}, DayCounting::Hours, zone);
    CHECK(*hold.until == late + kDay);
    CHECK(hold.to_settle == 1);
  }
  SUBCASE("two lengths: the longer") {
    treatment.harvest[0].readings = {Wait::days(7), Wait::days(1)};
    const Hold hold = harvest_hold(std::vector{treatment}, DayCounting::Hours, zone);
    CHECK(*hold.until == late + 7 * kDay);
    CHECK(hold.to_settle == 1);
  }
  SUBCASE("decided here, undecided there: a hold") {
    treatment.harvest = {farm_tea(Wait::days(1))};
    treatment.harvest[0].readings.push_back(Wait::undecided());
    CHECK(harvest_hold(std::vector{treatment}, DayCounting::Hours, zone).state == Hold::State::NotKnown);
  }
  SUBCASE("no readings, no finish, or an impossible length: not known, never zero") {
    treatment.finishes = {early};
    treatment.harvest[0].readings = {};
    CHECK(harvest_hold(std::vector{treatment}, DayCounting::Dates, zone).state == Hold::State::NotKnown);
    treatment.harvest[0].readings = {Wait::days(-1)};
    CHECK(harvest_hold(std::vector{treatment}, DayCounting::Dates, zone).state == Hold::State::NotKnown);
    treatment.harvest[0].readings = {Wait::days(1)};
    treatment.finishes = {};
    CHECK(harvest_hold(std::vector{treatment}, DayCounting::Dates, zone).state == Hold::State::NotKnown);
  }
  SUBCASE("an entry in question counts and is to settle") {
    Treatment second = treatment;
    second.finishes = {early};
    second.in_question = true;
    treatment.finishes = {early};
    const Hold hold = harvest_hold(std::vector{treatment, second}, DayCounting::Hours, zone);
    CHECK(hold.to_settle == 1);
    CHECK(hold.contributors.size() == 2);
  }
}

TEST_CASE("hold: nothing sprayed, nothing held; a set hold has no end") {
  const Zone zone = eastern();
  CHECK(harvest_hold({}, DayCounting::Dates, zone).state == Hold::State::None);
  CHECK(!harvest_hold({}, DayCounting::Dates, zone).holds_at(Moment{0}));
  const RuleWait set{{RuleSource::Kind::ByHand, "Ana Leland", "", std::nullopt}, {Wait::by_hand()}};
  const Hold hold = harvest_hold(std::vector{sprayed(Moment{0}, {set})}, DayCounting::Dates, zone);
  CHECK(hold.state == Hold::State::NotKnown);
  CHECK(unknown_wait_word(hold.governing()->wait.kind) == "hold.by-hand"_w);
}

TEST_CASE("hold: the whole bed waits for its latest part") {
  const Zone zone = eastern();
  const auto part = [&](int day, Wait wait) {
    return harvest_hold(std::vector{sprayed(at(zone, 2026, 6, day, 7, 0), {label("B", wait)})}, DayCounting::Hours,
                        zone);
  };
  const std::vector parts{part(1, Wait::days(1)), part(2, Wait::days(1)), Hold{}};
  const Hold bed = latest_hold(parts);
  CHECK(local(zone, *bed.until) == "2026-06-03T07:00");
  CHECK(bed.contributors.size() == 2);
  CHECK(latest_hold({}).state == Hold::State::None);
  const std::vector with_unknown{part(2, Wait::days(1)), part(1, Wait::not_known())};
  const Hold unknown = latest_hold(with_unknown);
  CHECK(unknown.state == Hold::State::NotKnown);
  CHECK(local(zone, *unknown.until) == "2026-06-03T07:00");  // Not before that.
}

TEST_CASE("hold: days and hours end by themselves, all else waits for a person") {
  CHECK(Wait::days(7).is_known());
  CHECK(Wait::hours(0).is_known());
  for (const Wait& wait : {Wait::undecided(), Wait::not_on_label(), Wait::not_known(), Wait::by_hand()})
    CHECK(!wait.is_known());
}

}  // namespace
