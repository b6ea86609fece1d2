#include "book/fresh_lines.h"

#include <algorithm>
#include <bitset>

namespace steep {

std::uint32_t FreshLines::number_of(const Id& lane) {
  const auto [place, is_new] = numbers_.try_emplace(lane, static_cast<std::uint32_t>(runs_.size()));
  if (is_new) runs_.emplace_back();
  return place->second;
}

void FreshLines::lane(const Id& lane) {
  end_act(false);
  lane_ = number_of(lane);
}

Result<Presence> FreshLines::find(const ChangeRef& ref) {
  if (const auto number = numbers_.find(ref.lane); number != numbers_.end())
    if (const Run& run = runs_[number->second]; run.has(ref.seq, ref.tag))
      return run.is_counting(ref.seq) ? Presence::Ready : Presence::Waiting;
  return presence(store_, ref);
}

Result<bool> FreshLines::add(const Change& change, const Hash& prev, const Hash& hash) {
  if (in_act_ && change.act != act_.seq) end_act(false);
  if (!append(change.seq, prev, hash)) {
    end_act(false);
    return false;
  }
  if (!in_act_ && change.act == change.seq) {
    in_act_ = true;
    act_ = Act{lane_, 0, 0, static_cast<std::uint32_t>(records_.size()), change.seq};
  }
  if (!in_act_) return false;  // Its act began where we cannot see it.
  ++act_.lines;
  ends_ = change.act_ends;
  for (const ChangeRef& ref : change.seen) {
    const bool within =
        ref.lane == change.lane && ref.seq >= act_.seq && ref.seq < change.seq && runs_[lane_].has(ref.seq, ref.tag);
    if (within) continue;
    TRY_ASSIGN(const Presence& there, find(ref));
    if (there == Presence::Ready) continue;
    lacks_[{number_of(ref.lane), ref.seq / kStretch}].push_back(
        {static_cast<std::uint32_t>(ref.seq % kStretch), ref.tag, static_cast<std::uint32_t>(open_.size())});
    ++act_.lacks;
  }
  return true;
}

/// Does the line follow the run of its lane? Then it is now its last.
bool FreshLines::append(std::int64_t seq, const Hash& prev, const Hash& hash) {
  Run& run = runs_[lane_];
  if (run.tags.empty())
    run.first = seq;
  else if (seq != run.end() || prev != run.last)
    return false;
  run.last = hash;
  run.tags.push_back(tag_of(hash));
  run.counts.push_back(false);
  return true;
}

void FreshLines::written(std::int64_t row, std::int64_t record) {
  if (first_row_ == 0) first_row_ = row;
  records_.push_back(in_act_ ? record : 0);
  if (in_act_ && ends_) end_act(true);
}

/// The act being read is complete, or will never be.
void FreshLines::end_act(bool whole) {
  if (!in_act_) return;
  in_act_ = false;
  if (whole && act_.lacks == 0) {
    runs_[act_.lane].count(act_.seq, act_.lines);
    return;
  }
  if (!whole) act_.lacks = kForGood;
  if (act_.line < records_.size()) open_.push_back(act_);
}

void FreshLines::begin_settling() {
  end_act(false);
  unsorted_ = lacks_.begin();
}

bool FreshLines::settle_next() {
  if (unsorted_ != lacks_.end()) {
    sort_lacks(unsorted_->first, unsorted_->second);
    ++unsorted_;
    return true;
  }
  if (free_.empty()) return false;
  const Act act = open_[free_.back()];
  free_.pop_back();
  prove(act);
  return true;
}

/// By line, and what was proven since they were noted is lacked no more.
void FreshLines::sort_lacks(const Stretch& stretch, std::vector<Lack>& lacks) {
  std::sort(lacks.begin(), lacks.end(), [](const Lack& a, const Lack& b) { return a.place < b.place; });
  const Run& run = runs_[stretch.first];
  for (const Lack& lack : lacks) {
    const std::int64_t seq = stretch.second * kStretch + lack.place;
    if (run.has(seq, lack.tag) && run.is_counting(seq)) meet(lack);
  }
}

void FreshLines::meet(const Lack& lack) {
  if (--open_[lack.act].lacks == 0) free_.push_back(lack.act);
}

/// It counts, and with it what lacked nothing else.
void FreshLines::prove(const Act& act) {
  Run& run = runs_[act.lane];
  run.count(act.seq, act.lines);
  const std::int64_t end = act.seq + act.lines;
  auto found = lacks_.lower_bound({act.lane, act.seq / kStretch});
  for (; found != lacks_.end() && found->first <= Stretch{act.lane, (end - 1) / kStretch}; ++found) {
    const std::int64_t begin = found->first.second * kStretch;
    const auto before = [&](const Lack& lack, std::int64_t seq) { return begin + lack.place < seq; };
    const std::vector<Lack>& lacks = found->second;
    auto lack = std::lower_bound(lacks.begin(), lacks.end(), act.seq, before);
    for (; lack != lacks.end() && begin + lack->place < end; ++lack)
      if (run.has(begin + lack->place, lack->tag)) meet(*lack);
  }
}

std::optional<FreshLines::Rows> FreshLines::next_waiting() {
  while (next_waiting_ < open_.size() && open_[next_waiting_].lacks == 0) ++next_waiting_;
  if (next_waiting_ == open_.size()) return std::nullopt;
  const Act& act = open_[next_waiting_++];
  std::fill_n(records_.begin() + act.line, act.lines, 0);
  return Rows{first_row_ + act.line, first_row_ + act.line + act.lines - 1};
}

/// Each marked in its block and read off in order: many lines are of one record, and rows of records lie close together.
std::vector<std::int64_t> FreshLines::records() {
  constexpr std::int64_t kBlock = 1024;
  std::map<std::int64_t, std::bitset<kBlock>> blocks;
  for (const std::int64_t record : records_)
    if (record != 0) blocks[record / kBlock].set(static_cast<std::size_t>(record % kBlock));
  std::vector<std::int64_t> records;
  for (const auto& [block, met] : blocks)
    for (std::int64_t i = 0; i < kBlock; ++i)
      if (met.test(static_cast<std::size_t>(i))) records.push_back(block * kBlock + i);
  records.shrink_to_fit();
  return records;
}

}  // namespace steep
