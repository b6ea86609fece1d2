// What was done on the beds of a farm, by everybody who wrote it down, laid on the beds of today.
#include <algorithm>
#include <set>

#include "book/bed_work.h"
#include "book/rows.h"

namespace steep {
namespace {

std::optional<Stretch> stretch_of(const RawDose& dose) {
  if (!dose.has_stretch) return std::nullopt;
  return Stretch{Length::from_si(dose.from), Length::from_si(dose.to)};
}

/// Where a stretch of the bed that was written down lies on a bed of today; nullopt = not on it. What lies beyond the
/// bed's end was measured otherwise than the bed, and nobody knows where it is: it may be anywhere on it.
std::optional<Stretch> stretch_on(const BedWork& work, const GroundPlace& place, std::optional<Stretch> written) {
  const Stretch whole = work.places.beds[place.bed].whole();
  if (!written) return whole;
  const Stretch moved = place.source.moved(*written);
  if (moved.length().si() <= 0) return std::nullopt;
  return whole.to.si() <= 0 || moved.from < whole.to ? moved : whole;
}

void put_dose(BedWork& work, const Ground& ground, const Id& bed, std::optional<Stretch> written, BedDose dose) {
  for (const GroundPlace& place : ground.places_of(bed)) {
    const auto stretch = stretch_on(work, place, written);
    if (!stretch) continue;
    dose.stretch = *stretch;
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
void put_readings(BedWork& work, const Ground& ground, const Id& id) {
  const std::vector<Moment> finishes = work.doubts.finishes(id);
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
    put_dose(work, ground, *bed, stretch_between(length_in(version, "what.from"), length_in(version, "what.to")), dose);
  }
}

/// What other farms' passes did on this ground: on beds of theirs that are this ground too, or on a bed of this farm.
Result<void> add_doses_elsewhere(const BedWork& work, const Ground& ground, std::int64_t since,
                                 std::vector<RawDose>& raw) {
  TRY_ASSIGN(const std::vector<Farm>& all_farms, farms(work.book));
  if (ground.elsewhere().empty() && all_farms.size() < 2) return {};
  TRY_ASSIGN(const std::vector<RawDose> all, scan_doses(work.book, Id{}, since));
  std::set<Id> own;
  for (const RawDose& dose : raw) own.insert(dose.id);
  for (const RawDose& dose : all)
    if (own.count(dose.id) == 0 && !ground.places_of(dose.bed).empty()) raw.push_back(dose);
  return {};
}

/// Was it done by then? Nobody writes down what is still to come, whatever the clocks say: asked about now, all that
/// is known was done; about a moment gone by, what was finished or written down until then.
bool was_done(const RawDose& dose, const BedWork& work) {
  constexpr std::int64_t kAboutNow = kHour;  // The moment of a view, and clocks that go a little apart.
  if (work.at.ms + kAboutNow >= work.book.now().at.ms) return true;
  return std::min(dose.end(), dose.made) <= work.at.ms;
}

Result<void> collect_doses(BedWork& work, const Ground& ground, std::int64_t since, BedStates& states) {
  TRY_ASSIGN(std::vector<RawDose> raw, scan_doses(work.book, work.places.farm.id, since));
  TRY(add_doses_elsewhere(work, ground, since, raw));
  sort_by_ground(work.places.same, raw);
  std::vector<bool> paired(raw.size());
  for (const auto& [a, b] :
       find_pairs(std::span<const RawDose>(raw), [&](const Id& load) { return work.rules.tank(load).pass; })) {
    paired[a] = paired[b] = true;
    for (const std::size_t i : {a, b})
      for (const GroundPlace& place : ground.places_of(raw[i].bed)) {
        auto& list = states.beds[place.bed].questions;
        if (std::find(list.begin(), list.end(), raw[i].id) == list.end()) list.push_back(raw[i].id);
      }
  }
  for (std::size_t i = 0; i < raw.size(); ++i) {
    const RawDose& one = raw[i];
    if (!was_done(one, work)) continue;
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
    dose.counts = one.end() <= work.at.ms;
    put_dose(work, ground, one.bed, stretch_of(one), dose);
  }
  for (const Id& id : work.doubts.only_waiting("dose"))
    put_readings(work, ground, id);  // What lies on no ground of this farm is put nowhere.
  return {};
}

Result<void> collect_holds(BedWork& work, const Ground& ground) {
  TRY_ASSIGN(const std::vector<SetHold>& holds, hand_holds(work.book, work.doubts));
  for (const SetHold& said : holds) {
    std::set<std::size_t> held;  // In question it holds all of a bed: once, whichever of its records people named.
    for (const Id& bed : said.beds)
      for (const GroundPlace& place : ground.places_of(bed)) {
        const auto stretch = stretch_on(work, place, said.stretch);
        if (!stretch || (said.in_question && !held.insert(place.bed).second)) continue;
        work.holds[place.bed].push_back({said, *stretch});
      }
  }
  // A release counts when nobody disputes it, from its hour on.
  Rows releases(work.book, "release", "WHERE struck IS NULL AND COALESCE(at, made_ms) <= ?");
  releases.query().bind(1, work.at.ms);
  std::set<Id> released;
  while (releases.next())
    if (!work.doubts.has(releases.id())) released.insert(releases.reference("hold"));
  TRY(releases.done());
  for (auto& list : work.holds) {
    list.erase(std::remove_if(list.begin(), list.end(),
                              [&](const BedHold& hold) {
                                return released.count(hold.said.hold) != 0 ||
                                       (hold.said.until && *hold.said.until <= work.at);
                              }),
               list.end());
  }
  return {};
}

}  // namespace

Result<void> collect_on_beds(BedWork& work, const Ground& ground, std::int64_t since, BedStates& states) {
  TRY(collect_doses(work, ground, since, states));
  return collect_holds(work, ground);
}

Result<std::vector<Planting>> plantings_in_doubt(const BedWork& work) {
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

}  // namespace steep
