// What a bed's doses and holds come to: teas, due dates, stretches of one history, waits at their most cautious.
#include <algorithm>
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

void add_hand_hold(HeldWait& wait, const SetHold& hold) {
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
    if (entry ? hold->said.entry : hold->said.harvest) add_hand_hold(wait, hold->said);
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
  if (bed.whole().length().si() > kOneCentimeter) return bed.whole();
  // Nobody measured it: as far as anything was done there, at least one metre.
  Length to = Length::from_meters(1);
  for (const BedDose& dose : doses) to = std::max(to, dose.stretch.to);
  return {Length{}, to};
}

/// The teas that decide what is due, newest first.
struct DecidingTeas {
  std::vector<const BedDose*> leaf, soil;
};

DecidingTeas set_due(const BedWork& work, BedState& state, std::size_t index, Stretch whole) {
  const auto& doses = work.doses[index];
  DecidingTeas teas{deciding_teas(doses, whole, false), deciding_teas(doses, whole, true)};
  state.leaf = due_on(work, state.bed, whole, teas.leaf, false, index);
  state.soil = due_on(work, state.bed, whole, teas.soil, true, index);
  for (const auto* list : {&teas.leaf, &teas.soil})
    if (!list->empty() && (!state.last_tea || list->front()->finish > state.last_tea->finish)) {
      const BedDose& tea = *list->front();
      state.last_tea = LastTea{tea.dose, tea.tank->brew, tea.finish, tea.tank->aims.front()};
    }
  return teas;
}

/// Doses that can still hold something.
std::vector<const BedDose*> waiting_doses(const BedWork& work, std::size_t index) {
  std::vector<std::string> crops{""};  // Of ground without a planting.
  for (const Planting* planting : work.plantings[index]) crops.push_back(planting->crop);
  std::vector<const BedDose*> waiting;
  for (const BedDose& dose : work.doses[index]) {
    if (!dose.waits) continue;
    bool runs = false;
    for (const RuleWait& rule : work.rules.entry(*dose.tank)) runs = runs || is_running(rule, dose.finishes, work.at);
    for (const std::string& crop : crops)
      for (const RuleWait& rule : work.rules.harvest(*dose.tank, crop, work.shared[index]))
        runs = runs || is_running(rule, dose.finishes, work.at);
    if (runs) waiting.push_back(&dose);
  }
  return waiting;
}

/// What is the same all along each of them.
std::vector<Piece> pieces_of(const BedWork& work, const Bed& bed, std::size_t index, Stretch whole,
                             const DecidingTeas& teas, const std::vector<const BedDose*>& waiting) {
  std::vector<Stretch> cuts;
  for (const Planting* planting : work.plantings[index]) cuts.push_back(planting->stretch(bed));
  for (const auto* list : {&waiting, &teas.leaf, &teas.soil})
    for (const BedDose* dose : *list) cuts.push_back(dose->stretch);
  for (const BedHold& hold : work.holds[index]) cuts.push_back(hold.stretch);
  return cut_into_pieces(whole, cuts);
}

/// Teas and waits of one piece; the waits of its plantings grow with it.
StretchState state_of_piece(const BedWork& work, BedState& state, std::size_t index, Stretch piece,
                            const DecidingTeas& teas, const std::vector<const BedDose*>& waiting) {
  const bool shared = work.shared[index];
  std::vector<const BedDose*> here;
  std::vector<const BedHold*> held;
  for (const BedDose* dose : waiting)
    if (covers(dose->stretch, piece)) here.push_back(dose);
  for (const BedHold& hold : work.holds[index])
    if (covers(hold.stretch, piece) || hold.stretch.length().si() <= 0) held.push_back(&hold);
  StretchState part;
  part.stretch = piece;
  part.leaf = last_tea_on(teas.leaf, piece);
  part.soil = last_tea_on(teas.soil, piece);
  part.entry = wait_of(work, here, held, {}, std::nullopt, true, shared);
  part.harvest.is_entry = false;
  bool is_planted = false;
  for (std::size_t p = 0; p < state.plantings.size(); ++p) {
    PlantingState& planting = state.plantings[p];
    if (!covers(planting.stretch, piece)) continue;
    is_planted = true;
    std::optional<Moment> since;
    if (p < work.plantings[index].size())
      if (const auto start = work.plantings[index][p]->started()) since = work.places.farm.zone.start_of(*start);
    const HeldWait wait = wait_of(work, here, held, planting.crop, since, false, shared);
    keep_later(planting.harvest, wait);
    keep_later(part.harvest, wait);
  }
  // Between plantings something may be picked that nobody wrote down.
  if (!is_planted) keep_later(part.harvest, wait_of(work, here, held, {}, std::nullopt, false, shared));
  return part;
}

/// What the piece adds to what is said of the whole bed.
void add_to_bed(const BedWork& work, BedState& state, const StretchState& part, std::set<std::string>& disputed) {
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
}

bool same_history(const StretchState& a, const StretchState& b) {
  return same_dose(a.leaf, b.leaf) && same_dose(a.soil, b.soil) && same_waits(a.harvest, b.harvest) &&
         same_waits(a.entry, b.entry);
}

}  // namespace

void set_waits(BedWork& work, BedState& state, std::size_t index) {
  const Stretch whole = length_known(state.bed, work.doses[index]);
  // Where nobody wrote which stretch it was, it may have been all of it.
  for (BedDose& dose : work.doses[index])
    if (dose.stretch.length().si() <= 0) dose.stretch = whole;
  const DecidingTeas teas = set_due(work, state, index, whole);
  const std::vector<const BedDose*> waiting = waiting_doses(work, index);
  for (const Planting* planting : work.plantings[index])
    state.plantings.push_back({planting->id, planting->crop, planting->stretch(state.bed), {}});
  if (state.plantings.empty()) state.plantings.push_back({Id{}, {}, whole, {}});

  std::set<std::string> disputed;
  for (const Piece& piece : pieces_of(work, state.bed, index, whole, teas, waiting)) {
    StretchState part = state_of_piece(work, state, index, piece.stretch, teas, waiting);
    add_to_bed(work, state, part, disputed);
    if (!state.stretches.empty() && same_history(state.stretches.back(), part))
      state.stretches.back().stretch.to = part.stretch.to;
    else
      state.stretches.push_back(std::move(part));
  }
  state.entry.is_entry = true;
  state.to_settle = static_cast<int>(disputed.size());
}

}  // namespace steep
