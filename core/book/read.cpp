// Records, their history, and what stands in review.
#include <algorithm>
#include <limits>
#include <map>
#include <queue>
#include <set>

#include "base/version.h"
#include "book/fold.h"
#include "book/reviews.h"
#include "book/store.h"
#include "book/wide.h"

namespace steep {
namespace {

/// A key that lives for ever, as WordId demands.
WordId lasting(std::string_view key) {
  static std::set<std::string, std::less<>> keys;
  auto found = keys.find(key);
  if (found == keys.end()) found = keys.emplace(key).first;
  return WordId{*found};
}

Head head_of(const Change& change, const Hash& hash, std::string_view group) {
  Head head;
  head.ref = ref_of(change.lane, change.seq, hash);
  head.t = change.t;
  head.c = change.c;
  head.wall = change.wall;
  head.zone_minutes = change.zone_minutes;
  head.person = change.person;
  head.why = change.why;
  for (const FieldValue& field : change.fields)
    if (group_of(field.key) == group) head.fields.push_back(field);
  return head;
}

/// One record's heads as they come from the table, then the record.
class RecordMaker {
 public:
  explicit RecordMaker(const Store& store) : store_(store) {}

  void begin(const Id& id, std::int64_t part, std::string kind, bool needs_newer) {
    record_ = Record{};
    record_.id = id;
    record_.part = store_.part_of(part);
    record_.kind = std::move(kind);
    record_.needs_newer = needs_newer;
    lines_.clear();
    heads_.clear();
  }

  /// Does a line with this row still have to be handed over by `line`?
  bool lacks(std::int64_t row) const { return place_of(row) == lines_.size(); }
  void line(std::int64_t row, const Hash& hash, std::string_view body) {
    auto change = read_change(body);
    lines_.push_back({row, hash, change ? std::move(*change) : Change{}, false});
  }
  void made(const Change& change) {
    record_.made = {{change.wall}, change.zone_minutes};
    record_.made_by = change.person;
    record_.made_on = change.lane;
  }
  void head(std::int64_t group, std::int64_t row) {
    const std::string& key = store_.group_key(group);
    if (heads_.empty() || heads_.back().key != key) heads_.push_back({key, {}, false});
    heads_.back().heads.push_back(place_of(row));
  }

  Record finish() {
    std::sort(heads_.begin(), heads_.end(), [](const auto& a, const auto& b) { return a.key < b.key; });
    for (FoldedGroup& folded : heads_) {
      std::sort(folded.heads.begin(), folded.heads.end(),
                [&](std::size_t a, std::size_t b) { return outranks(lines_[a], lines_[b]); });
      Group group;
      group.key = folded.key;
      for (const std::size_t i : folded.heads) {
        group.heads.push_back(head_of(lines_[i].change, lines_[i].hash, folded.key));
        group.differs = group.differs || (!gathers(folded.key) &&
                                          !same_group(lines_[folded.heads[0]].change, lines_[i].change, folded.key));
      }
      if (gathers(folded.key) && folded.heads.size() > 1) {
        std::vector<const FieldValue*> lists;
        for (const std::size_t i : folded.heads) lists.push_back(field_of(lines_[i].change, folded.key));
        group.gathered = {gathered(folded.key, lists)};
      }
      record_.groups.push_back(std::move(group));
    }
    if (const FieldValue* struck = record_.field("struck"); struck != nullptr && struck->type == FieldType::Text)
      record_.struck = struck->text;
    return std::move(record_);
  }

 private:
  std::size_t place_of(std::int64_t row) const {
    std::size_t i = 0;
    while (i < lines_.size() && lines_[i].row != row) ++i;
    return i;
  }
  const Store& store_;
  Record record_;
  std::vector<FoldLine> lines_;
  std::vector<FoldedGroup> heads_;
};

constexpr std::string_view kRecordColumns =
    "SELECT r.id, r.uid, r.part, r.kind, r.needs_newer, f.body, h.grp, h.chg, c.hash, c.body FROM record r "
    "JOIN change f ON f.id=r.first JOIN head h ON h.rec=r.id JOIN change c ON c.id=h.chg ";

/// Rows of kRecordColumns, those of one record beside each other, groups beside each other.
Result<std::vector<Record>> records_of(const Store& store, Query& query) {
  std::vector<Record> records;
  RecordMaker maker(store);
  std::int64_t current = 0;
  while (query.next()) {
    if (query.integer(0) != current) {
      if (current != 0) records.push_back(maker.finish());
      current = query.integer(0);
      maker.begin(query.id(1), query.integer(2), query.text(3), query.integer(4) != 0);
      if (const auto first = read_change(query.text_view(5))) maker.made(*first);
    }
    if (maker.lacks(query.integer(7))) maker.line(query.integer(7), query.hash(8), query.text_view(9));
    maker.head(query.integer(6), query.integer(7));
  }
  TRY(query.done());
  if (current != 0) records.push_back(maker.finish());
  return records;
}

/// Lines after which the clock of their lane was set back by more than a day, by sequence. One look at a lane serves
/// all histories until it grows; files are taken with nothing kept.
class SetBack {
 public:
  static Result<std::shared_ptr<const SetBack>> read(const Store& store, const LaneRow& lane) {
    static constexpr std::string_view kKept = "set-back clocks";
    const auto known = std::static_pointer_cast<const SetBack>(store.book->kept(kKept));
    if (known)
      if (const auto found = known->lanes_.find(lane.row);
          found != known->lanes_.end() && found->second.tip == lane.tip)
        return known;
    auto more = known ? std::make_shared<SetBack>(*known) : std::make_shared<SetBack>();
    TRY(more->look_at(store, lane));
    store.book->keep(kKept, {}, more);
    return std::shared_ptr<const SetBack>(more);
  }
  bool has(std::int64_t lane, std::int64_t seq, std::int64_t wall) const {
    const auto found = lanes_.find(lane);
    return found != lanes_.end() && found->second.lines.count({seq, wall}) > 0;
  }

