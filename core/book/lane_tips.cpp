#include "book/lane_tips.h"

#include <map>

#include "book/places.h"

namespace steep {
namespace {

/// Neither a gap nor a fork: as many lines as its last one counts.
Result<bool> is_plain(const Book& book, const Lane& lane) {
  auto gaps = book.db().query("SELECT 1 FROM gap g JOIN change c ON c.id=g.change WHERE c.lane=? LIMIT 1");
  gaps.bind(1, lane.row);
  const bool broken = gaps.next();
  TRY(gaps.done());
  if (broken) return false;
  auto lines = book.db().query("SELECT count(*) FROM change WHERE lane=?");
  lines.bind(1, lane.row);
  const bool one_each = lines.next() && lines.integer(0) == lane.last_seq;
  TRY(lines.done());
  return one_each;
}

}  // namespace

Result<std::vector<ChangeRef>> unbroken_tips(const Book& book, const Lane& lane) {
  if (lane.last_seq == 0) return std::vector<ChangeRef>();
  TRY_ASSIGN(const bool plain, is_plain(book, lane));
  if (plain) return std::vector{ref_of(lane.id, lane.last_seq, lane.tip)};
  std::vector<ChangeRef> tips;
  std::map<Hash, bool> before = {{chain_start(lane.id), true}}, here;  // Lines of one sequence → is one built on it?
  std::int64_t seq = 0;
  const auto close = [&] {
    for (const auto& [hash, followed] : before)
      if (!followed) tips.push_back(ref_of(lane.id, seq, hash));
    before = std::move(here);
    here.clear();
    ++seq;
  };
  TRY(book.each_line(lane.id, 1, [&](const Book::Line& line) {
    if (line.seq > seq + 1) close();
    if (line.seq > seq + 1) return false;
    if (const auto found = before.find(line.prev); found != before.end()) {
      found->second = true;
      here.emplace(line.hash, false);
    }
    return true;
  }));
  close();
  close();
  return tips;
}

std::vector<std::string> tip_codes(const Book& book) {
  std::vector<std::string> codes;
  for (const Lane& lane : book.lanes()) {
    if (lane.last_seq == 0) continue;
    std::string part = lane.part.text();
    if (!lane.part.farm.is_nil())
      if (const auto farm = read_farm(book, lane.part.farm)) part = farm->name + part.substr(part.find('/'));
    codes.push_back(lane.label + ' ' + part + ' ' + std::to_string(lane.last_seq) + ' ' + hex(lane.tip).substr(0, 8));
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
    if (found) return std::optional(lane.label + ' ' + lane.part.text());
  }
  return std::optional<std::string>();
}

}  // namespace steep
