#include "book/fresh_lines.h"

#include <algorithm>
#include <tuple>

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
    act_ = Act{lane_, 0, 0, open_records_.size(), change.seq, 0};
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
    lacks_.push_back({ref.seq, number_of(ref.lane), ref.tag, static_cast<std::uint32_t>(open_.size())});
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
  if (!in_act_) return;
  if (act_.row == 0) act_.row = row;
  open_records_.push_back(record);
  if (ends_) end_act(true);
}

/// The act being read is complete, or will never be.
void FreshLines::end_act(bool whole) {
  if (!in_act_) return;
  in_act_ = false;
  if (whole && act_.lacks == 0) {
    runs_[act_.lane].count(act_.seq, act_.lines);
    const auto begin = open_records_.begin() + static_cast<std::ptrdiff_t>(act_.records);
    records_.insert(records_.end(), begin, open_records_.end());
    open_records_.erase(begin, open_records_.end());
    return;
  }
  if (!whole) act_.lacks = kForGood;
  if (act_.row != 0) open_.push_back(act_);
}

std::vector<FreshLines::Rows> FreshLines::settle() {
  end_act(false);
  const auto address = [](const Lack& lack) { return std::tie(lack.lane, lack.seq); };
  std::sort(lacks_.begin(), lacks_.end(), [&](const Lack& a, const Lack& b) { return address(a) < address(b); });
  for (const Lack& lack : lacks_)
    if (const Run& run = runs_[lack.lane]; run.has(lack.seq, lack.tag) && run.is_counting(lack.seq))
      --open_[lack.act].lacks;
  std::vector<std::uint32_t> free;
  for (std::uint32_t i = 0; i < open_.size(); ++i)
    if (open_[i].lacks == 0) free.push_back(i);
  while (!free.empty()) {
    const Act act = open_[free.back()];
    free.pop_back();
    prove(act, free);
  }
  std::vector<Rows> waiting;
  for (const Act& act : open_)
    if (act.lacks != 0) waiting.push_back({act.row, act.row + act.lines - 1});
  open_.clear();
  lacks_.clear();
  return waiting;
}

/// It counts, and with it what lacked nothing else.
void FreshLines::prove(const Act& act, std::vector<std::uint32_t>& free) {
  Run& run = runs_[act.lane];
  run.count(act.seq, act.lines);
  const auto begin = open_records_.begin() + static_cast<std::ptrdiff_t>(act.records);
  records_.insert(records_.end(), begin, begin + act.lines);
  const auto before = [&](const Lack& lack, std::int64_t seq) {
    return std::tie(lack.lane, lack.seq) < std::tie(act.lane, seq);
  };
  auto lack = std::lower_bound(lacks_.begin(), lacks_.end(), act.seq, before);
  for (; lack != lacks_.end() && lack->lane == act.lane && lack->seq < act.seq + act.lines; ++lack)
    if (run.has(lack->seq, lack->tag) && --open_[lack->act].lacks == 0) free.push_back(lack->act);
}

}  // namespace steep
