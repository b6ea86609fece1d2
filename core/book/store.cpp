#include "book/store.h"

#include <algorithm>

#include "base/text.h"

namespace steep {
namespace {

Result<std::int64_t> data_version(const Database& db) {
  auto query = db.query("PRAGMA data_version");
  const std::int64_t version = query.next() ? query.integer(0) : 0;
  TRY(query.done());
  return version;
}

}  // namespace

std::string join_items(const std::vector<std::string>& items) { return join(items, "\x1F"); }
std::vector<std::string> split_items(std::string_view joined) {
  std::vector<std::string> items;
  if (!joined.empty())
    for (const std::string_view item : split(joined, '\x1F')) items.emplace_back(item);
  return items;
}

namespace {

/// The book's row, and the ids that it goes by: its own first.
Result<void> load_book(Store& store) {
  auto row = store.db.query("SELECT id, name, demo, clock, digest FROM book");
  if (row.next()) {
    store.id = row.id(0);
    store.name = row.text(1);
    store.demo = row.integer(2) != 0;
    store.clock = row.integer(3);
    store.digest = row.hash(4);
  }
  TRY(row.done());
  store.joined.clear();
  auto others = store.db.query("SELECT id FROM joined ORDER BY id");
  while (others.next()) store.joined.push_back(others.id(0));
  TRY(others.done());
  const Id own = store.id;
  if (!own.is_nil() && std::find(store.joined.begin(), store.joined.end(), own) == store.joined.end())
    store.joined.push_back(own);
  std::stable_partition(store.joined.begin(), store.joined.end(), [&own](const Id& other) { return other == own; });
  return {};
}

/// Parts, groups of fields, and the files that are set aside.
Result<void> load_names(Store& store) {
  store.part_rows.clear();
  store.parts.clear();
  auto all_parts = store.db.query("SELECT id, text FROM part");
  while (all_parts.next()) {
    const Part part = Part::parse(all_parts.text_view(1)).value_or(Part{});
    store.part_rows[part] = all_parts.integer(0);
    store.parts[all_parts.integer(0)] = part;
  }
  TRY(all_parts.done());

  store.group_rows.clear();
  store.group_keys.clear();
  auto groups = store.db.query("SELECT id, key FROM grp");
  while (groups.next()) {
    store.group_rows[groups.text(1)] = groups.integer(0);
    store.group_keys[groups.integer(0)] = groups.text(1);
  }
  TRY(groups.done());

  store.aside.clear();
  auto batches = store.db.query("SELECT id FROM batch WHERE aside=1");
  while (batches.next()) store.aside.insert(batches.integer(0));
  return batches.done();
}

Result<void> load_lanes(Store& store) {
  store.lanes.clear();
  store.lane_ids.clear();
  auto query =
      store.db.query("SELECT id, uid, part, label, copy, mine, ours, last_seq, tip, told, given, confirmed FROM lane");
  while (query.next()) {
    LaneRow lane;
    lane.row = query.integer(0);
    lane.id = query.id(1);
    lane.part_row = query.integer(2);
    lane.part = store.parts[lane.part_row];
    lane.label = query.text(3);
    lane.copy = query.id(4);
    lane.mine = query.integer(5) != 0;
    lane.ours = query.integer(6) != 0;
    lane.last_seq = query.integer(7);
    lane.tip = query.hash(8);
    lane.told = query.integer(9);
    lane.given = query.integer(10);
    lane.confirmed = query.integer(11);
    store.lane_ids[lane.row] = lane.id;
    store.lanes[lane.id] = std::move(lane);
  }
  return query.done();
}

}  // namespace

Result<void> Store::load() {
  // All as of one moment, its version too: another program may write between two queries, and what was read before that
  // would count as read after it.
  const Snapshot snapshot(db);
  kept.clear();
  TRY(load_book(*this));
  TRY(load_names(*this));
  TRY(load_lanes(*this));
  TRY_ASSIGN(data_version, steep::data_version(db));
  return {};
}

Result<void> Store::save_row() {
  auto query = db.query("UPDATE book SET id=?, name=?, demo=?, clock=?, digest=?");
  if (id.is_nil())
    query.bind_null(1);
  else
    query.bind(1, id);
  query.bind(2, name).bind(3, std::int64_t{demo}).bind(4, clock).bind_bytes(5, digest);
  return query.run();
}

Result<std::int64_t> Store::part_row(const Part& part) {
  if (const auto found = part_rows.find(part); found != part_rows.end()) return found->second;
  auto query = db.query("INSERT INTO part(text) VALUES(?)");
  query.bind(1, part.text());
  TRY(query.run());
  const std::int64_t row = db.last_id();
  part_rows[part] = row;
  parts[row] = part;
  return row;
}

Result<std::int64_t> Store::group_row(std::string_view key) {
  if (const auto found = group_rows.find(key); found != group_rows.end()) return found->second;
  auto query = db.query("INSERT INTO grp(key) VALUES(?)");
  query.bind(1, key);
  TRY(query.run());
  const std::int64_t row = db.last_id();
  group_rows.emplace(key, row);
  group_keys.emplace(row, key);
  return row;
}

const Part& Store::part_of(std::int64_t row) const {
  const auto [place, is_new] = parts.try_emplace(row);
  if (!is_new) return place->second;
  auto query = db.query("SELECT text FROM part WHERE id=?");
  query.bind(1, row);
  if (query.next()) place->second = Part::parse(query.text_view(0)).value_or(Part{});
  return place->second;
}

const std::string& Store::group_key(std::int64_t row) const {
  const auto [place, is_new] = group_keys.try_emplace(row);
  if (!is_new) return place->second;
  auto query = db.query("SELECT key FROM grp WHERE id=?");
  query.bind(1, row);
  if (query.next()) place->second = query.text(0);
  return place->second;
}

Result<std::int64_t> Store::record_row(std::int64_t part, const Id& record) {
  // Of a large take most are new: one way down the tree instead of two.
  auto insert = db.query("INSERT INTO record(uid, part) VALUES(?,?) ON CONFLICT DO NOTHING");
  insert.bind(1, record).bind(2, part);
  TRY(insert.run());
  if (db.changed()) return db.last_id();
  auto query = db.query("SELECT id FROM record WHERE uid=? AND part=?");
  query.bind(1, record).bind(2, part);
  const std::int64_t row = query.next() ? query.integer(0) : 0;
  TRY(query.done());
  return row;
}

Result<void> Store::save_lane(const LaneRow& lane) {
  auto query = db.query(
      "INSERT OR REPLACE INTO lane(id, uid, part, label, copy, mine, ours, last_seq, tip, told, given, confirmed) "
      "VALUES(?,?,?,?,?,?,?,?,?,?,?,?)");
  query.bind(1, lane.row).bind(2, lane.id).bind(3, lane.part_row).bind(4, lane.label);
  if (lane.copy.is_nil())
    query.bind_null(5);
  else
    query.bind(5, lane.copy);
  query.bind(6, std::int64_t{lane.mine}).bind(7, std::int64_t{lane.ours}).bind(8, lane.last_seq);
  query.bind_bytes(9, lane.tip).bind(10, lane.told).bind(11, lane.given).bind(12, lane.confirmed);
  return query.run();
}

void Store::let_go(std::string_view kind) {
  std::erase_if(
      kept, [&](const Kept& one) { return std::find(one.kinds.begin(), one.kinds.end(), kind) != one.kinds.end(); });
}

LaneRow* Store::lane_of_row(std::int64_t row) {
  const auto id_found = lane_ids.find(row);
  if (id_found == lane_ids.end()) return nullptr;
  const auto lane = lanes.find(id_found->second);
  return lane == lanes.end() ? nullptr : &lane->second;
}

Result<WriteScope> WriteScope::begin(Store& store) {
  if (store.taking) return refuse(Trouble::Conflict, "book.busy"_w);
  TRY_ASSIGN(auto transaction, Transaction::begin(store.db));
  TRY_ASSIGN(const auto& version, data_version(store.db));
  if (version != store.data_version) {  // Another program wrote since: what was remembered is old.
    TRY(store.load());
    ++store.counter;
  }
  return WriteScope(store, std::move(transaction));
}

WriteScope::~WriteScope() {
  if (!transaction_) return;
  transaction_.reset();  // Rolls back …
  (void)store_->load();  // … and forgets ids that were given in it.
  if (anchored_) write_anchor(*store_);
}

Result<void> WriteScope::commit() {
  TRY(store_->save_row());
  // Nobody else writes just now, so whoever looks where only one may write never sees lanes without their anchor.
  if (store_->lanes.size() != lanes_before_) {
    write_anchor(*store_);
    anchored_ = true;
  }
  TRY(transaction_->commit());
  transaction_.reset();
  ++store_->counter;
  if (store_->needs.committed) store_->needs.committed();
  return {};
}

}  // namespace steep
