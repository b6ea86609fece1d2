// Was it picked inside a wait? Never by a stand-in: each reading of a picking against each reading of a dose or hold.
#include <algorithm>

#include "book/checker.h"
#include "book/dose_scan.h"
#include "book/rows.h"
#include "book/spelled.h"

namespace steep {
namespace {

const FieldValue* find(const std::vector<FieldValue>& fields, std::string_view key) {
  for (const FieldValue& field : fields)
    if (field.key == key) return &field;
  return nullptr;
}

std::optional<std::int64_t> time_in(const std::vector<FieldValue>& fields, std::string_view key) {
  const FieldValue* field = find(fields, key);
  const auto stamp = field != nullptr ? parse_stamp(field->text) : std::nullopt;
  return stamp ? std::optional<std::int64_t>(stamp->at.ms) : std::nullopt;
}

Id reference_in(const std::vector<FieldValue>& fields, std::string_view key) {
  const FieldValue* field = find(fields, key);
  return field != nullptr ? Id::parse(field->text).value_or(Id{}) : Id{};
}

std::optional<Length> length_in(const std::vector<FieldValue>& fields, std::string_view key) {
  const FieldValue* field = find(fields, key);
  if (field == nullptr || field->type != FieldType::Quantity) return std::nullopt;
  const auto written = parse_written(field->text);
  if (!written || written->dimension() != Dimension::Length) return std::nullopt;
  return as<Length>(*written);
}

/// Does any of it lie on the bed asked for? What nobody measured does.
bool reaches(const GroundSource& source, const std::optional<Stretch>& stretch) {
  return source.whole || !stretch || source.moved(*stretch).length().si() > 0;
}

bool share_ground(const std::optional<Stretch>& a, const std::optional<Stretch>& b) {
  return !a || !b || (a->from < b->to && b->from < a->to);
}

/// Every reading of a reference; the row's own where nobody disputes it.
std::vector<Id> all_references(const Doubts& doubts, const Id& record, std::string_view key, const Id& row) {
  std::vector<Id> ids;
  for (const FieldValue& reading : doubts.readings(record, key)) ids.push_back(Id::parse(reading.text).value_or(Id{}));
  if (ids.empty()) ids.push_back(row);
  return ids;
}

std::vector<Moment> all_times(const Doubts& doubts, const Id& record, std::string_view key, Moment row) {
  std::vector<Moment> times;
  for (const FieldValue& reading : doubts.readings(record, key))
    if (const auto stamp = parse_stamp(reading.text)) times.push_back(stamp->at);
  if (times.empty()) times.push_back(row);
  return times;
}

}  // namespace

struct Checker::Picked {
  Id bed, planting;
  Moment at;
  std::string code;
  std::optional<Stretch> stretch;
};

struct Checker::Inside {
  Id dose;  // nil = a hold set by hand
  Date picked_on, since;
  std::optional<Moment> until;  // nullopt: no end known
  std::string why;              // of a hold set by hand
};

// ---- What lies on the ground -------------------------------------------------------------------

/// Doses that nobody disputes.
Result<void> Checker::add_treated(const GroundSource& source, GroundOf& of) {
  TRY_ASSIGN(const Doubts* open, doubts());
  Query query = book_.db().query(
      "SELECT uid, what_load, when_finish, made_ms, what_from_si, what_to_si FROM k_dose WHERE what_bed = ? AND struck "
      "IS NULL AND what_how IS NOT 'skipped'");
  query.bind(1, source.bed);
  while (query.next()) {
    Treated dose{query.id(0), query.id(1), query.integer(2), query.integer(2), !query.is_null(2)};
    if (open->has(dose.dose)) continue;
    std::optional<Length> from, to;
    if (!query.is_null(4)) from = Length::from_si(query.real(4));
    if (!query.is_null(5)) to = Length::from_si(query.real(5));
    if (!reaches(source, stretch_between(from, to))) continue;
    if (!dose.finish_known) {
      dose.latest = query.integer(3);
      TRY_ASSIGN(dose.since, unfinished_since(book_, dose.dose));
    }
    of.doses.push_back(dose);
  }
  return query.done();
}

/// A dose at each finish that anybody gives it; without one, at any time from `earliest` on.
Result<std::vector<Checker::Treated>> Checker::readings_of_time(const Id& id, std::int64_t earliest,
                                                                std::int64_t latest) {
  std::vector<Treated> readings;
  TRY_ASSIGN(const Doubts* open, doubts());
  std::vector<std::vector<FieldValue>> versions = open->versions(id, "when");
  if (versions.empty()) versions.emplace_back();
  for (const auto& version : versions) {
    Treated dose{id, {}, earliest, latest, false};
    if (const auto start = time_in(version, "when.start")) dose.since = std::min(dose.since, *start);
    if (const auto finish = time_in(version, "when.finish")) {
      dose.since = dose.latest = *finish;
      dose.finish_known = true;
    }
    readings.push_back(dose);
  }
  return readings;
}

/// A dose in dispute, or known only from lines that wait: on every bed that a version names, at every time.
Result<void> Checker::read_disputed(const Id& id) {
  TRY_ASSIGN(const Doubts* open, doubts());
  Query query = book_.db().query(
      "SELECT struck IS NOT NULL, min(made_ms, COALESCE(late_at, made_ms)), made_ms FROM k_dose WHERE uid = ?");
  query.bind(1, id);
  const bool is_here = query.next();
  const bool is_struck = is_here && query.integer(0) != 0;
  const std::int64_t earliest = is_here ? query.integer(1) : INT64_MAX, latest = is_here ? query.integer(2) : INT64_MAX;
  TRY(query.done());
  if (is_struck && !open->counts_although_struck(id)) return {};
  for (const auto& version : open->versions(id, "what")) {
    const FieldValue* how = find(version, "what.how");
    const Id bed = reference_in(version, "what.bed"), load = reference_in(version, "what.load");
    if (bed.is_nil() || (how != nullptr && how->text == "skipped")) continue;
    TRY_ASSIGN(const std::int64_t begun, load_begun(book_, load));
    TRY_ASSIGN(const std::vector<Treated>& readings, readings_of_time(id, std::min(earliest, begun), latest));
    const auto stretch = stretch_between(length_in(version, "what.from"), length_in(version, "what.to"));
    for (Treated dose : readings) {
      dose.load = load;
      // Nothing says when: it may have been before any picking.
      if (dose.since == INT64_MAX) dose.since = INT64_MIN;
      (*disputed_)[bed].push_back({dose, stretch});
    }
  }
  return {};
}

Result<void> Checker::add_disputed(const GroundSource& source, GroundOf& of) {
  if (!disputed_) {
    disputed_.emplace();
    TRY_ASSIGN(const Doubts* open, doubts());
    for (const auto& [id, kind] : open->records())
      if (kind == "dose") TRY(read_disputed(id));
  }
  const auto found = disputed_->find(source.bed);
  if (found == disputed_->end()) return {};
  for (const Disputed& one : found->second)
    if (reaches(source, one.stretch)) of.doses.push_back(one.dose);
  return {};
}

/// The first release that nobody disputes.
Result<std::optional<Moment>> Checker::released_at(const Id& hold) {
  TRY_ASSIGN(const Doubts* open, doubts());
  std::optional<Moment> first;
  Rows releases(book_, "release", "WHERE struck IS NULL AND hold = ?");
  releases.query().bind(1, hold);
  while (releases.next()) {
    RecordFacts facts;
    releases.facts(facts);
    if (open->has(facts.id)) continue;
    const Taken<Stamp> at = releases.instant("at");
    const Moment released = at ? at->at : facts.happened();
    first = first ? std::min(*first, released) : released;
  }
  TRY(releases.done());
  return first;
}

/// Those against picking, as bed_ground.cpp has them.
Result<void> Checker::add_hand_holds(const GroundSource& source, GroundOf& of) {
  TRY_ASSIGN(const Doubts* open, doubts());
  TRY_ASSIGN(const std::vector<SetHold>& holds, hand_holds(book_, *open, source.bed));
  for (SetHold hold : holds) {
    if (!hold.harvest || !reaches(source, hold.stretch)) continue;
    // A picking is typed to the minute: one of the minute in which it was set may have come after it.
    hold.set = Moment{hold.set.ms / kMinute * kMinute};
    if (hold.stretch) hold.stretch = source.moved(*hold.stretch);
    TRY_ASSIGN(const std::optional<Moment>& released, released_at(hold.hold));
    if (released) hold.until = hold.until ? std::min(*hold.until, *released) : *released;
    of.holds.push_back(std::move(hold));
  }
  return {};
}

Result<void> Checker::read_waits(GroundOf& of) {
  if (of.waits_read) return {};
  of.waits_read = true;
  for (const GroundSource& source : of.sources) {
    TRY(add_treated(source, of));
    TRY(add_disputed(source, of));
    TRY(add_hand_holds(source, of));
  }
  std::sort(of.doses.begin(), of.doses.end(), [](const Treated& a, const Treated& b) {
    return a.since != b.since ? a.since < b.since : a.dose < b.dose;
  });
  return {};
}

// ---- What was picked ---------------------------------------------------------------------------

Result<std::vector<Checker::Picked>> Checker::read_picked(const Id& id) {
  TRY_ASSIGN(const Doubts* open, doubts());
  std::vector<Picked> all;
  Query query = book_.db().query(
      "SELECT bed, planting, at, code, stretch_from_si, stretch_to_si FROM k_harvest WHERE uid = ? AND struck IS NULL "
      "AND at IS NOT NULL");
  query.bind(1, id);
  if (query.next()) {
    Picked picked{{}, {}, {}, query.text(3), {}};
    if (!query.is_null(4) && !query.is_null(5) && !open->has(id))
      picked.stretch = stretch_between(Length::from_si(query.real(4)), Length::from_si(query.real(5)));
    for (const Id& bed : all_references(*open, id, "bed", query.id(0)))
      for (const Id& planting : all_references(*open, id, "planting", query.id(1)))
        for (const Moment at : all_times(*open, id, "at", Moment{query.integer(2)})) {
          picked.bed = bed;
          picked.planting = planting;
          picked.at = at;
          all.push_back(picked);
        }
  }
  TRY(query.done());
  return all;
}

Result<void> Checker::check_harvest(const Id& id) {
  TRY_ASSIGN(const std::vector<Picked>& readings, read_picked(id));
  if (readings.empty()) return {};
  TRY(check_code(id, readings.front().code, readings.front().at));
  TRY(check_sold(id, readings.front().at));
  for (const Picked& picked : readings) {
    TRY_ASSIGN(const std::vector<Inside>& waits, waits_around(picked));
    for (const Inside& wait : waits) {
      const std::string bed = record_value_text(picked.bed), on = date_value_text(wait.picked_on),
                        since = date_value_text(wait.since);
      if (wait.dose.is_nil())
        add(id, "at", "finding.picked-under-hold"_w, {bed, on, since, wait.why}, picked.at);
      else if (wait.until)
        add(id, "at", "finding.picked-inside-wait"_w, {bed, on, since, moment_value_text(*wait.until)}, picked.at);
      else
        add(id, "at", "finding.picked-while-held"_w, {bed, on, since}, picked.at);
    }
  }
  return {};
}

Result<std::vector<Id>> Checker::doses_holding(const Id& harvest) {
  std::vector<Id> doses;
  TRY_ASSIGN(const std::vector<Picked>& readings, read_picked(harvest));
  for (const Picked& picked : readings) {
    TRY_ASSIGN(const std::vector<Inside>& waits, waits_around(picked));
    for (const Inside& wait : waits)
      if (!wait.dose.is_nil() && std::find(doses.begin(), doses.end(), wait.dose) == doses.end())
        doses.push_back(wait.dose);
  }
  return doses;
}

// ---- One against the other ---------------------------------------------------------------------

Result<std::vector<Checker::Inside>> Checker::waits_around(const Picked& picked) {
  std::vector<Inside> inside;
  TRY_ASSIGN(GroundOf * of, ground(picked.bed));
  TRY(read_waits(*of));
  if (of->doses.empty() && of->holds.empty()) return inside;
  TRY(add_dose_waits(picked, *of, inside));
  const Farm* of_farm = farm(of->farm);
  for (const SetHold& hold : of->holds) {
    if (of_farm == nullptr) break;
    if (hold.set > picked.at || (hold.until && *hold.until <= picked.at)) continue;
    if (!share_ground(hold.stretch, picked.stretch)) continue;
    inside.push_back({{}, of_farm->day(picked.at), of_farm->day(hold.set), hold.until, hold.why});
  }
  return inside;
}

/// Of the readings that people give one dose the one that holds longest.
void Checker::keep_most_cautious(std::vector<Inside>& inside, Inside wait) {
  const auto same =
      std::find_if(inside.begin(), inside.end(), [&](const Inside& one) { return one.dose == wait.dose; });
  if (same == inside.end())
    inside.push_back(std::move(wait));
  else if (same->until && (!wait.until || *wait.until >= *same->until))
    *same = std::move(wait);
}

Result<void> Checker::add_dose_waits(const Picked& picked, const GroundOf& of, std::vector<Inside>& inside) {
  if (of.doses.empty() || of.doses.front().since > picked.at.ms) return {};
  TRY_ASSIGN(const FarmRules* rules, rules_for(of.farm));
  const std::int64_t back = picked.at.ms - std::max(kLongestLookBack, rules->rules.longest_ms());
  const Date day = rules->farm.day(picked.at);
  std::vector<std::pair<std::string, std::optional<Date>>> crops;
  for (const Planting& planting : of.plantings)
    if (planting.id == picked.planting || (picked.planting.is_nil() && planting.grows_on(day)))
      crops.emplace_back(planting.crop, planting.started());
  if (crops.empty()) crops.emplace_back();
  for (const Treated& dose : of.doses) {
    if (dose.since > picked.at.ms) break;
    if (dose.latest < back && !rules->rules.has_unknown()) continue;
    for (const auto& [crop, started] : crops) {
      Hold hold;
      if (!is_inside_wait(*rules, dose, picked, crop, started, of.shared, hold)) continue;
      keep_most_cautious(inside, {dose.dose,
                                  day,
                                  rules->farm.day(Moment{dose.since}),
                                  hold.state == Hold::State::Until ? hold.until : std::nullopt,
                                  {}});
      break;
    }
  }
  return {};
}

bool Checker::is_inside_wait(const FarmRules& of, const Treated& dose, const Picked& picked, const std::string& crop,
                             std::optional<Date> started, bool shared, Hold& hold) {
  // Where nobody knows the finish no wait has an end.
  const auto is_endless = [&](const RuleWait& rule) {
    return !dose.finish_known ||
           std::any_of(rule.readings.begin(), rule.readings.end(), [](Wait wait) { return !wait.is_known(); });
  };
  const std::vector<RuleWait>& rules = of.rules.harvest(of.rules.tank(dose.load), crop, shared);
  // Most were long over: no need to count their days.
  if (dose.latest < picked.at.ms - of.rules.longest_ms() && std::none_of(rules.begin(), rules.end(), is_endless))
    return false;
  Treatment treatment;
  if (dose.finish_known) treatment.finishes = {Moment{dose.since}};
  for (const RuleWait& rule : rules) {
    // The crop was not there when it was sprayed: no label can have named it.
    if (is_endless(rule) && started && Moment{dose.latest} < of.farm.zone.start_of(*started)) continue;
    treatment.harvest.push_back(rule);
  }
  hold = of.rules.harvest_hold({treatment}, shared);
  return hold.holds_at(picked.at);
}

}  // namespace steep
