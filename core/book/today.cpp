#include "book/today.h"

#include <cmath>
#include <map>

#include "base/sorting.h"
#include "book/codes.h"

namespace steep {
namespace {

std::vector<EntryClosure> closures_of(const BedStates& states, Moment now) {
  // Beds of one block that one rule closes stand in one band.
  std::map<std::pair<Id, std::string>, EntryClosure> groups;
  for (const BedState& state : states.beds) {
    if (!state.holds_entry(now)) continue;
    const RuleWait* rule = state.entry.rule();
    const RuleSource source = rule ? rule->source : RuleSource{};
    EntryClosure& closure = groups[{state.bed.block, std::to_string(static_cast<int>(source.kind)) + source.name}];
    closure.beds.push_back(state.bed.id);
    closure.names += (closure.names.empty() ? "" : ", ") + state.bed.name;
    const Hold both[] = {closure.hold, state.entry.hold};
    if (closure.hold.state == Hold::State::None || state.entry.hold.state == Hold::State::NotKnown ||
        (state.entry.hold.until && closure.hold.until && *state.entry.hold.until > *closure.hold.until)) {
      closure.rule = source;
      closure.wait = state.entry.wait();
    }
    closure.hold = closure.hold.state == Hold::State::None ? state.entry.hold : latest_hold(both);
  }
  std::vector<EntryClosure> closures;
  for (auto& [key, closure] : groups) closures.push_back(std::move(closure));
  sort_list(closures, [](const EntryClosure& a, const EntryClosure& b) {
    const bool ua = a.hold.state == Hold::State::NotKnown, ub = b.hold.state == Hold::State::NotKnown;
    if (ua != ub) return ua;
    return a.hold.until && b.hold.until && *a.hold.until > *b.hold.until;
  });
  return closures;
}

Result<std::vector<PlannedWork>> planned_work(const Book& book, const Id& farm) {
  TRY_ASSIGN(std::vector<PlannedWork> planned, open_brew_plans(book));
  TRY_ASSIGN(const std::vector<PlannedWork>& of_farm, open_plans(book, farm));
  for (const PlannedWork& plan : of_farm)
    if (plan.what == "pass") planned.push_back(plan);
  const auto time = [](const PlannedWork& plan) { return plan.at ? plan.at->at : plan.made.at; };
  sort_list(planned, [&](const PlannedWork& a, const PlannedWork& b) { return time(a) < time(b); });
  return planned;
}

/// The planned pass nearest to now within a day; nil = none.
Id pass_about_now(const std::vector<PlannedWork>& planned, Moment now) {
  const PlannedWork* nearest = nullptr;
  for (const PlannedWork& plan : planned) {
    if (plan.what != "pass" || !plan.at || std::abs(plan.at->at - now) > kDay) continue;
    if (!nearest || std::abs(plan.at->at - now) < std::abs(nearest->at->at - now)) nearest = &plan;
  }
  return nearest ? nearest->id : Id{};
}

}  // namespace

Result<Today> read_today(const Book& book, const BedStates& states, const Id& person, Moment now) {
  Today today;
  today.farm = states.places.farm;
  today.at = now;
  today.closures = closures_of(states, now);
  TRY_ASSIGN(today.brews, running_brews(book, states.places, now));
  TRY_ASSIGN(today.open_pass, pass_to_go_on(book));
  if (today.open_pass) {
    TRY_ASSIGN(const Codes& codes, Codes::read(book));
    today.open_pass_code = codes.text(*today.open_pass);
  }
  std::map<Id, std::vector<Id>> due_by_block;
  for (const BedState& state : states.beds) {
    if (!state.is_due()) continue;
    today.due.push_back(&state);
    due_by_block[state.bed.block].push_back(state.bed.id);
  }
  // The longest late first; among equals the walking order stays.
  sort_list(today.due, [](const BedState* a, const BedState* b) { return a->days_left() < b->days_left(); });
  const std::vector<Id>* most = nullptr;
  for (const Block& block : states.places.blocks) {
    const auto found = due_by_block.find(block.id);
    if (found != due_by_block.end() && (!most || found->second.size() > most->size())) most = &found->second;
  }
  TRY_ASSIGN(today.planned, planned_work(book, today.farm.id));
  const Id due_plan = pass_about_now(today.planned, now);
  if ((most || !due_plan.is_nil()) && !today.open_pass) {
    StartChoices choices;
    choices.farm = today.farm.id;
    choices.person = person;
    choices.plan = due_plan;
    choices.no_plan = due_plan.is_nil();
    if (choices.no_plan) choices.beds = *most;
    NextPass next;
    TRY_ASSIGN(next.sheet, start_sheet(book, choices, now));
    if (next.sheet.plan) next.loads = static_cast<int>(next.sheet.plan->loads.size());
    today.next = std::move(next);
    std::erase_if(today.planned, [&](const PlannedWork& one) { return one.id == due_plan; });
  }
  TRY_ASSIGN(today.questions, question_counts(book, today.farm.id));
  if (!person.is_nil()) {
    TRY_ASSIGN(today.asked, open_asks(book, person));
  }
  return today;
}

}  // namespace steep
