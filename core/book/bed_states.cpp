#include "book/bed_states.h"

#include <algorithm>
#include <climits>
#include <map>
#include <set>

#include "base/text.h"
#include "book/dose_scan.h"
#include "book/doubts.h"
#include "book/ground.h"
#include "book/rows.h"
#include "book/wait_rules.h"

namespace steep {
namespace {

/// Teas older than this are not looked for: no interval reaches so far back.
constexpr std::int64_t kInterval = 400 * kDay;

/// One dose as it lies on a bed of today.
struct BedDose {
  Id dose;
  Stretch stretch;
  const TankFacts* tank = nullptr;
  std::vector<Moment> finishes;   // all readings; empty = not known
  Moment finish;                  // the stand-in's, for what is not a wait
  bool in_question = false;
  bool counts = true;             // for last tea and intervals: unstruck and done, by the stand-in
  bool waits = true;              // for holds
};

/// A hold set by hand, as it lies on a bed.
struct BedHold {
  Id hold;
  Stretch stretch;
  bool harvest = false, entry = false;
  Moment set;
  std::optional<Moment> until;
  std::string who, why;
  bool in_question = false;
};

struct Work {
  const Book& book;
  const Places& places;
  const WaitRules& rules;
  const Doubts& doubts;
  Moment at;
  Date today;
  std::vector<std::vector<BedDose>> doses;   // one list for each bed
  std::vector<std::vector<BedHold>> holds;
  std::vector<std::vector<const Planting*>> plantings;
};

bool is_running(const RuleWait& rule, const std::vector<Moment>& finishes, Moment at) {
  if (rule.readings.empty() || finishes.empty()) return true;
  for (const Wait wait : rule.readings) {
    if (!wait.is_known()) return true;
    // A civil day may have 25 hours; the day of the finish itself comes on top.
    const std::int64_t bound = wait.kind == Wait::Kind::Hours ? wait.amount * kHour : (wait.amount + std::int64_t{1}) * 25 * kHour;
    for (const Moment finish : finishes)
      if (finish + bound > at) return true;
  }
  return false;
}

bool covers(Stretch part, Stretch whole) {
  return part.from.si() <= whole.from.si() + kOneCentimeter && part.to.si() >= whole.to.si() - kOneCentimeter;
}

// ---- Collecting ------------------------------------------------------------------------------

Stretch stretch_of(const RawDose& dose, Stretch whole) {
  return dose.has_stretch ? Stretch{Length::from_si(dose.from), Length::from_si(dose.to)} : whole;
}

void put_dose(Work& work, const Ground& ground, const Id& bed, Stretch stretch, bool has_stretch, BedDose dose) {
  for (const GroundPlace& place : ground.places_of(bed)) {
    const Stretch whole = work.places.beds[place.bed].whole();
    dose.stretch = has_stretch ? Ground::moved(place, stretch) : whole;
    if (has_stretch && dose.stretch.length().si() <= 0) continue;
    work.doses[place.bed].push_back(dose);
  }
}

std::optional<Length> length_in(const std::vector<FieldValue>& fields, std::string_view key) {
  for (const FieldValue& field : fields) {
    if (field.key != key || field.type != FieldType::Quantity) continue;
    const auto written = parse_written(field.text);
    if (written && written->dimension() == Dimension::Length) return as<Length>(*written);
  }
  return std::nullopt;
}

std::string text_in(const std::vector<FieldValue>& fields, std::string_view key) {
  for (const FieldValue& field : fields)
    if (field.key == key) return field.text;
  return {};
}

/// A dose in doubt: every version of what was done, each with every finish.
void put_readings(Work& work, const Ground& ground, const Id& id) {
  std::vector<Moment> finishes;
  for (const FieldValue& reading : work.doubts.readings(id, "when.finish"))
    if (const auto stamp = parse_stamp(reading.text)) finishes.push_back(stamp->at);
  for (const auto& version : work.doubts.versions(id, "what")) {
    if (text_in(version, "what.how") == "skipped") continue;
    const auto bed = Id::parse(text_in(version, "what.bed"));
    const auto load = Id::parse(text_in(version, "what.load"));
    if (!bed) continue;
    BedDose dose;
    dose.dose = id;
    dose.tank = &work.rules.tank(load.value_or(Id{}));
    dose.finishes = finishes;
    dose.finish = finishes.empty() ? work.at : *std::max_element(finishes.begin(), finishes.end());
    dose.in_question = true;
    dose.counts = false;
    const auto from = length_in(version, "what.from"), to = length_in(version, "what.to");
    const bool has = from && to;
    put_dose(work, ground, *bed, has ? Stretch{std::min(*from, *to), std::max(*from, *to)} : Stretch{}, has, dose);
  }
}

/// What other starts of the business wrote down of this ground.
Result<void> add_twin_doses(const Work& work, std::int64_t since, std::vector<RawDose>& raw) {
  if (work.places.twins.empty()) return {};
  TRY_ASSIGN(const std::vector<RawDose> all, scan_doses(work.book, Id{}, since));
  std::set<Id> beds;
  for (const auto& [there, here] : work.places.twins) beds.insert(there);
  for (const RawDose& dose : all)
    if (beds.count(dose.bed) != 0) raw.push_back(dose);
  return {};
}

Result<void> collect_doses(Work& work, const Ground& ground, std::int64_t since, BedStates& states) {
  TRY_ASSIGN(std::vector<RawDose> raw, scan_doses(work.book, work.places.farm.id, since));
  TRY(add_twin_doses(work, since, raw));
  std::vector<bool> paired(raw.size());
  for (const auto& [a, b] : find_pairs(std::span<const RawDose>(raw), [&](const Id& load) { return work.rules.tank(load).pass; })) {
    paired[a] = paired[b] = true;
    for (const std::size_t i : {a, b})
      for (const GroundPlace& place : ground.places_of(raw[i].bed)) {
        auto& list = states.beds[place.bed].questions;
        if (std::find(list.begin(), list.end(), raw[i].id) == list.end()) list.push_back(raw[i].id);
      }
  }
  for (std::size_t i = 0; i < raw.size(); ++i) {
    const RawDose& one = raw[i];
    if (one.end() > work.at.ms) continue;
    const bool doubtful = work.doubts.has(one.id);
    const bool counts = !one.struck && one.how != DoseHow::Skipped;
    if (!counts && !doubtful) continue;
    if (counts && ground.places_of(one.bed).empty() && !work.places.any_bed(one.bed)) ++states.on_unknown_beds;
    // The waits of one in doubt come from its readings; by the stand-in it only resets the interval.
    const bool by_readings = doubtful && (!one.struck || work.doubts.counts_although_struck(one.id));
    if (by_readings) put_readings(work, ground, one.id);
    if (!counts) continue;
    BedDose dose;
    dose.dose = one.id;
    dose.tank = &work.rules.tank(one.load);
    dose.finish = Moment{one.end()};
    if (one.finish) dose.finishes.push_back(dose.finish);
    dose.in_question = paired[i];
    dose.waits = !by_readings;
    put_dose(work, ground, one.bed, stretch_of(one, {}), one.has_stretch, dose);
  }
  for (const Id& id : work.doubts.only_waiting("dose"))
    put_readings(work, ground, id);  // What lies on no ground of this farm is put nowhere.
  return {};
}


Result<void> collect_holds(Work& work, const Ground& ground) {
  Rows rows(work.book, "hold");
  while (rows.next()) {
    RecordFacts facts;
    rows.facts(facts);
    if (facts.part.farm != work.places.farm.id && ground.places_of(rows.reference("bed")).empty()) continue;
    const bool doubtful = work.doubts.has(facts.id);
    if (facts.is_struck() && !work.doubts.counts_although_struck(facts.id)) continue;
    BedHold hold;
    hold.hold = facts.id;
    hold.set = facts.happened();
    hold.who = person_name(work.book, facts.made_by);
    hold.why = rows.text("why");
    hold.in_question = doubtful;
    // Over all readings: what holds in one of them holds.
    std::vector<std::string> what{rows.text("what")};
    for (const FieldValue& reading : work.doubts.readings(facts.id, "what")) what.push_back(reading.text);
    for (const std::string& word : what) {
      hold.harvest = hold.harvest || word != "entry";
      hold.entry = hold.entry || word != "harvest";
    }
    const Taken<Stamp> until = rows.instant("until");
    bool endless = !until;
    if (until) hold.until = until->at;
    for (const FieldValue& reading : work.doubts.readings(facts.id, "until")) {
      const auto stamp = parse_stamp(reading.text);
      if (!stamp) endless = true;
      if (stamp && (!hold.until || stamp->at > *hold.until)) hold.until = stamp->at;
    }
    if (endless) hold.until.reset();
    const Taken<Length> from = rows.quantity<Length>("stretch.from"), to = rows.quantity<Length>("stretch.to");
    const bool has = from && to && !doubtful;
    for (const GroundPlace& place : ground.places_of(rows.reference("bed"))) {
      const Stretch whole = work.places.beds[place.bed].whole();
      hold.stretch = has ? Ground::moved(place, {*from, *to}) : whole;
      if (!has || hold.stretch.length().si() > 0) work.holds[place.bed].push_back(hold);
    }
  }
  TRY(rows.done());
  // A release counts when nobody disputes it.
  Rows releases(work.book, "release", "WHERE struck IS NULL");
  std::set<Id> released;
  while (releases.next())
    if (!work.doubts.has(releases.id())) released.insert(releases.reference("hold"));
  TRY(releases.done());
  for (auto& list : work.holds) {
    list.erase(std::remove_if(list.begin(), list.end(),
                              [&](const BedHold& hold) {
                                return released.count(hold.hold) != 0 || (hold.until && *hold.until <= work.at);
                              }),
               list.end());
  }
  return {};
}

/// Plantings that grow today under any reading of theirs.
Result<std::vector<Planting>> plantings_in_doubt(const Work& work) {
  std::vector<Planting> more;
  for (const auto& [id, kind] : work.doubts.records()) {
    if (kind != "planting") continue;
    bool grows = false;
    std::vector<FieldValue> crops = work.doubts.readings(id, "crop"), beds = work.doubts.readings(id, "bed");
    const auto ends = work.doubts.readings(id, "ended");
    if (ends.empty()) grows = true;
    for (const FieldValue& end : ends) {
      const auto date = parse_date(end.text);
      grows = grows || !date || work.today <= *date;
    }
    if (!grows) continue;
    for (const FieldValue& crop : crops)
      for (const FieldValue& bed : beds) {
        Planting planting;
        planting.id = id;
        planting.crop = crop.text;
        planting.bed = Id::parse(bed.text).value_or(Id{});
        more.push_back(std::move(planting));
      }
  }
  return more;
}

// ---- Waits -----------------------------------------------------------------------------------

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
HeldWait wait_of(const Work& work, const std::vector<const BedDose*>& doses, const std::vector<const BedHold*>& holds,
                 const std::string& crop, std::optional<Moment> since, bool entry) {
  HeldWait wait;
  wait.is_entry = entry;
  for (const BedDose* dose : doses) {
    if (!dose->waits) continue;
    const std::vector<RuleWait>& rules = entry ? work.rules.entry(*dose->tank) : work.rules.harvest(*dose->tank, crop);
    Treatment treatment;
    for (const RuleWait& rule : rules) {
      if (!is_running(rule, dose->finishes, work.at)) continue;
      const bool endless = std::any_of(rule.readings.begin(), rule.readings.end(), [](Wait w) { return !w.is_known(); });
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
  wait.hold = entry ? work.rules.entry_hold(wait.treatments) : work.rules.harvest_hold(wait.treatments);
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
  if (wait.hold.state != Hold::State::None && (longest.hold.state == Hold::State::None || is_later(wait.hold, longest.hold))) {
    longest = wait;
  }
  // One without a known end keeps the latest known end anywhere as its 'not before'.
  const auto other = until && (!wait.hold.until || *until > *wait.hold.until) ? until : wait.hold.until;
  if (other && (!longest.hold.until || *other > *longest.hold.until)) longest.hold.until = other;
}

// ---- One bed ---------------------------------------------------------------------------------

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
    if (covers(tea->stretch, piece))
      return LastTea{tea->dose, tea->tank->brew, tea->finish, tea->tank->aims.front()};
  return std::nullopt;
}

std::optional<Due> due_on(const Work& work, const Bed& bed, Stretch whole, const std::vector<const BedDose*>& teas,
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

void set_waits(const Work& work, BedState& state, std::size_t index, Stretch whole) {
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
  std::vector<const BedDose*> waiting;   // those that can still hold something
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
      for (const RuleWait& rule : work.rules.harvest(*dose.tank, crop))
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
    part.entry = wait_of(work, here, held, {}, std::nullopt, true);
    part.harvest.is_entry = false;
    for (std::size_t p = 0; p < state.plantings.size(); ++p) {
      PlantingState& planting = state.plantings[p];
      if (!covers(planting.stretch, piece.stretch)) continue;
      std::optional<Moment> since;
      if (p < work.plantings[index].size())
        if (const auto start = work.plantings[index][p]->started()) since = work.places.farm.zone.start_of(*start);
      const HeldWait wait = wait_of(work, here, held, planting.crop, since, false);
      keep_later(planting.harvest, wait);
      keep_later(part.harvest, wait);
    }
    for (const HeldWait* wait : {&part.harvest, &part.entry}) {
      for (const Contributor& one : wait->hold.contributors)
        if (one.in_dispute) disputed.insert(wait->treatments[one.treatment].key);
      if (wait->hold.holds_at(work.at))
        for (const HoldSource& source : wait->sources) state.set_by_hand = state.set_by_hand || !source.hand_hold.is_nil();
    }
    for (const Contributor& one : part.harvest.hold.contributors)
      state.rule_undecided = state.rule_undecided || one.wait.kind == Wait::Kind::Undecided;
    keep_later(state.harvest, part.harvest);
    keep_later(state.entry, part.entry);
    if (!state.stretches.empty()) {
      StretchState& before = state.stretches.back();
      if (same_dose(before.leaf, part.leaf) && same_dose(before.soil, part.soil) && same_waits(before.harvest, part.harvest) &&
          same_waits(before.entry, part.entry)) {
        before.stretch.to = part.stretch.to;
        continue;
      }
    }
    state.stretches.push_back(std::move(part));
  }
  state.entry.is_entry = true;
  state.to_settle = static_cast<int>(disputed.size());
}

StripSays strip_says(const BedState& state, Moment at) {
  if (state.holds_entry(at)) return StripSays::NoEntry;
  if (state.holds_harvest(at)) return StripSays::NoHarvest;
  if (!state.due_first()) return StripSays::Nothing;
  if (state.days_left() < 0) return StripSays::Late;
  return state.is_due() ? StripSays::Due : StripSays::DaysLeft;
}

/// How far back doses can matter.
std::int64_t horizon(const Work& work) {
  std::int64_t since = work.at.ms - std::max(kInterval, work.rules.longest_ms());
  if (!work.rules.has_unknown()) return since;
  // A wait without a known end reaches back to the day on which the oldest crop was set out.
  for (const auto& plantings : work.plantings) {
    if (plantings.empty()) return INT64_MIN;
    for (const Planting* planting : plantings) {
      const auto start = planting->started();
      if (!start) return INT64_MIN;
      since = std::min(since, work.places.farm.zone.start_of(*start).ms);
    }
  }
  // An entry wait without an end does not ask for crops.
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
  TRY_ASSIGN(const Farm of, read_farm(book, farm));
  states.today = of.day(at);
  TRY_ASSIGN(states.places, read_places(book, farm, states.today));
  TRY_ASSIGN(const Doubts doubts, Doubts::read(book));
  // Tankfuls of other farms too, where their beds may be this ground.
  TRY_ASSIGN(const WaitRules rules, WaitRules::read(book, states.places.farm, doubts, {}, !states.places.twins.empty()));
  const Ground ground(states.places);
  const std::size_t count = states.places.beds.size();
  Work work{book, states.places, rules, doubts, at, states.today, {}, {}, {}};
  work.doses.resize(count);
  work.holds.resize(count);
  work.plantings.resize(count);
  states.beds.resize(count);
  TRY_ASSIGN(const std::vector<Planting> doubtful, plantings_in_doubt(work));
  for (std::size_t i = 0; i < count; ++i) {
    const Bed& bed = states.places.beds[i];
    states.beds[i].bed = bed;
    states.beds[i].crops = states.places.crop_names(bed.id);
    for (const Planting* planting : states.places.crops_of(bed.id))
      if (!doubts.has(planting->id)) work.plantings[i].push_back(planting);
    for (const Planting& planting : doubtful)
      if (const Bed* on = states.places.bed(planting.bed); on && on->id == bed.id) work.plantings[i].push_back(&planting);
  }
  TRY(collect_doses(work, ground, horizon(work), states));
  TRY(collect_holds(work, ground));
  for (std::size_t i = 0; i < count; ++i) {
    BedState& state = states.beds[i];
    const Stretch whole = length_known(state.bed, work.doses[i]);
    // Where nobody wrote which stretch it was, it may have been all of it.
    for (BedDose& dose : work.doses[i])
      if (dose.stretch.length().si() <= 0) dose.stretch = whole;
    set_waits(work, state, i, whole);
    state.says = strip_says(state, at);
    states.due += state.is_due() && state.days_left() >= 0;
    states.late += state.is_due() && state.days_left() < 0;
    states.no_entry += state.holds_entry(at);
    states.no_harvest += state.holds_harvest(at);
    states.with_question += !state.questions.empty() || state.to_settle > 0;
  }
  return states;
}

Result<WouldStart> would_start(const Book& book, const Id& load, const Bed& bed, Moment finish) {
  TRY_ASSIGN(const Farm farm, read_farm(book, bed.farm));
  TRY_ASSIGN(const Doubts doubts, Doubts::read(book));
  TRY_ASSIGN(const Load in_tank, read_load(book, load));
  TRY_ASSIGN(const WaitRules rules, WaitRules::read(book, farm, doubts, in_tank.pass));
  TRY_ASSIGN(const std::vector<Planting> plantings, plantings_of(book, bed.id));
  const TankFacts& tank = rules.tank(load);
  const Date day = farm.day(finish);
  WouldStart would;
  std::vector<Hold> holds;
  std::vector<std::string> crops;
  for (const Planting& planting : plantings)
    if (planting.grows_on(day)) crops.push_back(planting.crop);
  if (crops.empty()) crops.emplace_back();
  for (const std::string& crop : crops) {
    Treatment treatment;
    treatment.finishes = {finish};
    treatment.harvest = rules.harvest(tank, crop);
    holds.push_back(rules.harvest_hold({treatment}));
  }
  would.harvest = latest_hold(holds);
  Treatment treatment;
  treatment.finishes = {finish};
  treatment.entry = rules.entry(tank);
  would.entry = rules.entry_hold({treatment});
  return would;
}

Result<const BedStates*> BedStatesCache::get(const Book& book, const Id& farm, Moment now) {
  if (states_ && farm_ == farm && counter_ == book.counter() && now < good_until_ && now >= states_->at) return states_.get();
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