 private:
  struct OfLane {
    Hash tip{};
    std::set<std::pair<std::int64_t, std::int64_t>> lines;  // sequence, wall clock
  };
  Result<void> look_at(const Store& store, const LaneRow& lane) {
    OfLane& of = lanes_[lane.row];
    of = {lane.tip, {}};
    auto query =
        store.db.query("SELECT seq, wall FROM change INDEXED BY change_address WHERE lane=? ORDER BY seq DESC");
    query.bind(1, lane.row);
    std::int64_t least = std::numeric_limits<std::int64_t>::max(), seq = 0, of_seq = least;
    while (query.next()) {
      if (query.integer(0) != seq) {  // Two lines of one sequence, a fork, are not later than each other.
        least = std::min(least, of_seq);
        seq = query.integer(0);
        of_seq = std::numeric_limits<std::int64_t>::max();
      }
      of_seq = std::min(of_seq, query.integer(1));
      if (least < query.integer(1) - kDay) of.lines.emplace(seq, query.integer(1));
    }
    return query.done();
  }
  std::map<std::int64_t, OfLane> lanes_;
};

Result<bool> is_doubtful(Store& store, std::int64_t row, const Change& change) {
  if (change.wall < kProgramBornMs || change.wall > store.needs.now().at.ms + kDay) return true;
  const LaneRow* lane = store.lane_of_row(row);
  if (lane == nullptr) return false;
  TRY_ASSIGN(const auto& known, SetBack::read(store, *lane));
  return known->has(row, change.seq, change.wall);
}

constexpr std::string_view kHistoryColumns = "SELECT c.hash, c.lane, c.ready, c.batch, c.body, c.prev FROM change c ";

Result<std::vector<HistoryLine>> history_of(Store& store, Query& query) {
  std::vector<HistoryLine> lines;
  std::vector<std::int64_t> lanes;
  while (query.next()) {
    auto change = read_change(query.text_view(4));
    if (!change) continue;
    HistoryLine line;
    line.hash = query.hash(0);
    line.prev = query.hash(5);
    line.change = std::move(*change);
    line.ref = ref_of(line.change.lane, line.change.seq, line.hash);
    line.ready = query.integer(2) != 0;
    line.aside = !query.is_null(3) && store.aside.count(query.integer(3)) > 0;
    lanes.push_back(query.integer(1));
    lines.push_back(std::move(line));
  }
  TRY(query.done());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    TRY_ASSIGN(lines[i].clock_doubtful, is_doubtful(store, lanes[i], lines[i].change));
    if (const LaneRow* lane = store.lane_of_row(lanes[i])) {
      lines[i].mine = lane->ours;
      lines[i].copy = lane->mine ? store.book->copy_label() : lane->label;
    }
  }
  return lines;
}

/// Nothing before what it saw, or before an earlier line of its lane; among the free ones the earliest.
std::vector<HistoryLine> by_cause(std::vector<HistoryLine> lines) {
  const std::size_t n = lines.size();
  std::vector<std::vector<std::size_t>> then(n);
  std::vector<std::size_t> before(n, 0);
  const auto edge = [&](std::size_t a, std::size_t b) {
    then[a].push_back(b);
    ++before[b];
  };
  std::map<ChangeRef, std::vector<std::size_t>> at;
  for (std::size_t i = 0; i < n; ++i) at[lines[i].ref].push_back(i);
  std::size_t last = n;
  for (const auto& [ref, places] : at) {  // By lane and sequence.
    if (last < n && lines[last].ref.lane == ref.lane && lines[last].ref.seq < ref.seq) edge(last, places[0]);
    last = places[0];
  }
  for (std::size_t i = 0; i < n; ++i)
    for (const ChangeRef& ref : lines[i].change.seen)
      if (const auto found = at.find(ref); found != at.end())
        for (const std::size_t j : found->second) edge(j, i);

  const auto key = [&](std::size_t i) {
    const Change& c = lines[i].change;
    return std::tie(c.t, c.c, c.lane, c.seq, lines[i].hash);
  };
  const auto later = [&](std::size_t a, std::size_t b) { return key(a) > key(b); };
  std::priority_queue<std::size_t, std::vector<std::size_t>, decltype(later)> free(later);
  for (std::size_t i = 0; i < n; ++i)
    if (before[i] == 0) free.push(i);
  std::vector<std::size_t> order;
  std::vector<bool> placed(n);
  while (!free.empty()) {
    const std::size_t i = free.top();
    free.pop();
    order.push_back(i);
    placed[i] = true;
    for (const std::size_t next : then[i])
      if (--before[next] == 0) free.push(next);
  }
  for (std::size_t i = 0; i < n; ++i)
    if (!placed[i]) order.push_back(i);  // Forged rings: at the end.
  std::vector<HistoryLine> sorted;
  for (const std::size_t i : order) sorted.push_back(std::move(lines[i]));
  return sorted;
}

}  // namespace

