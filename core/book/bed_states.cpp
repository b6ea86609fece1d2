#include "book/bed_states.h"

#include <algorithm>

#include "book/bed_work.h"
#include "book/rows.h"

namespace steep {
namespace {

/// Teas older than this are not looked for: no interval reaches so far back.
constexpr std::int64_t kInterval = 400 * kDay;

StripSays strip_says(const BedState& state, Moment at) {
  if (state.holds_entry(at)) return StripSays::NoEntry;
  if (state.holds_harvest(at)) return StripSays::NoHarvest;
  if (!state.due_first()) return StripSays::Nothing;
  if (state.days_left() < 0) return StripSays::Late;
  return state.is_due() ? StripSays::Due : StripSays::DaysLeft;
}

/// Is there ground on the bed of which nobody wrote what grows there?
bool has_bare_ground(const Bed& bed, const std::vector<const Planting*>& plantings) {
  std::vector<Stretch> planted;
  for (const Planting* planting : plantings) planted.push_back(planting->stretch(bed));
  const std::vector<Piece> pieces = cut_into_pieces(bed.whole(), planted);
  return plantings.empty() ||
         std::any_of(pieces.begin(), pieces.end(), [](const Piece& piece) { return piece.covered_by.empty(); });
}

/// How far back doses can matter.
std::int64_t horizon(const BedWork& work) {
  std::int64_t since = work.at.ms - std::max(kInterval, work.rules.longest_ms());
  if (!work.rules.has_unknown()) return since;
  // Before entry it does not ask for crops; before harvest it reaches back to the day on which the oldest was set out.
  if (work.rules.has_unknown_entry()) return INT64_MIN;
  for (std::size_t i = 0; i < work.plantings.size(); ++i) {
    if (has_bare_ground(work.places.beds[i], work.plantings[i])) return INT64_MIN;
    for (const Planting* planting : work.plantings[i]) {
      const auto start = planting->started();
      if (!start) return INT64_MIN;
      since = std::min(since, work.places.farm.zone.start_of(*start).ms);
    }
  }
  return since;
}

}  // namespace

const RuleWait* HeldWait::rule() const {
  const Contributor* one = hold.governing();
  if (!one) return nullptr;
  const auto& list = is_entry ? treatments[one->treatment].entry : treatments[one->treatment].harvest;
  return one->rule < list.size() ? &list[one->rule] : nullptr;
}

const HoldSource* HeldWait::source() const {
  const Contributor* one = hold.governing();
  return one ? &sources[one->treatment] : nullptr;
}

Wait HeldWait::wait() const {
  const Contributor* one = hold.governing();
  return one ? one->wait : Wait{};
}

const Due* BedState::due_first() const {
  const auto least = [](const Due& due) {
    int days = INT32_MAX;
    for (const DueStretch& stretch : due.stretches) days = std::min(days, stretch.days_left);
    return days;
  };
  if (!leaf || !soil) return leaf ? &*leaf : soil ? &*soil : nullptr;
  return least(*soil) < least(*leaf) ? &*soil : &*leaf;
}

int BedState::days_left() const {
  const Due* due = due_first();
  if (!due || due->stretches.empty()) return 0;
  int days = INT32_MAX;
  for (const DueStretch& stretch : due->stretches) days = std::min(days, stretch.days_left);
  return days;
}

bool BedState::is_due() const {
  const Due* due = due_first();
  return due && due->any_due();
}

const BedState* BedStates::bed(const Id& id) const {
  const Bed* shown = places.bed(id);
  for (const BedState& state : beds)
    if (shown && state.bed.id == shown->id) return &state;
  return nullptr;
}

Result<BedStates> bed_states(const Book& book, const Id& farm, Moment at) {
  BedStates states;
  states.at = at;
  TRY_ASSIGN(const Farm& of, read_farm(book, farm));
  states.today = of.day(at);
  TRY_ASSIGN(const auto& places, kept_places(book, farm, states.today));
  states.places = *places;
  TRY_ASSIGN(const Doubts& doubts, Doubts::read(book));
  TRY_ASSIGN(const WaitRules& rules, WaitRules::read(book, states.places.farm, doubts, states.places.same));
  const Ground ground(states.places);
  const std::size_t count = states.places.beds.size();
  BedWork work{book, states.places, rules, doubts, at, states.today, {}, {}, {}, {}};
  work.doses.resize(count);
  work.holds.resize(count);
  work.plantings.resize(count);
  states.beds.resize(count);
  TRY_ASSIGN(const std::vector<Planting>& doubtful, plantings_in_doubt(work));
  for (std::size_t i = 0; i < count; ++i) {
    const Bed& bed = states.places.beds[i];
    states.beds[i].bed = bed;
    states.beds[i].crops = states.places.crop_names(bed.id);
    for (const Planting* planting : states.places.crops_of(bed.id))
      if (!doubts.has(planting->id)) work.plantings[i].push_back(planting);
    for (const Planting& planting : doubtful)
      for (const Bed* on : states.places.beds_told_of(planting.bed))
        if (on->id == bed.id) work.plantings[i].push_back(&planting);
    work.shared.push_back(states.places.same.is_shared(bed.id));
  }
  TRY(collect_on_beds(work, ground, horizon(work), states));
  for (std::size_t i = 0; i < count; ++i) {
    BedState& state = states.beds[i];
    set_waits(work, state, i);
    state.says = strip_says(state, at);
    states.due += state.is_due() && state.days_left() >= 0;
    states.late += state.is_due() && state.days_left() < 0;
    states.no_entry += state.holds_entry(at);
    states.no_harvest += state.holds_harvest(at);
    states.with_question += !state.questions.empty() || state.to_settle > 0;
  }
  return states;
}

Result<const BedStates*> BedStatesCache::get(const Book& book, const Id& farm, Moment now) {
  if (states_ && farm_ == farm && counter_ == book.counter() && now < good_until_ && now >= states_->at)
    return states_.get();
  TRY_ASSIGN(BedStates fresh, bed_states(book, farm, now));
  states_ = std::make_unique<BedStates>(std::move(fresh));
  farm_ = farm;
  counter_ = book.counter();
  // Until the day turns or the first wait runs out.
  good_until_ = states_->places.farm.zone.start_of(states_->today + 1);
  for (const BedState& state : states_->beds)
    for (const StretchState& part : state.stretches)
      for (const HeldWait* wait : {&part.harvest, &part.entry})
        for (const Contributor& one : wait->hold.contributors)
          if (one.until && *one.until > now) good_until_ = std::min(good_until_, *one.until);
  return states_.get();
}

}  // namespace steep
