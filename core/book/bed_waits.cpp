// What a bed's doses and holds come to: teas, due dates, stretches of one history, waits at their most cautious.
#include <algorithm>
#include <climits>
#include <set>

#include "book/bed_work.h"

namespace steep {
namespace {

bool is_running(const RuleWait& rule, const std::vector<Moment>& finishes, Moment at) {
  if (rule.readings.empty() || finishes.empty()) return true;
  for (const Wait wait : rule.readings) {
    if (!wait.is_known()) return true;
    // A civil day may have 25 hours; the day of the finish itself comes on top.
    const std::int64_t bound =
        wait.kind == Wait::Kind::Hours ? wait.amount * kHour : (wait.amount + std::int64_t{1}) * 25 * kHour;
    for (const Moment finish : finishes)
      if (finish + bound > at) return true;
  }
  return false;
}

// ---- Waits ---------------------------------------------------------------------------------

void add_hand_hold(HeldWait& wait, const BedHold& hold) {
  Treatment treatment;
  treatment.key = hold.hold.text();
  treatment.in_question = hold.in_question;
  const RuleSource source{RuleSource::Kind::ByHand, hold.who, hold.why, std::nullopt};
  // One with an end: nothing to add to that moment.
  treatment.finishes.push_back(hold.until ? *hold.until : hold.set);
  RuleWait rule{source, {hold.until ? Wait::hours(0) : Wait::by_hand()}};
  (wait.is_entry ? treatment.entry : treatment.harvest).push_back(std::move(rule));
  wait.treatments.push_back(std::move(treatment));
  wait.sources.push_back({{}, {}, {}, hold.hold, hold.who, hold.why});
}

/// The waits of one list of doses on one piece of ground. `crop` only for harvest; `since`: a wait without
/// a known end counts from there on only (the crop was not there before), nullopt = always.
HeldWait wait_of(const BedWork& work, const std::vector<const BedDose*>& doses,
                 const std::vector<const BedHold*>& holds, const std::string& crop, std::optional<Moment> since,
                 bool entry, bool shared) {
  HeldWait wait;
  wait.is_entry = entry;
  for (const BedDose* dose : doses) {
    if (!dose->waits) continue;
    const std::vector<RuleWait>& rules =
        entry ? work.rules.entry(*dose->tank) : work.rules.harvest(*dose->tank, crop, shared);
    Treatment treatment;
    for (const RuleWait& rule : rules) {
      if (!is_running(rule, dose->finishes, work.at)) continue;
      const bool endless =
          std::any_of(rule.readings.begin(), rule.readings.end(), [](Wait w) { return !w.is_known(); });
      if (endless && since && !dose->finishes.empty() &&
          *std::max_element(dose->finishes.begin(), dose->finishes.end()) < *since)
        continue;
      (entry ? treatment.entry : treatment.harvest).push_back(rule);
    }
    if (treatment.entry.empty() && treatment.harvest.empty()) continue;
    treatment.key = dose->dose.text();
    treatment.finishes = dose->finishes;
    treatment.in_question = dose->in_question;
    wait.treatments.push_back(std::move(treatment));
    wait.sources.push_back({dose->dose, dose->tank->pass, dose->tank->brew, {}, {}, {}});
  }
  for (const BedHold* hold : holds)
    if (entry ? hold->entry : hold->harvest) add_hand_hold(wait, *hold);
  wait.hold = entry ? work.rules.entry_hold(wait.treatments) : work.rules.harvest_hold(wait.treatments, shared);
  return wait;
}

/// Does `a` let go later than `b`?
bool is_later(const Hold& a, const Hold& b) {
  if ((a.state == Hold::State::NotKnown) != (b.state == Hold::State::NotKnown)) return a.state == Hold::State::NotKnown;
  if (a.until.has_value() != b.until.has_value()) return a.until.has_value();
  return a.until && *a.until > *b.until;
}

void keep_later(HeldWait& longest, const HeldWait& wait) {
  const auto until = longest.hold.until;
  if (wait.hold.state != Hold::State::None &&
      (longest.hold.state == Hold::State::None || is_later(wait.hold, longest.hold))) {
    longest = wait;
  }
  // One without a known end keeps the latest known end anywhere as its 'not before'.
  const auto other = until && (!wait.hold.until || *until > *wait.hold.until) ? until : wait.hold.until;
  if (other && (!longest.hold.until || *other > *longest.hold.until)) longest.hold.until = other;
}

// ---- One bed -------------------------------------------------------------------------------

/// The teas that decide what is due: newest first, until one covers the whole bed.
std::vector<const BedDose*> deciding_teas(const std::vector<BedDose>& doses, Stretch whole, bool on_soil) {
  std::vector<const BedDose*> teas;
  for (const BedDose& dose : doses)
    if (dose.counts && dose.tank->has_tea && is_on_soil(dose.tank->aims.front()) == on_soil) teas.push_back(&dose);
  std::sort(teas.begin(), teas.end(), [](const BedDose* a, const BedDose* b) {
    return a->finish != b->finish ? a->finish > b->finish : a->dose < b->dose;
  });
  for (std::size_t i = 0; i < teas.size(); ++i)
    if (covers(teas[i]->stretch, whole)) teas.resize(i + 1);
  return teas;
}

std::optional<LastTea> last_tea_on(const std::vector<const BedDose*>& teas, Stretch piece) {
  for (const BedDose* tea : teas)
    if (covers(tea->stretch, piece)) return LastTea{tea->dose, tea->tank->brew, tea->finish, tea->tank->aims.front()};
  return std::nullopt;
}

std::optional<Due> due_on(const BedWork& work, const Bed& bed, Stretch whole, const std::vector<const BedDose*>& teas,
                          bool on_soil, std::size_t index) {
  std::vector<Interval> intervals = work.places.intervals_for(bed, nullptr);
  for (const Planting* planting : work.plantings[index])
    for (const Interval& interval : work.places.intervals_for(bed, planting)) intervals.push_back(interval);
  std::vector<TeaDose> doses;
  for (const BedDose* tea : teas) doses.push_back({tea->stretch, tea->tank->aims.front(), tea->finish});
  return due(whole, intervals, on_soil, doses, work.today, work.places.farm.zone);
}

bool same_dose(const std::optional<LastTea>& a, const std::optional<LastTea>& b) {
  return a.has_value() == b.has_value() && (!a || a->dose == b->dose);
}

bool same_waits(const HeldWait& a, const HeldWait& b) {
  if (a.treatments.size() != b.treatments.size()) return false;
  for (std::size_t i = 0; i < a.treatments.size(); ++i)
    if (a.treatments[i].key != b.treatments[i].key) return false;
  return a.hold.until == b.hold.until && a.hold.state == b.hold.state;
}

Stretch length_known(const Bed& bed, const std::vector<BedDose>& doses) {
  if (bed.length) return bed.whole();
  // Nobody measured it: as far as anything was done there, at least one metre.
  Length to = Length::from_meters(1);
  for (const BedDose& dose : doses) to = std::max(to, dose.stretch.to);
  return {Length{}, to};
}

}  // namespace

void set_waits(BedWork& work, BedState& state, std::size_t index) {
  const Stretch whole = length_known(state.bed, work.doses[index]);
  // Where nobody wrote which stretch it was, it may have been all of it.
  for (BedDose& dose : work.doses[index])
    if (dose.stretch.length().si() <= 0) dose.stretch = whole;
  const bool shared = work.shared[index];
  const auto& doses = work.doses[index];
  const auto leaf = deciding_teas(doses, whole, false), soil = deciding_teas(doses, whole, true);
  state.leaf = due_on(work, state.bed, whole, leaf, false, index);
  state.soil = due_on(work, state.bed, whole, soil, true, index);
  for (const auto* list : {&leaf, &soil})
    if (!list->empty() && (!state.last_tea || list->front()->finish > state.last_tea->finish)) {
      const BedDose& tea = *list->front();
      state.last_tea = LastTea{tea.dose, tea.tank->brew, tea.finish, tea.tank->aims.front()};
    }

  std::vector<Stretch> cuts;
  std::vector<const BedDose*> waiting;  // those that can still hold something
  std::vector<std::string> crops;
  for (const Planting* planting : work.plantings[index]) {
    cuts.push_back(planting->stretch(state.bed));
    crops.push_back(planting->crop);
  }
  if (crops.empty()) crops.emplace_back();
  for (const BedDose& dose : doses) {
    if (!dose.waits) continue;
    bool runs = false;
    for (const RuleWait& rule : work.rules.entry(*dose.tank)) runs = runs || is_running(rule, dose.finishes, work.at);
    for (const std::string& crop : crops)
      for (const RuleWait& rule : work.rules.harvest(*dose.tank, crop, shared))
        runs = runs || is_running(rule, dose.finishes, work.at);
    if (!runs) continue;
    waiting.push_back(&dose);
    cuts.push_back(dose.stretch);
  }
  for (const auto* list : {&leaf, &soil})
    for (const BedDose* tea : *list) cuts.push_back(tea->stretch);
  for (const BedHold& hold : work.holds[index]) cuts.push_back(hold.stretch);

  for (const Planting* planting : work.plantings[index])
    state.plantings.push_back({planting->id, planting->crop, planting->stretch(state.bed), {}});
  if (state.plantings.empty()) state.plantings.push_back({Id{}, {}, whole, {}});

  std::set<std::string> disputed;
  for (const Piece& piece : cut_into_pieces(whole, cuts)) {
    std::vector<const BedDose*> here;
    std::vector<const BedHold*> held;
    for (const BedDose* dose : waiting)
      if (covers(dose->stretch, piece.stretch)) here.push_back(dose);
    for (const BedHold& hold : work.holds[index])
      if (covers(hold.stretch, piece.stretch) || hold.stretch.length().si() <= 0) held.push_back(&hold);
    StretchState part;
    part.stretch = piece.stretch;
    part.leaf = last_tea_on(leaf, piece.stretch);
    part.soil = last_tea_on(soil, piece.stretch);
    part.entry = wait_of(work, here, held, {}, std::nullopt, true, shared);
    part.harvest.is_entry = false;
    for (std::size_t p = 0; p < state.plantings.size(); ++p) {
      PlantingState& planting = state.plantings[p];
      if (!covers(planting.stretch, piece.stretch)) continue;
      std::optional<Moment> since;
      if (p < work.plantings[index].size())
        if (const auto start = work.plantings[index][p]->started()) since = work.places.farm.zone.start_of(*start);
      const HeldWait wait = wait_of(work, here, held, planting.crop, since, false, shared);
      keep_later(planting.harvest, wait);
      keep_later(part.harvest, wait);
    }
    for (const HeldWait* wait : {&part.harvest, &part.entry}) {
      for (const Contributor& one : wait->hold.contributors)
        if (one.in_dispute) disputed.insert(wait->treatments[one.treatment].key);
      if (wait->hold.holds_at(work.at))
        for (const HoldSource& source : wait->sources)
          state.set_by_hand = state.set_by_hand || !source.hand_hold.is_nil();
    }
    for (const Contributor& one : part.harvest.hold.contributors)
      state.rule_undecided = state.rule_undecided || one.wait.kind == Wait::Kind::Undecided;
    keep_later(state.harvest, part.harvest);
    keep_later(state.entry, part.entry);
    if (!state.stretches.empty()) {
      StretchState& before = state.stretches.back();
      if (same_dose(before.leaf, part.leaf) && same_dose(before.soil, part.soil) &&
          same_waits(before.harvest, part.harvest) && same_waits(before.entry, part.entry)) {
        before.stretch.to = part.stretch.to;
        continue;
      }
    }
    state.stretches.push_back(std::move(part));
  }
  state.entry.is_entry = true;
  state.to_settle = static_cast<int>(disputed.size());
}

}  // namespace steep
