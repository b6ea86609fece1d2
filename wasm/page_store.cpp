#include "page_store.h"

#include <zlib.h>

#include <algorithm>
#include <cstring>

namespace steep {
namespace {

constexpr std::int64_t kRetry[] = {500, 2000, 8000, 30000};
constexpr std::int64_t kPatience = 10 * kSecond;
constexpr std::int64_t kWarnAfter = 3 * kSecond;
constexpr std::int64_t kIdleBeforeFolding = 2 * kSecond;

/// From so many dirty pages in it a segment is stored whole: one value of 256 KiB costs about as much
/// time as two dozen of 4 KiB (measured in Chromium).
constexpr std::uint32_t kWholeFrom = 24;
/// Rows are slow to load: they are folded into their segments when idle.
constexpr std::uint32_t kFoldFrom = 96;
constexpr std::uint32_t kFoldAtOnce = 16;  ///< Segments; 4 MiB.

std::uint32_t check_sum(const std::uint8_t* page) { return static_cast<std::uint32_t>(crc32(0, page, kPageBytes)); }

std::uint32_t segments_for(std::uint32_t pages) { return (pages + kSegmentPages - 1) / kSegmentPages; }

std::string_view end_name(WriteEnd end) {
  switch (end) {
    case WriteEnd::Done: return "done";
    case WriteEnd::Full: return "full";
    case WriteEnd::Fenced: return "fenced";
    case WriteEnd::Lost: return "lost";
    case WriteEnd::Gone: return "gone";
    case WriteEnd::Failed: break;
  }
  return "failed";
}

}  // namespace

PageStore::PageStore(PageBackend& backend, std::function<Moment()> now, std::function<Moment()> steady)
    : backend_(backend), now_(std::move(now)), steady_(std::move(steady)) {}

// ---- Load ----

void PageStore::begin_load(std::uint64_t generation, std::uint32_t page_count, Moment saved_at, bool writer) {
  generation_ = generation;
  last_saved_ = saved_at;
  elsewhere_ = !writer;
  loaded_ = damaged_ = false;
  pages_.clear();
  segments_.clear();
  resize(page_count);
}

std::uint8_t* PageStore::segment_room(std::uint32_t segment) { return segments_[segment].get(); }

void PageStore::loaded_segment(std::uint32_t segment, std::span<const std::uint32_t> sums) {
  for (std::uint32_t i = 0; i < sums.size() && segment * kSegmentPages + i < pages_.size(); ++i) {
    Page& page = pages_[segment * kSegmentPages + i];
    page.sum = sums[i];
    page.filled = true;
  }
}

void PageStore::loaded_page(std::uint32_t number, std::span<const std::uint8_t> bytes, std::uint32_t sum) {
  if (number >= pages_.size() || bytes.size() != kPageBytes) return;
  std::memcpy(segments_[number / kSegmentPages].get() + number % kSegmentPages * kPageBytes, bytes.data(), kPageBytes);
  Page& row = pages_[number];
  row.sum = sum;
  row.filled = true;
  if (!row.single) ++single_;
  row.single = true;
}

Result<void> PageStore::end_load(std::uint64_t expected) {
  for (std::uint32_t i = 0; i < pages_.size(); ++i) {
    if (!pages_[i].filled || check_sum(page(i)) != pages_[i].sum) {
      damaged_ = true;
      return refuse(Trouble::Damaged, "page.store.damaged"_w, {std::to_string(i)}, "page");
    }
  }
  if (sum() != expected) {
    damaged_ = true;
    return refuse(Trouble::Damaged, "page.store.damaged"_w, {"sum"}, "head");
  }
  loaded_ = true;
  return {};
}

// ---- Memory ----

void PageStore::resize(std::uint32_t count) {
  const bool shorter = count < pages_.size();
  for (std::uint32_t i = count; i < pages_.size(); ++i) {
    set_dirty(pages_[i], false);
    if (pages_[i].writing) --writing_;
    if (pages_[i].single) --single_;
  }
  pages_.resize(count);
  const std::uint32_t wanted = segments_for(count);
  while (segments_.size() < wanted) segments_.push_back(std::make_unique<std::uint8_t[]>(kSegmentBytes));
  segments_.resize(wanted);
  // What was cut off and grows back later must be zero, as in any file; a new segment is.
  if (shorter && count % kSegmentPages != 0) {
    const std::uint32_t used = count % kSegmentPages * kPageBytes;
    std::memset(segments_.back().get() + used, 0, kSegmentBytes - used);
  }
}

void PageStore::set_dirty(Page& page, bool dirty) {
  if (page.dirty == dirty) return;
  page.dirty = dirty;
  if (dirty)
    ++dirty_;
  else
    --dirty_;
}

const std::uint8_t* PageStore::page(std::uint32_t number) const {
  return segments_[number / kSegmentPages].get() + number % kSegmentPages * kPageBytes;
}

bool PageStore::read(std::uint64_t offset, std::span<std::uint8_t> into) const {
  const std::uint64_t size = std::uint64_t{page_count()} * kPageBytes;
  std::size_t done = 0;
  while (done < into.size() && offset + done < size) {
    const std::uint64_t at = offset + done;
    const std::size_t inside = static_cast<std::size_t>(at % kPageBytes);
    const std::size_t part = std::min(into.size() - done, kPageBytes - inside);
    std::memcpy(into.data() + done, page(static_cast<std::uint32_t>(at / kPageBytes)) + inside, part);
    done += part;
  }
  std::fill(into.begin() + static_cast<std::ptrdiff_t>(done), into.end(), std::uint8_t{0});
  return done == into.size();
}

void PageStore::write_page(std::uint32_t number, const std::uint8_t* bytes) {
  // SQLite may leave a gap of free pages it has no use for; the store must know them all the same.
  const std::uint32_t first = std::min(number, page_count());
  if (number >= page_count()) resize(number + 1);
  std::memcpy(segments_[number / kSegmentPages].get() + number % kSegmentPages * kPageBytes, bytes, kPageBytes);
  for (std::uint32_t i = first; i <= number; ++i) {
    if (!pages_[i].writing) ++writing_;
    pages_[i].writing = true;
  }
}

void PageStore::cut(std::uint32_t pages) {
  if (pages >= page_count()) return;
  resize(pages);
  cut_ = true;
}

void PageStore::commit_ended() {
  if (writing_ > 0) {
    for (Page& page : pages_) {
      if (!page.writing) continue;
      page.writing = false;
      set_dirty(page, true);
    }
    writing_ = 0;
  }
  if (dirty_ > 0 || cut_) {
    last_change_ = steady_();
    if (!unsaved_since_) unsaved_since_ = last_change_;
  }
}

std::uint64_t PageStore::sum() const {
  std::uint64_t total = 0;
  for (std::uint64_t i = 0; i < pages_.size(); ++i) total += (2 * i + 1) * pages_[i].sum;
  return total;
}

std::string PageStore::file() const {
  std::string bytes;
  bytes.reserve(std::size_t{page_count()} * kPageBytes);
  for (std::uint32_t i = 0; i < page_count(); ++i) bytes.append(reinterpret_cast<const char*>(page(i)), kPageBytes);
  return bytes;
}

// ---- Saving ----

void PageStore::keep() {
  if (!next_try_) start_write(false);
}

void PageStore::try_again() {
  next_try_.reset();
  start_write(false);
}

void PageStore::plan(PageWrite& write, bool folding) const {
  std::vector<std::uint32_t> in_segment(segments_.size(), 0);
  for (std::uint32_t i = 0; i < pages_.size(); ++i) {
    if (folding ? pages_[i].single : pages_[i].dirty) ++in_segment[i / kSegmentPages];
  }
  if (folding) {  // Where most single pages lie, first.
    std::vector<std::uint32_t> order;
    for (std::uint32_t s = 0; s < in_segment.size(); ++s)
      if (in_segment[s] > 0) order.push_back(s);
    std::sort(order.begin(), order.end(), [&](auto a, auto b) { return in_segment[a] > in_segment[b]; });
    if (order.size() > kFoldAtOnce) order.resize(kFoldAtOnce);
    write.segments = std::move(order);
    return;
  }
  for (std::uint32_t s = 0; s < in_segment.size(); ++s) {
    if (in_segment[s] >= kWholeFrom) write.segments.push_back(s);
  }
  for (std::uint32_t i = 0; i < pages_.size(); ++i) {
    if (pages_[i].dirty && in_segment[i / kSegmentPages] < kWholeFrom) write.pages.push_back(i);
  }
}

void PageStore::start_write(bool folding) {
  commit_ended();
  if (!may_write() || (!folding && dirty_ == 0 && !cut_)) return;
  flight_ = {};
  plan(flight_, folding);
  for (std::uint32_t i = 0; i < pages_.size(); ++i) {
    Page& out = pages_[i];
    if (!out.dirty) continue;
    out.sum = check_sum(page(i));
    out.flying = true;
    set_dirty(out, false);
  }
  flight_.ticket = ++tickets_;
  flight_.expected = generation_;
  flight_.page_count = page_count();
  flight_.sum = sum();
  if (!pages_.empty()) {  // 'The Database File Format', 1.3: user version at offset 60, big-endian.
    const std::uint8_t* head = page(0) + 60;
    flight_.schema =
        std::uint32_t{head[0]} << 24 | std::uint32_t{head[1]} << 16 | std::uint32_t{head[2]} << 8 | head[3];
  }
  cut_ = false;
  flying_ = true;
  folding_ = folding;
  flight_began_ = steady_();
  next_try_.reset();
  backend_.write(flight_, *this);
}

void PageStore::land(bool stored) {
  if (stored) {
    for (const std::uint32_t s : flight_.segments) {
      const std::uint32_t end = std::min((s + 1) * kSegmentPages, page_count());
      for (std::uint32_t i = s * kSegmentPages; i < end; ++i) {
        if (pages_[i].single) --single_;
        pages_[i].single = false;
      }
    }
    for (const std::uint32_t i : flight_.pages) {
      if (i >= pages_.size()) continue;  // Cut off meanwhile.
      if (!pages_[i].single) ++single_;
      pages_[i].single = true;
    }
  }
  for (Page& page : pages_) {
    if (page.flying && !stored && !page.writing) set_dirty(page, true);
    page.flying = false;
  }
  if (!stored) cut_ = true;  // The size may have gone out with it.
  flying_ = false;
}

void PageStore::written(std::uint64_t ticket, WriteEnd end, std::uint64_t generation, std::string_view detail) {
  if (!flying_ || ticket != flight_.ticket) return;  // Late: pages are absolute, the next try covers it.
  const bool was_folding = folding_;
  if (end != WriteEnd::Done) {
    failed(end, detail);
    return;
  }
  land(true);
  folding_ = false;
  generation_ = generation;
  failures_ = 0;
  last_end_ = WriteEnd::Done;
  detail_.clear();
  if (!was_folding) last_saved_ = now_();
  unsaved_since_.reset();
  if (dirty_ > 0 || cut_) {
    unsaved_since_ = steady_();
    start_write(false);
  }
}

void PageStore::failed(WriteEnd end, std::string_view detail) {
  const bool was_folding = folding_;
  const bool had_cut = cut_;
  land(false);
  folding_ = false;
  last_end_ = end;
  detail_ = std::string(end_name(end)) + (detail.empty() ? "" : ": ") + std::string(detail);
  if (end == WriteEnd::Fenced) {
    elsewhere_ = true;
    return;
  }
  if (end == WriteEnd::Gone) return all_anew();
  if (end == WriteEnd::Lost) backend_.reopen();
  const std::size_t last = std::size(kRetry) - 1;
  const Moment again = steady_() + kRetry[std::min(static_cast<std::size_t>(failures_), last)];
  ++failures_;
  if (was_folding && dirty_ == 0) {  // Nothing of a person's is at stake: a later idle moment will do.
    cut_ = had_cut;
    last_change_ = again;
    failures_ = 0;
    return;
  }
  if (!unsaved_since_) unsaved_since_ = steady_();
  next_try_ = again;
}

/// Nobody else's book is there that could be overwritten, and the whole of ours is here.
void PageStore::all_anew() {
  for (Page& page : pages_) {
    if (page.single) --single_;
    page.single = false;
    if (!page.writing) set_dirty(page, true);
  }
  generation_ = 0;
  if (!unsaved_since_) unsaved_since_ = steady_();
  try_again();
}

void PageStore::doubt() {
  if (!loaded_ || elsewhere_) return;
  cut_ = true;  // A write of the head alone.
  keep();
}

std::int64_t PageStore::patience() const {
  return kPatience + 10 * static_cast<std::int64_t>(flight_.pages.size() + 20 * flight_.segments.size());
}

bool PageStore::wants_folding() const { return single_ >= kFoldFrom && may_write() && !unsaved(); }

void PageStore::step() {
  const Moment now = steady_();
  if (flying_ && now - flight_began_ >= patience()) failed(WriteEnd::Lost, "no answer");
  if (next_try_ && now >= *next_try_) try_again();
  if (dirty_ > 0 || cut_) keep();
  if (wants_folding() && now - last_change_ >= kIdleBeforeFolding) start_write(true);
}

std::optional<Moment> PageStore::next_step() const {
  std::optional<Moment> next;
  const auto at = [&](Moment moment) {
    if (!next || moment < *next) next = moment;
  };
  const Moment now = steady_();
  if (flying_) at(flight_began_ + patience());
  if (next_try_ && !elsewhere_) at(*next_try_);
  if (wants_folding()) at(last_change_ + kIdleBeforeFolding);
  if (unsaved_since_ && *unsaved_since_ + kWarnAfter > now) at(*unsaved_since_ + kWarnAfter);
  return next;
}

Result<void> PageStore::ready_to_copy() {
  keep();
  if (!loaded_ || elsewhere_ || failures_ > 0) return refuse(Trouble::System, "page.store.no_copy"_w, {}, "store");
  return {};
}

StorageHealth PageStore::health() const {
  StorageHealth health;
  health.last_saved = last_saved_;
  health.lasting = lasting_;
  health.elsewhere = elsewhere_;
  health.photos_left = photos_left_;
  health.trouble = damaged_ ? "damaged" : detail_;
  const bool open = unsaved() || writing_ > 0;
  if (damaged_ || (open && (elsewhere_ || !loaded_))) {
    health.state = SaveState::NotSaved;
  } else if (!open) {
    health.state = SaveState::Saved;
  } else {
    const bool long_ago = unsaved_since_ && steady_() - *unsaved_since_ >= kWarnAfter;
    const bool large = flying_ && flight_.pages.size() + 20 * flight_.segments.size() > 1000;
    const bool refused = failures_ >= 3 || (failures_ > 0 && last_end_ == WriteEnd::Full);
    health.state = refused || (long_ago && !large) ? SaveState::NotSaved : SaveState::Saving;
    if (health.state == SaveState::NotSaved && health.trouble.empty()) health.trouble = "slow";
  }
  return health;
}

}  // namespace steep
