#include "book/ready.h"

namespace steep {

struct Readying::Line {
  std::int64_t row = 0, lane = 0, seq = 0, act = 0, record = 0;
  bool ready = false;
  Hash prev{}, hash{};
  std::vector<ChangeRef> seen;
};

namespace {

constexpr std::string_view kLineColumns = "SELECT id, lane, seq, act, rec, ready, prev, hash, body FROM change ";

template <class Line>
bool read_line(Query& query, Line& line) {
  if (!query.next()) return false;
  line.row = query.integer(0);
  line.lane = query.integer(1);
  line.seq = query.integer(2);
  line.act = query.integer(3);
  line.record = query.integer(4);
  line.ready = query.integer(5) != 0;
  line.prev = query.hash(6);
  line.hash = query.hash(7);
  const auto change = read_change(query.text_view(8));
  if (!change) return false;
  line.seen = change->seen;
  return true;
}

}  // namespace

Result<void> Readying::begin() {
  auto query = store_.db.query("SELECT id FROM change WHERE ready=0 AND ends=1 ORDER BY t, c, id");
  while (query.next()) ends_.push_back(query.integer(0));
  return query.done();
}

Result<bool> Readying::step() {
  if (!again_.empty()) {
    const std::int64_t end = again_.back();
    again_.pop_back();
    TRY(try_act(end));
    return true;
  }
  if (next_ == ends_.size()) return false;
  TRY(try_act(ends_[next_++]));
  return true;
}

Result<void> Readying::try_act(std::int64_t end) {
  std::vector<Line> act;
  TRY_ASSIGN(const bool whole, collect(end, act));
  if (!whole) return {};
  TRY_ASSIGN(const bool ready, may_count(end, act));
  return ready ? mark(act) : Result<void>();
}

/// The lines of the act from its last back to its first, along the chain. False when one is missing.
Result<bool> Readying::collect(std::int64_t end, std::vector<Line>& act) {
  auto last = store_.db.query(std::string(kLineColumns) + "WHERE id=?");
  last.bind(1, end);
  if (!read_line(last, act.emplace_back())) {
    TRY(last.done());
    return false;
  }
  TRY(last.done());
  while (act.back().seq > act.back().act) {
    auto query = store_.db.query(std::string(kLineColumns) + "WHERE lane=? AND seq=? AND hash=?");
    query.bind(1, act.back().lane).bind(2, act.back().seq - 1).bind_bytes(3, act.back().prev);
    Line line;
    const bool found = read_line(query, line);
    TRY(query.done());
    if (!found || line.act != act.back().act) return false;
    act.push_back(std::move(line));
  }
  return true;
}

Result<bool> Readying::may_count(std::int64_t end, const std::vector<Line>& act) {
  const LaneRow* lane = store_.lane_of_row(act.front().lane);
  for (const Line& line : act) {
    for (const ChangeRef& ref : line.seen) {
      const bool inside = lane != nullptr && ref.lane == lane->id && ref.seq >= act.back().seq && ref.seq < line.seq &&
                          tag_of(act[static_cast<std::size_t>(act.front().seq - ref.seq)].hash) == ref.tag;
      if (inside) continue;
      TRY_ASSIGN(const Presence& there, presence(store_, ref));
      if (there == Presence::Ready) continue;
      if (there == Presence::Waiting) blocked_.emplace(Address{store_.lanes[ref.lane].row, ref.seq}, end);
      return false;
    }
  }
  return true;
}

Result<void> Readying::mark(const std::vector<Line>& act) {
  for (const Line& line : act) {
    if (!line.ready) {
      auto query = store_.db.query("UPDATE change SET ready=1 WHERE id=?");
      query.bind(1, line.row);
      TRY(query.run());
      records_.push_back(line.record);
    }
    const auto [from, to] = blocked_.equal_range({line.lane, line.seq});
    for (auto it = from; it != to; ++it) again_.push_back(it->second);
    blocked_.erase(from, to);
  }
  return {};
}

}  // namespace steep
