// Saves of this copy become lines of its lanes.
#include <algorithm>

#include "book/after_fold.h"
#include "book/save_rules.h"
#include "book/store.h"

namespace steep {
namespace {

/// Tips carried by one line: each is some 60 bytes, and the rest goes with the next save.
constexpr std::size_t kTipsInALine = 200;

/// Tips of other lanes of the part that came in since this lane's last save: they anchor those chains here.
Result<std::vector<ChangeRef>> tips_learned(Store& store, const LaneRow& lane) {
  std::vector<ChangeRef> tips;
  for (auto& [id, other] : store.lanes) {
    if (other.row == lane.row || other.part != lane.part || other.last_seq <= other.told) continue;
    if (tips.size() == kTipsInALine) break;
    tips.push_back(ref_of(id, other.last_seq, other.tip));
    other.told = other.last_seq;
    TRY(store.save_lane(other));
  }
  return tips;
}

/// Lines already written in this call, for saves of one record that follow each other.
struct Written {
  Id record;
  Part part;
  ChangeRef ref;
};

class Writer {
 public:
  Writer(Store& store, const Id& person) : store_(store), person_(person), now_(store.needs.now()) {}

  /// All saves of one part: one act.
  Result<void> act(const Part& part, const std::vector<const PlannedSave*>& saves) {
    if (saves.size() > static_cast<std::size_t>(kMaxActLines))
      return refuse(Trouble::BadInput, "journal.write.size"_w, {saves[0]->save->kind});
    TRY_ASSIGN(LaneRow* const lane, own_lane(store_, part));
    const std::int64_t act = lane->last_seq + 1;
    for (std::size_t i = 0; i < saves.size(); ++i) {
      Change change = line_of(*lane, *saves[i]);
      change.act = act;
      change.act_ends = i + 1 == saves.size();
      if (i == 0) {
        TRY_ASSIGN(change.tips, tips_learned(store_, *lane));
      }
      TRY(append(*lane, change));
    }
    return store_.save_lane(*lane);
  }

  const std::vector<std::int64_t>& records() const { return records_; }

 private:
  Change line_of(const LaneRow& lane, const PlannedSave& planned) {
    Change change;
    change.lane = lane.id;
    change.seq = lane.last_seq + 1;
    if (change.seq == 1) change.part = lane.part;
    change.wall = std::clamp<std::int64_t>(now_.at.ms, 0, kMaxWall - 1);
    change.t = store_.clock = std::max(store_.clock + 1, change.wall);
    change.zone_minutes = std::clamp(now_.offset_minutes, -1440, 1440);
    change.person = person_;
    change.record = planned.save->record;
    change.kind = planned.save->kind;
    change.why = planned.save->why;
    change.fields = planned.fields;
    change.seen = planned.seen;
    for (const Written& before : written_)
      if (before.record == change.record && before.part == lane.part) change.seen.push_back(before.ref);
    return change;
  }

  Result<void> append(LaneRow& lane, const Change& change) {
    const std::string body = write_change(change);
    if (body.size() > kMaxLine || change.seen.size() > kMaxSeen)
      return refuse(Trouble::BadInput, "journal.write.size"_w, {change.kind});
    JournalRow row;
    row.lane = lane.row;
    row.seq = change.seq;
    row.prev = lane.tip;
    row.hash = chain_next(lane.tip, body);
    TRY_ASSIGN(row.record, store_.record_row(lane.part_row, change.record));
    TRY(insert_change(store_, row, change, body));
    lane.last_seq = change.seq;
    lane.tip = row.hash;
    written_.push_back({change.record, lane.part, ref_of(lane.id, change.seq, row.hash)});
    records_.push_back(row.record);
    return {};
  }

  Store& store_;
  Id person_;
  Stamp now_;
  std::vector<Written> written_;
  std::vector<std::int64_t> records_;
};

}  // namespace

Result<void> write_saves(Store& store, std::span<const Save> saves, const Id& person) {
  TRY_ASSIGN(const auto& planned, plan_saves(store, saves));

  std::vector<Part> parts;
  for (const PlannedSave& one : planned)
    if (std::find(parts.begin(), parts.end(), one.part) == parts.end()) parts.push_back(one.part);
  Writer writer(store, person);
  for (const Part& part : parts) {
    std::vector<const PlannedSave*> act;
    for (const PlannedSave& one : planned)
      if (one.part == part) act.push_back(&one);
    TRY(writer.act(part, act));
  }

  std::vector<std::int64_t> records = writer.records();
  std::sort(records.begin(), records.end());
  records.erase(std::unique(records.begin(), records.end()), records.end());
  FoldSum sum;
  for (const std::int64_t record : records) TRY(fold_record(store, record, sum));
  return after_fold(store, std::move(sum));
}

Result<void> Book::write(std::span<const Save> saves, const Id& person) {
  Store& store = *inside_;
  if (saves.empty()) return {};
  TRY_ASSIGN(auto scope, WriteScope::begin(store));
  TRY(write_saves(store, saves, person));
  return scope.commit();
}

Save Book::starting_save(std::string_view name, bool demo) const {
  Save save;
  save.record = new_record();
  save.kind = "book";
  save.fields = {text_field_value("name", std::string(name)), word_value("mode", demo ? "demo" : "real")};
  return save;
}

Result<void> Book::start(std::string_view name, bool demo, const Id& person) {
  if (is_started()) return refuse(Trouble::Conflict, "journal.write.started"_w, {inside_->name});
  return write(starting_save(name, demo), person);
}

}  // namespace steep
