#include "book/lane_tips.h"

#include <set>

namespace steep {
namespace {

Result<bool> has_gap(const Book& book, const Lane& lane) {
  auto query = book.db().query("SELECT 1 FROM gap g JOIN change c ON c.id=g.change WHERE c.lane=? LIMIT 1");
  query.bind(1, lane.row);
  const bool found = query.next();
  TRY(query.done());
  return found;
}

}  // namespace

Result<std::optional<ChangeRef>> unbroken_tip(const Book& book, const Lane& lane) {
  if (lane.last_seq == 0) return std::optional<ChangeRef>();
  TRY_ASSIGN(const bool broken, has_gap(book, lane));
  if (!broken) return std::optional(ref_of(lane.id, lane.last_seq, lane.tip));
  std::optional<ChangeRef> tip;
  std::set<Hash> before = {chain_start(lane.id)}, here;  // Lines of the sequence before, and of this one.
  std::int64_t seq = 1;
  TRY(book.each_line(lane.id, 1, [&](const Book::Line& line) {
    if (line.seq != seq) {
      before = std::move(here);
      here.clear();
      if (line.seq != ++seq) return false;
    }
    if (before.count(line.prev) > 0) {
      here.insert(line.hash);
      tip = ref_of(lane.id, line.seq, line.hash);
    }
    return true;
  }));
  return tip;
}

}  // namespace steep
