#include "book/lane_tips.h"

#include <set>

#include "book/places.h"

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

std::vector<std::string> tip_codes(const Book& book) {
  std::vector<std::string> codes;
  for (const Lane& lane : book.lanes()) {
    if (lane.last_seq == 0) continue;
    std::string part = lane.part.text();
    if (!lane.part.farm.is_nil())
      if (const auto farm = read_farm(book, lane.part.farm)) part = farm->name + part.substr(part.find('/'));
    codes.push_back((lane.mine ? book.copy_label() : lane.label) + ' ' + part + ' ' + std::to_string(lane.last_seq) +
                    ' ' + hex(lane.tip).substr(0, 8));
  }
  return codes;
}

Result<std::optional<std::string>> find_tip(const Book& book, std::int64_t seq, std::uint32_t tag) {
  for (const Lane& lane : book.lanes()) {
    bool found = false;
    TRY(book.each_line(lane.id, seq, [&](const Book::Line& line) {
      found = found || (line.seq == seq && tag_of(line.hash) == tag);
      return line.seq == seq && !found;
    }));
    if (found) return std::optional((lane.mine ? book.copy_label() : lane.label) + ' ' + lane.part.text());
  }
  return std::optional<std::string>();
}

}  // namespace steep
