#include "trade/hold.h"

#include <algorithm>
#include <cassert>

#include "base/sorting.h"

namespace steep {
namespace {

/// Later ends are more cautious, no known end most of all.
bool is_more_cautious(const Contributor& a, const Contributor& b) {
  if (a.until.has_value() != b.until.has_value()) return !a.until;
  return a.until && *a.until > *b.until;
}

/// The most cautious of all pairs of wait and finish.
Contributor most_cautious(const RuleWait& rule, const Treatment& treatment, DayCounting counting, const Zone& zone) {
  static constexpr Wait kNobodyKnows[] = {{Wait::Kind::NotKnown, 0}};
  const std::span<const Wait> readings =
      rule.readings.empty() ? std::span<const Wait>(kNobodyKnows) : std::span<const Wait>(rule.readings);
  std::optional<Contributor> worst;
  const auto offer = [&](Wait wait, std::optional<Moment> finish) {
    Contributor one;
    one.wait = wait;
    one.finish = finish;
    if (wait.is_known() && finish) one.until = wait_end(wait, *finish, counting, zone);
    if (!worst || is_more_cautious(one, *worst)) worst = one;
  };
  for (const Wait wait : readings) {
    if (treatment.finishes.empty()) offer(wait, std::nullopt);
    for (const Moment finish : treatment.finishes) offer(wait, finish);
  }
  const auto differs = [](const auto& list) {
    return std::any_of(list.begin(), list.end(), [&](const auto& x) { return !(x == list.front()); });
  };
  worst->in_dispute = treatment.in_question || differs(readings) || differs(treatment.finishes);
  return *worst;
}

void conclude(Hold& hold, const Zone& zone) {
  sort_list(hold.contributors, is_more_cautious);
  for (const Contributor& one : hold.contributors)
    if (one.until && (!hold.until || *one.until > *hold.until)) hold.until = one.until;
  if (hold.contributors.empty()) return;
  hold.state = hold.contributors.front().until ? Hold::State::Until : Hold::State::NotKnown;
  if (!hold.until) return;
  hold.first_day = zone.local(*hold.until).date;
  hold.whole_day = zone.start_of(*hold.first_day) == *hold.until;
}

Hold hold_of(std::span<const Treatment> treatments, std::vector<RuleWait> Treatment::*rules, DayCounting counting,
             const Zone& zone) {
  Hold hold;
  for (std::size_t t = 0; t < treatments.size(); ++t) {
    bool disputed = false;
    const auto& list = treatments[t].*rules;
    for (std::size_t r = 0; r < list.size(); ++r) {
      Contributor one = most_cautious(list[r], treatments[t], counting, zone);
      one.treatment = t;
      one.rule = r;
      disputed = disputed || one.in_dispute;
      hold.contributors.push_back(one);
    }
    if (disputed) ++hold.to_settle;
  }
  conclude(hold, zone);
  return hold;
}

}  // namespace

bool Wait::is_known() const {
  const int longest = kind == Kind::Hours ? kLongestWaitDays * 24 : kLongestWaitDays;
  return (kind == Kind::Days || kind == Kind::Hours) && amount >= 0 && amount <= longest;
}

Moment wait_end(Wait wait, Moment finish, DayCounting counting, const Zone& zone) {
  assert(wait.is_known());
  // Ends are read to the minute: none may look earlier than it is.
  const std::int64_t into = (finish.ms % kMinute + kMinute) % kMinute;
  if (into != 0) finish = finish + (kMinute - into);
  if (wait.kind == Wait::Kind::Hours) return finish + wait.amount * kHour;
  const Moment by_hours = finish + wait.amount * kDay;
  if (counting == DayCounting::Hours) return by_hours;
  const Moment by_date = zone.start_of(zone.local(finish).date + wait.amount);
  const Moment never_before = finish + std::min(wait.amount, 2) * kDay;
  return std::max(by_date, never_before);
}

Hold harvest_hold(std::span<const Treatment> treatments, DayCounting counting, const Zone& zone) {
  return hold_of(treatments, &Treatment::harvest, counting, zone);
}

Hold entry_hold(std::span<const Treatment> treatments, const Zone& zone) {
  return hold_of(treatments, &Treatment::entry, DayCounting::Hours, zone);
}

std::optional<RuleWait> tea_rule_wait(std::span<const Aim> aims, RuleSource source, std::vector<Wait> rule) {
  if (std::find(aims.begin(), aims.end(), Aim::Leaf) == aims.end()) return std::nullopt;
  return RuleWait{std::move(source), std::move(rule)};
}

Hold latest_hold(std::span<const Hold> holds) {
  Hold all;
  const auto later = [](const Hold& a, const Hold& b) {
    if ((a.state == Hold::State::NotKnown) != (b.state == Hold::State::NotKnown))
      return a.state == Hold::State::NotKnown;
    if (a.until.has_value() != b.until.has_value()) return a.until.has_value();
    return a.until && *a.until > *b.until;
  };
  const Hold* governing = nullptr;
  for (const Hold& hold : holds)
    if (!governing || later(hold, *governing)) governing = &hold;
  if (!governing) return all;
  all = *governing;
  for (const Hold& hold : holds) {
    all.to_settle += &hold == governing ? 0 : hold.to_settle;
    if (&hold != governing)
      all.contributors.insert(all.contributors.end(), hold.contributors.begin(), hold.contributors.end());
    // A hold without known end keeps the latest end known anywhere as its 'not before'.
    if (hold.until && (!all.until || *hold.until > *all.until)) {
      all.until = hold.until;
      all.first_day = hold.first_day;
      all.whole_day = hold.whole_day;
    }
  }
  sort_list(all.contributors, is_more_cautious);
  return all;
}

WordId unknown_wait_word(Wait::Kind kind) {
  switch (kind) {
    case Wait::Kind::Undecided: return "hold.undecided"_w;
    case Wait::Kind::NotOnLabel: return "hold.not-on-label"_w;
    case Wait::Kind::ByHand: return "hold.by-hand"_w;
    default: return "hold.not-known"_w;
  }
}

}  // namespace steep
