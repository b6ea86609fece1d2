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
  const auto address = [](const Lack& lack) { return std::tie(lack.lane, lack.seq); };
  std::sort(lacks_.begin(), lacks_.end(), [&](const Lack& a, const Lack& b) { return address(a) < address(b); });
  for (const Lack& lack : lacks_)
    if (const Run& run = runs_[lack.lane]; run.has(lack.seq, lack.tag) && run.is_counting(lack.seq))
      --open_[lack.act].lacks;
  for (std::uint32_t i = 0; i < open_.size(); ++i)
    if (open_[i].lacks == 0) free_.push_back(i);
}

bool FreshLines::settle_next() {
  if (free_.empty()) return false;
  const Act act = open_[free_.back()];
  free_.pop_back();
  prove(act);
  return true;
}

std::vector<FreshLines::Rows> FreshLines::waiting() {
  std::vector<Rows> waiting;
  for (const Act& act : open_) {
    if (act.lacks == 0) continue;
    waiting.push_back({first_row_ + act.line, first_row_ + act.line + act.lines - 1});
    std::fill_n(records_.begin() + act.line, act.lines, 0);
  }
  open_ = {};
  lacks_ = {};
  return waiting;
}

std::vector<std::int64_t> FreshLines::records() {
  std::vector<std::int64_t> records(records_.begin(), records_.end());
  records_ = {};
  std::sort(records.begin(), records.end());
  records.erase(std::unique(records.begin(), records.end()), records.end());
  if (!records.empty() && records.front() == 0) records.erase(records.begin());
  records.shrink_to_fit();
  return records;
}

/// It counts, and with it what lacked nothing else.
void FreshLines::prove(const Act& act) {
  Run& run = runs_[act.lane];
  run.count(act.seq, act.lines);
  const auto before = [&](const Lack& lack, std::int64_t seq) {
    return std::tie(lack.lane, lack.seq) < std::tie(act.lane, seq);
  };
  auto lack = std::lower_bound(lacks_.begin(), lacks_.end(), act.seq, before);
  for (; lack != lacks_.end() && lack->lane == act.lane && lack->seq < act.seq + act.lines; ++lack)
    if (run.has(lack->seq, lack->tag) && --open_[lack->act].lacks == 0) free_.push_back(lack->act);
}

}  // namespace steep
