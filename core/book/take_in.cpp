// A file's lines merged into the journal: the union of both, and the fold of what it touched.
#include <algorithm>
#include <chrono>
#include <unordered_map>

#include "book/after_fold.h"
#include "book/codes.h"
#include "book/fresh_lines.h"
#include "book/ready.h"
#include "book/spelled.h"
#include "book/store.h"
#include "book/work.h"

namespace steep {
namespace {

/// A clock farther ahead than this does not push ours.
constexpr std::int64_t kClockTrust = kDay;
constexpr int kStepsBetweenLooks = 16;

/// The few more that became ready; may repeat.
void merge_sorted(std::vector<std::int64_t>& records, std::vector<std::int64_t> more) {
  if (more.empty()) return;
  records.insert(records.end(), more.begin(), more.end());
  std::sort(records.begin(), records.end());
  records.erase(std::unique(records.begin(), records.end()), records.end());
}

/// Rows of records by their ids, of the part that lines come for just now.
class RecordRows {
 public:
  Result<std::int64_t> find(Store& store, std::int64_t part, const Id& record) {
    if (part != part_ || rows_.size() > kMost) rows_.clear();
    part_ = part;
    const auto [place, is_new] = rows_.try_emplace(record, 0);
    if (is_new) {
      TRY_ASSIGN(place->second, store.record_row(part, record));
    }
    return place->second;
  }

 private:
  static constexpr std::size_t kMost = 400'000;  // Some 20 MB.
  std::int64_t part_ = 0;
  std::unordered_map<Id, std::int64_t> rows_;
};

}  // namespace

Result<void> no_pass_open(const Book& book, WordId said) {
  TRY_ASSIGN(const auto& open, open_pass(book));
  if (!open) return {};
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  TRY_ASSIGN(const Pass& pass, read_pass(book, *open));
  return refuse(Trouble::Conflict, said,
                {code_value_text("pass", codes.text(*open)), moment_value_text(pass.start.at)});
}

struct Book::TakeIn::Work {
  Work(Store& of, WriteScope write, Origin from)
      : store(of), scope(std::move(write)), origin(std::move(from)), fresh(of), readying(of), now(of.needs.now().at) {
    store.taking = true;
    store.kept.clear();
  }
  ~Work() { store.taking = false; }  // The scope below it rolls back what was not committed.

  Store& store;
  std::optional<WriteScope> scope;
  Origin origin;
  std::optional<FreshLines> fresh;
  Readying readying;
  Moment now;
  std::int64_t old_records = 0;  ///< Rows of records beyond this one are of this take.
  std::int64_t batch = 0;
  std::int64_t clock = 0;
  LaneRow* lane = nullptr;
  Hash last_hash{};           ///< Of the line before, when it is here.
  std::int64_t known_to = 0;  ///< No line of the lane beyond this sequence was here when its section began.
  RecordRows record_rows;
  std::vector<std::int64_t> records;
  Outcome outcome;
  FoldSum sum;
  enum Phase { Lines, Settling, Turning, Acts, Folding, After, Done } phase = Lines;
  std::size_t folded = 0;
  std::optional<AfterFold> after;

