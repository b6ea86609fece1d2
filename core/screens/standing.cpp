#include "screens/standing.h"

#include <algorithm>

#include "base/sorting.h"
#include "base/text.h"

namespace steep {
namespace {

/// Beds that let go at the same time by the same rule are one closure.
struct Closure {
  std::optional<Moment> until;
  std::string rule;
  Wait wait;
  Id bed;
  std::vector<std::string> names;
};

bool longer(const Closure& a, const Closure& b) {
  if (a.until.has_value() != b.until.has_value()) return !a.until;
  return a.until && *a.until > *b.until;
}

std::vector<Closure> closures(const BedStates& states, Moment now) {
  std::vector<Closure> all;
  for (const BedState& state : states.beds) {
    if (!state.holds_entry(now)) continue;
    const Hold& hold = state.entry.hold;
    const std::optional<Moment> until = hold.state == Hold::State::Until ? hold.until : std::nullopt;
    const RuleWait* rule = state.entry.rule();
    const std::string name = rule ? rule->source.name : std::string();
    // The same minute is the same time for people.
    const auto same = [&](const Closure& c) {
      return c.rule == name && c.until.has_value() == until.has_value() &&
             (!until || c.until->ms / kMinute == until->ms / kMinute);
    };
    auto found = std::find_if(all.begin(), all.end(), same);
    if (found == all.end()) {
      all.push_back({until, name, state.entry.wait(), state.bed.id, {}});
      found = all.end() - 1;
    }
    found->names.push_back(state.bed.name);
  }
  sort_list(all, longer);
  return all;
}

std::string wait_text(const Closure& closure, const Words& words) {
  switch (closure.wait.kind) {
    case Wait::Kind::Hours:
      if (closure.wait.amount == 0) return {};  // Until a time that a person set.
      return words("app.wait_hours"_w, {decimal(closure.wait.amount, 0)});
    case Wait::Kind::Days: return words.count("app.wait_days"_w, closure.wait.amount);
    default: return {};
  }
}

}  // namespace

TapeBand StandingCaution::band() const {
  TapeBand band;
  band.sign = Icon::NoEntry;
  band.first = first;
  band.second = second;
  band.more = more;
  band.spoken = spoken;
  return band;
}

Result<std::optional<StandingCaution>> standing_caution(const Surroundings& around) {
  std::optional<StandingCaution> none;
  if (around.farm.is_nil()) return none;
  TRY_ASSIGN(const BedStates* states, around.beds.get(around.book, around.farm, around.now));
  const std::vector<Closure> all = closures(*states, around.now);
  if (all.empty()) return none;

  const Closure& longest = all.front();
  // A long list of names would push the rest off the screen.
  constexpr std::size_t kMostNames = 4;
  const std::size_t shown = std::min(longest.names.size(), kMostNames);
  std::string names = join({longest.names.begin(), longest.names.begin() + static_cast<std::ptrdiff_t>(shown)}, ", ");
  if (longest.names.size() > shown) names += " +" + decimal(static_cast<double>(longest.names.size() - shown), 0);

  StandingCaution caution;
  caution.first = around.words("app.no_entry_beds"_w, {names});
  const std::string wait = wait_text(longest, around.words);
  const std::string until = longest.until ? around.when(*longest.until) : around.words("app.until_not_known"_w);
  if (longest.rule.empty() || wait.empty()) {
    caution.second = around.words("app.until"_w, {until});
  } else {
    caution.second = around.words("app.until_by_rule"_w, {until, longest.rule, wait});
  }
  caution.more = static_cast<int>(all.size()) - 1;
  caution.spoken = caution.first + ", " + caution.second;
  caution.leads_to = {"bed", longest.bed};
  return std::optional<StandingCaution>(std::move(caution));
}

}  // namespace steep
