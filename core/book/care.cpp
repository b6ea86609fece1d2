// Rebuilding what is derived, and checking what is true.
#include <algorithm>

#include "book/digest.h"
#include "book/fold.h"
#include "book/store.h"

namespace steep {
namespace {

/// Every body against its hash and its predecessor's: a line edited by hand is named.
Result<std::vector<std::string>> wrong_lines(const Store& store) {
  std::vector<std::string> wrong;
  auto query = store.db.query(
      "SELECT l.uid, c.seq, c.prev, c.hash, c.body FROM change c JOIN lane l ON l.id=c.lane ORDER BY c.lane, c.seq, "
      "c.hash");
  while (query.next()) {
    const Hash prev = query.hash(2);
    const Id lane = query.id(0);
    const bool sound = query.hash(3) == chain_next(prev, query.text_view(4)) && read_change(query.text_view(4)) &&
                       (query.integer(1) > 1 || prev == chain_start(lane));
    if (!sound) wrong.push_back(lane.text() + " at " + std::to_string(query.integer(1)));
  }
  TRY(query.done());
  return wrong;
}

/// Breaks among all lines, not only those noticed when they came.
Result<std::vector<std::string>> breaks(const Store& store) {
  std::vector<std::string> found;
  auto query = store.db.query(
      "SELECT l.uid, c.seq FROM change c JOIN lane l ON l.id=c.lane WHERE c.seq>1 "
      "AND NOT EXISTS(SELECT 1 FROM change p WHERE p.lane=c.lane AND p.seq=c.seq-1 AND p.hash=c.prev) "
      "AND (l.ours=1 OR EXISTS(SELECT 1 FROM change p WHERE p.lane=c.lane AND p.seq=c.seq-1)) ORDER BY c.lane, c.seq");
  while (query.next()) found.push_back(query.id(0).text() + " at " + std::to_string(query.integer(1)));
  TRY(query.done());
  return found;
}

/// The digest of the whole journal, folded in memory.
Result<Hash> folded_digest(const Store& store) {
  Hash sum{};
  auto query = store.db.query(
      "SELECT r.id, r.uid, p.text, c.id, c.hash, c.batch, c.body FROM change c JOIN record r ON r.id=c.rec "
      "JOIN part p ON p.id=r.part WHERE c.ready=1 ORDER BY c.rec");
  std::vector<FoldLine> lines;
  std::int64_t current = 0;
  Id record;
  Part part;
  const auto add = [&] {
    const bool counts = std::any_of(lines.begin(), lines.end(), [](const FoldLine& line) { return !line.aside; });
    if (!counts) return lines.clear();
    for (const FoldedGroup& group : fold(lines).groups)
      for (std::size_t i = 0; i < group.heads.size(); ++i)
        digest_add(sum, digest_term(part, record, group.key, lines[group.heads[i]].hash, i == 0));
    lines.clear();
  };
  while (query.next()) {
    if (query.integer(0) != current) {
      add();
      current = query.integer(0);
      record = query.id(1);
      part = Part::parse(query.text_view(2)).value_or(Part{});
    }
    const bool aside = !query.is_null(5) && store.aside.count(query.integer(5)) > 0;
    if (auto change = read_change(query.text_view(6)))
      lines.push_back({query.integer(3), query.hash(4), std::move(*change), aside});
  }
  TRY(query.done());
  add();
  return sum;
}

}  // namespace

Result<void> Book::rebuild() {
  TRY_ASSIGN(auto scope, WriteScope::begin(*inside_));
  TRY(fold_all(*inside_));
  return scope.commit();
}

Result<Book::Health> Book::check() const {
  const Store& store = *inside_;
  Health health;
  auto counts = store.db.query("SELECT count(*), coalesce(sum(ready=0), 0) FROM change");
  if (counts.next()) {
    health.changes = counts.integer(0);
    health.waiting = counts.integer(1);
  }
  TRY(counts.done());
  auto integrity = store.db.query("PRAGMA integrity_check(1)");
  if (integrity.next()) health.sqlite = integrity.text(0);
  TRY(integrity.done());
  TRY_ASSIGN(health.broken_chains, wrong_lines(store));
  TRY_ASSIGN(const auto& broken, breaks(store));
  health.broken_chains.insert(health.broken_chains.end(), broken.begin(), broken.end());
  std::sort(health.broken_chains.begin(), health.broken_chains.end());
  health.broken_chains.erase(std::unique(health.broken_chains.begin(), health.broken_chains.end()),
                             health.broken_chains.end());
  TRY_ASSIGN(const Hash& folded, folded_digest(store));
  health.tables_match = folded == store.digest;
  return health;
}

}  // namespace steep