  Result<void> add(std::int64_t seq, const Hash& prev, const Hash& hash, const Change& change, std::string_view body);
  Result<void> begin_batch();
  Result<bool> turn_round_next();
  Result<void> settle_lines();
  Result<void> note_waiting();
  Result<bool> phase_step();
  Result<void> end_phases();
  double share() const;
};

Result<std::unique_ptr<Book::TakeIn>> Book::begin_take(const Origin& origin) {
  Store& store = *inside_;
  TRY_ASSIGN(auto scope, WriteScope::begin(store));
  TRY(no_pass_open(*this, "book.pass_open"_w));
  if (!is_started() && !origin.book.is_nil()) {
    store.id = origin.book;
    store.joined.insert(store.joined.begin(), origin.book);
    store.name = origin.name;
    store.demo = origin.demo;
  }
  return std::unique_ptr<TakeIn>(new TakeIn(std::make_unique<TakeIn::Work>(store, std::move(scope), origin)));
}

Book::TakeIn::TakeIn(std::unique_ptr<Work> work) : work_(std::move(work)) {}
Book::TakeIn::~TakeIn() = default;

Result<void> Book::TakeIn::save(const Save& save, const Id& person) {
  return write_saves(work_->store, {&save, 1}, person);
}

Result<void> Book::TakeIn::lane(const Id& id, const Part& part, std::string_view label, const Id& copy) {
  Store& store = work_->store;
  auto found = store.lanes.find(id);
  if (found == store.lanes.end()) {
    LaneRow lane;
    lane.id = id;
    lane.part = part;
    lane.tip = chain_start(id);
    TRY_ASSIGN(lane.part_row, store.part_row(part));
    auto query = store.db.query(
        "INSERT INTO lane(uid, part, label, mine, ours, last_seq, tip, told, given, confirmed) "
        "VALUES(?,?,'',0,0,0,?,0,0,0)");
    query.bind(1, id).bind(2, lane.part_row).bind_bytes(3, lane.tip);
    TRY(query.run());
    lane.row = store.db.last_id();
    store.lane_ids[lane.row] = id;
    found = store.lanes.emplace(id, std::move(lane)).first;
  }
  LaneRow& lane = found->second;
  if (lane.part != part) return refuse(Trouble::Damaged, "journal.take.part"_w, {label});
  const bool newer_label = !label.empty() && lane.label != label && !lane.mine;
  if (newer_label || (lane.copy.is_nil() && !copy.is_nil())) {
    if (newer_label) lane.label = label;
    if (lane.copy.is_nil()) lane.copy = copy;
    TRY(store.save_lane(lane));
  }
  if (work_->lane != nullptr) TRY(store.save_lane(*work_->lane));
  work_->lane = &lane;
  work_->last_hash = chain_start(id);
  work_->known_to = lane.last_seq;
  work_->fresh->lane(id);
  return {};
}

Result<void> Book::TakeIn::line(std::int64_t seq, const Hash& prev, const Hash& hash, const Change& change,
                                std::string_view body) {
  Work& work = *work_;
  ++work.outcome.lines;
  if (work.lane == nullptr || seq > work.known_to) return work.add(seq, prev, hash, change, body);
  TRY_ASSIGN(const std::int64_t row, line_row(work.store, work.lane->row, seq, hash));
  if (row == 0) return work.add(seq, prev, hash, change, body);
  TRY_ASSIGN(const bool aside, is_aside(work.store, row));
  ++work.outcome.known;
  work.outcome.still_aside += aside;
  work.last_hash = hash;
  return {};
}

void Book::TakeIn::known_lines(std::int64_t lines, std::int64_t aside) {
  work_->outcome.lines += lines;
  work_->outcome.known += lines;
  work_->outcome.still_aside += aside;
}

Result<void> Book::TakeIn::Work::begin_batch() {
  if (batch != 0) return {};
  auto last = store.db.query("SELECT max(id) FROM record");
  if (last.next()) old_records = last.integer(0);
  TRY(last.done());
  auto query = store.db.query("INSERT INTO batch(file, hash, sender, copy, at, changes, aside) VALUES(?,?,?,?,?,0,0)");
  query.bind(1, origin.file_name).bind_bytes(2, origin.file_hash).bind(3, origin.label).bind(4, origin.copy);
  query.bind(5, now.ms);
  TRY(query.run());
  batch = store.db.last_id();
  return {};
}

Result<void> Book::TakeIn::Work::add(std::int64_t seq, const Hash& prev, const Hash& hash, const Change& change,
                                     std::string_view body) {
  const bool fits = lane != nullptr && change.lane == lane->id && change.seq == seq &&
                    (seq != 1 || (prev == chain_start(change.lane) && change.part == lane->part));
  if (!fits) return refuse(Trouble::Damaged, "journal.take.line"_w, {std::to_string(seq)});
  TRY(begin_batch());
  if (lane->mine) outcome.twin = true;  // Our own lane with a line that we never wrote.

  JournalRow row;
  row.lane = lane->row;
  row.seq = seq;
  row.batch = batch;
  row.prev = prev;
  row.hash = hash;
  TRY_ASSIGN(row.record, record_rows.find(store, lane->part_row, change.record));
  TRY_ASSIGN(row.ready, fresh->add(change, prev, hash));
  TRY(insert_change(store, row, change, body));
  const std::int64_t id = store.db.last_id();
  fresh->written(id, row.record);

  if (seq > 1 && prev != last_hash) {
    TRY_ASSIGN(const std::int64_t before, line_row(store, lane->row, seq - 1, prev));
    if (before == 0) {
      auto gap = store.db.query("INSERT INTO gap(change) VALUES(?)");
      gap.bind(1, id);
      TRY(gap.run());
    }
  }
  last_hash = hash;
  if (seq > lane->last_seq || (seq == lane->last_seq && hash > lane->tip)) {
    lane->last_seq = seq;
    lane->tip = hash;
  }
  clock = std::max(clock, std::min(change.t, now.ms + kClockTrust));
  ++outcome.added;
  return {};
}

double Book::TakeIn::Work::share() const {
  switch (phase) {
    case Lines:
    case Settling:
    case Turning: return 0;
    case Acts: return 0.2 * readying.share();
    case Folding:
      return records.empty() ? 0.7 : 0.2 + 0.5 * static_cast<double>(folded) / static_cast<double>(records.size());
    case After: return 0.7 + 0.3 * after->share();
    case Done: return 1;
  }
  return 1;
}

/// What lacks something for good waits; false when no more of it is left.
Result<bool> Book::TakeIn::Work::turn_round_next() {
  const auto rows = fresh->next_waiting();
  if (!rows) return false;
  auto query = store.db.query("UPDATE change SET ready=0 WHERE id BETWEEN ? AND ?");
  query.bind(1, rows->first).bind(2, rows->last);
  TRY(query.run());
  return true;
}

/// It is known which lines count.
Result<void> Book::TakeIn::Work::settle_lines() {
  records = fresh->records();
  fresh.reset();  // Their memory is wanted for what comes out of the fold.
  record_rows = {};
  return readying.begin();
}

/// Of which records lines came that wait, whatever they lack: for good an earlier file, or the rest of their act.
Result<void> Book::TakeIn::Work::note_waiting() {
  auto query = store.db.query(
      "SELECT DISTINCT r.uid FROM change c INDEXED BY change_waiting JOIN record r ON r.id=c.rec WHERE c.ready=0 AND "
      "c.batch=?");
  query.bind(1, batch);
  while (query.next()) sum.waiting.push_back(query.id(0));
  return query.done();
}

/// One small piece of work; false when all is done.
Result<bool> Book::TakeIn::Work::phase_step() {
  switch (phase) {
    case Lines:
      if (lane != nullptr) TRY(store.save_lane(*lane));
      lane = nullptr;
      fresh->begin_settling();
      phase = Settling;
      return true;
    case Settling:
      if (!fresh->settle_next()) phase = Turning;
      return true;
    case Turning: {
      TRY_ASSIGN(const bool more, turn_round_next());
      if (more) return true;
      TRY(settle_lines());
      phase = Acts;
      return true;
    }
    case Acts: {
      TRY_ASSIGN(const bool more, readying.step());
      if (more) return true;
      merge_sorted(records, std::move(readying.records()));
      sum.records.reserve(records.size());
      TRY(note_waiting());
      phase = Folding;
      return true;
    }
    case Folding:
      if (folded < records.size()) {
        const std::int64_t record = records[folded++];
        TRY(fold_record(store, record, sum, record > old_records));
        return true;
      }
      outcome.records_new = sum.created;
      outcome.records_changed = sum.changed;
      outcome.struck = sum.struck;
      outcome.differing = sum.differing;
      after.emplace(store, std::move(sum));
      phase = After;
      return true;
    case After: {
      TRY_ASSIGN(const bool more, after->step());
      if (more) return true;
      TRY(end_phases());
      phase = Done;
      return false;
    }
    case Done: return false;
  }
  return false;
}

Result<void> Book::TakeIn::Work::end_phases() {
  outcome.findings = after->findings;
  outcome.touched = std::move(after->touched);
  // Gaps that this file closed are gone; what stands beside a wrong neighbor stays.
  TRY(
      store.db.run("DELETE FROM gap WHERE EXISTS(SELECT 1 FROM change c JOIN change p ON p.lane=c.lane AND "
                   "p.seq=c.seq-1 AND p.hash=c.prev WHERE c.id=gap.change)"));
  TRY_ASSIGN(const auto& broken, broken_chains(store));
  for (const BrokenChain& chain : broken)
    outcome.broken_chains.push_back(chain.lane.text() + ' ' + std::to_string(chain.seq));
  // Few wait: not by the batch, which may be the whole book.
  auto query = store.db.query("SELECT count(*) FROM change INDEXED BY change_waiting WHERE ready=0 AND batch=?");
  query.bind(1, batch);
  if (query.next()) outcome.waiting = query.integer(0);
  return query.done();
}

Result<Book::TakeIn::Step> Book::TakeIn::step(std::int64_t milliseconds) {
  using Steady = std::chrono::steady_clock;
  const auto until = Steady::now() + std::chrono::milliseconds(milliseconds);
  do {
    for (int i = 0; i < kStepsBetweenLooks; ++i) {
      TRY_ASSIGN(const bool more, work_->phase_step());
      if (!more) return Step{true, 1};
    }
  } while (Steady::now() < until);
  return Step{false, work_->share()};
}

Result<Book::TakeIn::Outcome> Book::TakeIn::finish() {
  Work& work = *work_;
  if (work.phase != Work::Done) return refuse(Trouble::Conflict, "book.busy"_w);
  Store& store = work.store;
  // A file without a line makes nobody's book of an empty one.
  if (work.outcome.lines == 0 && store.book->change_count() == 0) {
    work.scope.reset();
    return work.outcome;
  }
  store.clock = std::max(store.clock, work.clock);
  if (work.outcome.twin) {
    TRY(retire_lanes(store));
    TRY(note_befell(store, Befell::Continued));
  }
  // Whoever takes is a copy with an id of its own, also before it has written anything: only so can a
  // file that it gives say 'confirmed by Office'.
  TRY(own_lane(store, Part{}));
  if (work.batch != 0) {
    auto query = store.db.query("UPDATE batch SET changes=? WHERE id=?");
    query.bind(1, work.outcome.added).bind(2, work.batch);
    TRY(query.run());
  }
  auto log = store.db.query(
      "INSERT INTO import_log(batch, file, hash, sender, at, lines, added, waiting) VALUES(?,?,?,?,?,?,?,?)");
  if (work.batch != 0) log.bind(1, work.batch);
  log.bind(2, work.origin.file_name).bind_bytes(3, work.origin.file_hash).bind(4, work.origin.label);
  log.bind(5, work.now.ms).bind(6, work.outcome.lines).bind(7, work.outcome.added).bind(8, work.outcome.waiting);
  TRY(log.run());
  // The giver went by a lane of ours: a twin, or this copy before it was restored. What it has it cannot confirm.
  const auto giver = store.lanes.find(work.origin.copy);
  const bool ours = giver != store.lanes.end() && giver->second.ours;
  if (work.origin.acknowledges && !work.origin.copy.is_nil() && !ours)
    TRY(keep_peer(store, {work.origin.copy, work.origin.label, work.now, {}, work.origin.tips}));
  TRY(work.scope->commit());
  work.scope.reset();
  return work.outcome;
}

}  // namespace steep
