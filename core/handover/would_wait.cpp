#include "handover/would_wait.h"

#include <algorithm>

namespace steep {

void WouldWait::put(const Change& change, const Hash& prev, const Hash& hash, bool fresh) {
  const ChangeRef ref = ref_of(change.lane, change.seq, hash);
  at_.emplace(std::pair(ref.lane, ref.seq), lines_.size());
  lines_.push_back({ref, change.act, change.act_ends, fresh, tag_of(prev), change.seen, lines_.size()});
}

void WouldWait::add(const Change& change, const Hash& prev, const Hash& hash) { put(change, prev, hash, true); }

std::optional<std::size_t> WouldWait::find(const ChangeRef& ref) const {
  const auto [from, to] = at_.equal_range({ref.lane, ref.seq});
  for (auto one = from; one != to; ++one)
    if (lines_[one->second].ref == ref) return one->second;
  return std::nullopt;
}

/// The line of the same act that it follows: of branches of a lane the one that its chain hangs on.
std::optional<std::size_t> WouldWait::before(const Line& line) const {
  const auto place = find({line.ref.lane, line.ref.seq - 1, line.prev});
  return place && lines_[*place].act == line.act ? place : std::nullopt;
}

void WouldWait::gather_acts() {
  units_.resize(lines_.size());
  std::vector<std::size_t> in_order(lines_.size());
  for (std::size_t i = 0; i < in_order.size(); ++i) in_order[i] = i;
  std::sort(in_order.begin(), in_order.end(),
            [this](std::size_t a, std::size_t b) { return lines_[a].ref.seq < lines_[b].ref.seq; });
  for (const std::size_t i : in_order) {
    Line& line = lines_[i];
    if (line.ref.seq > line.act)
      if (const auto place = before(line)) line.unit = lines_[*place].unit;
    Unit& unit = units_[line.unit];
    unit.begins = unit.begins || line.ref.seq == line.act;
    unit.ends = unit.ends || line.ends;
  }
}

void WouldWait::gather_sights() {
  for (const Line& line : lines_)
    for (const ChangeRef& ref : line.seen) {
      if (const auto other = find(ref)) {
        const std::size_t unit = lines_[*other].unit;
        if (unit == line.unit) continue;
        ++units_[line.unit].open;
        units_[unit].seen_by.push_back(line.unit);
      } else if (!book_.knows(ref)) {
        units_[line.unit].lacks = true;
      }
    }
}

/// From what lacks nothing to all that builds on it: a unit counts when nothing of what it saw is open.
void WouldWait::settle() {
  const auto is_whole = [](const Unit& unit) { return unit.begins && unit.ends && !unit.lacks; };
  std::vector<std::size_t> free;
  for (std::size_t i = 0; i < units_.size(); ++i)
    if (lines_[i].unit == i && is_whole(units_[i]) && units_[i].open == 0) free.push_back(i);
  while (!free.empty()) {
    const std::size_t unit = free.back();
    free.pop_back();
    for (const std::size_t other : units_[unit].seen_by)
      if (--units_[other].open == 0 && is_whole(units_[other])) free.push_back(other);
  }
}

Result<std::int64_t> WouldWait::count() {
  TRY_ASSIGN(const std::vector<HistoryLine>& waiting, book_.waiting());
  for (const HistoryLine& line : waiting) put(line.change, line.prev, line.hash, false);
  gather_acts();
  gather_sights();
  settle();
  return std::count_if(lines_.begin(), lines_.end(), [this](const Line& line) {
    const Unit& unit = units_[line.unit];
    return line.fresh && (!unit.begins || !unit.ends || unit.lacks || unit.open > 0);
  });
}

}  // namespace steep