const FieldValue* Record::field(std::string_view key) const {
  const std::string_view wanted = group_of(key);
  for (const Group& group : groups) {
    if (group.key != wanted) continue;
    for (const FieldValue& field : group.stand_in())
      if (field.key == key) return &field;
  }
  return nullptr;
}

bool Record::differs() const {
  return std::any_of(groups.begin(), groups.end(), [](const Group& group) { return group.differs; });
}

std::vector<ChangeRef> Record::heads() const {
  std::vector<ChangeRef> refs;
  for (const Group& group : groups)
    for (const Head& head : group.heads) refs.push_back(head.ref);
  std::sort(refs.begin(), refs.end());
  refs.erase(std::unique(refs.begin(), refs.end()), refs.end());
  return refs;
}

Result<std::optional<Record>> Book::record(const Id& id) const {
  auto query = inside_->db.query(std::string(kRecordColumns) +
                                 "JOIN part p ON p.id=r.part WHERE r.uid=? ORDER BY p.text, h.grp");
  query.bind(1, id);
  TRY_ASSIGN(auto records, records_of(*inside_, query));
  if (records.empty()) return std::optional<Record>();
  return std::optional(std::move(records.front()));
}

Result<std::vector<Record>> Book::records(std::string_view kind, std::optional<Part> part) const {
  auto query = inside_->db.query(std::string(kRecordColumns) +
                                 "WHERE r.kind=?1 AND (?2 IS NULL OR r.part=?2) ORDER BY r.uid, r.part, h.grp");
  query.bind(1, kind);
  if (part) {
    const auto row = inside_->part_rows.find(*part);
    query.bind(2, row == inside_->part_rows.end() ? std::int64_t{-1} : row->second);
  }
  return records_of(*inside_, query);
}

Result<std::vector<HistoryLine>> Book::history(const Id& record) const {
  auto query =
      inside_->db.query(std::string(kHistoryColumns) + "JOIN record r ON r.id=c.rec WHERE r.uid=? ORDER BY c.id");
  query.bind(1, record);
  TRY_ASSIGN(auto lines, history_of(*inside_, query));
  return by_cause(std::move(lines));
}

Result<std::vector<HistoryLine>> Book::waiting() const {
  auto query = inside_->db.query(std::string(kHistoryColumns) +
                                 "JOIN lane l ON l.id=c.lane WHERE c.ready=0 ORDER BY l.uid, c.seq, c.hash");
  return history_of(*inside_, query);
}

std::string Book::kind_of(const Id& record) const {
  // Hardly ever does an id stand in two parts: then the first one's by name.
  auto query = inside_->db.query("SELECT kind, part FROM record WHERE uid=? AND kind IS NOT NULL");
  query.bind(1, record);
  std::string kind;
  std::int64_t part = 0;
  while (query.next()) {
    const std::int64_t other = query.integer(1);
    if (!kind.empty() && inside_->part_of(part).text() < inside_->part_of(other).text()) continue;
    kind = query.text(0);
    part = other;
  }
  return kind;
}

std::optional<Part> Book::part_of(const Id& record) const {
  auto query = inside_->db.query(
      "SELECT p.text FROM record r JOIN part p ON p.id=r.part WHERE r.uid=? AND r.kind IS NOT NULL ORDER BY p.text "
      "LIMIT 1");
  query.bind(1, record);
  return query.next() ? Part::parse(query.text_view(0)) : std::nullopt;
}

Result<std::vector<Review>> Book::reviews() const {
  std::vector<Review> reviews;
  auto query = inside_->db.query(
      "SELECT r.uid, v.grp, v.why, v.vals, v.since FROM review v CROSS JOIN record r ON r.id=v.rec "
      "ORDER BY v.since, r.uid, v.grp, v.why");
  while (query.next())
    reviews.push_back({query.id(0), query.text(1), lasting(query.text_view(2)), review_values(query.text_view(3)),
                       Moment{query.integer(4)}});
  TRY(query.done());
  TRY_ASSIGN(const auto& broken, broken_chains(*inside_));
  for (const BrokenChain& chain : broken)
    reviews.push_back(
        {chain.record, {}, "review.chain"_w, {chain.copy, std::to_string(chain.seq)}, Moment{chain.wall}});
  return reviews;
}

}  // namespace steep
