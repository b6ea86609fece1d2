// Rows of the journal.
#include <algorithm>

#include "book/store.h"

namespace steep {

Result<void> insert_change(Store& store, const JournalRow& row, const Change& change, std::string_view body) {
  auto query = store.db.query(
      "INSERT INTO change(hash, prev, lane, seq, rec, t, c, wall, act, ends, ready, batch, body) "
      "VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?)");
  query.bind_bytes(1, row.hash).bind_bytes(2, row.prev).bind(3, row.lane).bind(4, row.seq).bind(5, row.record);
  query.bind(6, change.t).bind(7, change.c).bind(8, change.wall).bind(9, change.act);
  query.bind(10, std::int64_t{change.act_ends}).bind(11, std::int64_t{row.ready});
  if (row.batch == 0)
    query.bind_null(12);
  else
    query.bind(12, row.batch);
  query.bind(13, body);
  return query.run();
}

Result<std::int64_t> line_row(const Store& store, std::int64_t lane, std::int64_t seq, const Hash& hash) {
  auto query = store.db.query("SELECT id FROM change WHERE lane=? AND seq=? AND hash=?");
  query.bind(1, lane).bind(2, seq).bind_bytes(3, hash);
  const std::int64_t row = query.next() ? query.integer(0) : 0;
  TRY(query.done());
  return row;
}

Result<bool> is_aside(const Store& store, std::int64_t row) {
  if (store.aside.empty()) return false;
  auto query = store.db.query("SELECT batch FROM change WHERE id=?");
  query.bind(1, row);
  const bool aside = query.next() && !query.is_null(0) && store.aside.count(query.integer(0)) > 0;
  TRY(query.done());
  return aside;
}

Result<Presence> presence(Store& store, const ChangeRef& ref) {
  const auto lane = store.lanes.find(ref.lane);
  if (lane == store.lanes.end() || ref.seq > lane->second.last_seq) return Presence::Absent;
  auto query = store.db.query("SELECT hash, ready FROM change WHERE lane=? AND seq=?");
  query.bind(1, lane->second.row).bind(2, ref.seq);
  Presence best = Presence::Absent;
  while (query.next()) {
    if (tag_of(query.hash(0)) == ref.tag)
      best = std::max(best, query.integer(1) != 0 ? Presence::Ready : Presence::Waiting);
  }
  TRY(query.done());
  return best;
}

Result<std::vector<BrokenChain>> broken_chains(const Store& store) {
  std::vector<BrokenChain> broken;
  // From the few gaps outwards: left to itself, SQLite walks through the whole journal.
  auto query = store.db.query(
      "SELECT l.uid, r.uid, c.seq, c.wall, l.label FROM gap g CROSS JOIN change c ON c.id=g.change "
      "JOIN lane l ON l.id=c.lane JOIN record r ON r.id=c.rec "
      "WHERE NOT EXISTS(SELECT 1 FROM change p WHERE p.lane=c.lane AND p.seq=c.seq-1 AND p.hash=c.prev) "
      "AND EXISTS(SELECT 1 FROM change p WHERE p.lane=c.lane AND p.seq=c.seq-1) ORDER BY l.uid, c.seq");
  while (query.next()) broken.push_back({query.id(0), query.id(1), query.integer(2), query.integer(3), query.text(4)});
  TRY(query.done());
  return broken;
}

}  // namespace steep
