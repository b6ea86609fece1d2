#pragma once
/// The book of the page: a SQLite file kept in memory whose changed pages go to lasting storage, all
/// pages of a commit in one atomic write.
///
/// SQLite runs over a VFS ('pagestore', page_vfs.cpp) that reads and writes the memory of a PageStore.
/// Pages that a commit changed are dirty until a write of the backend has completed; only then is the
/// book 'Saved'. The backend is IndexedDB on the page and a fake in the tests. Four rules keep the book whole:
///   - only committed pages are written: SQLite must not spill (asserted), and a write waits while
///     pages of an unfinished commit are about;
///   - one write at a time; what is committed meanwhile joins the next one;
///   - a write names the generation it stands on, and the backend refuses it inside the same
///     transaction when the store holds another one: a stale tab can never overwrite a newer book;
///   - nothing is written before the load has finished.

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "base/moment.h"
#include "base/result.h"
#include "host/platform.h"

namespace steep {

constexpr std::uint32_t kPageBytes = 4096;
constexpr std::uint32_t kSegmentPages = 64;  ///< Pages that are stored as one value of 256 KiB.
constexpr std::uint32_t kSegmentBytes = kSegmentPages * kPageBytes;

/// One atomic write. Pages in `pages` are stored one by one; segments whole, which drops the single
/// pages inside them; single pages and segments behind `page_count` are dropped.
struct PageWrite {
  std::uint64_t ticket = 0;    ///< Counts the tries of this run.
  std::uint64_t expected = 0;  ///< Generation that the store must hold.
  std::uint32_t page_count = 0;
  std::uint64_t sum = 0;     ///< PageStore::sum() of the book as written.
  std::uint32_t schema = 0;  ///< user_version of the SQLite file.
  std::vector<std::uint32_t> pages, segments;
};

enum class WriteEnd {
  Done,
  Full,    ///< The quota is used up.
  Fenced,  ///< The store holds a generation that this run did not write.
  Lost,    ///< The connection is gone or never answered.
  Failed,  ///< Anything else.
  Gone,    ///< The store is empty though it held the book: it was cleared while the page was open.
};

class PageStore;

class PageBackend {
 public:
  virtual ~PageBackend() = default;
  /// Starts the write. Copies the bytes before it returns; answers later, once, with
  /// PageStore::written(). It may also never answer.
  virtual void write(const PageWrite& write, const PageStore& store) = 0;
  /// Closes the connection and opens a new one; later writes wait for it.
  virtual void reopen() = 0;
};

class PageStore {
 public:
  /// `now` is the time of day, for people; `steady` counts waits and is never set, as clocks of phones are.
  PageStore(PageBackend& backend, std::function<Moment()> now, std::function<Moment()> steady);
  PageStore(const PageStore&) = delete;
  PageStore& operator=(const PageStore&) = delete;

  // ---- Load: begin, fill every page, end ----
  /// `writer` false: another tab holds the book; it is read here and never written.
  void begin_load(std::uint64_t generation, std::uint32_t page_count, Moment saved_at, bool writer);
  /// Room for the bytes of a segment; its pages lie one after the other.
  std::uint8_t* segment_room(std::uint32_t segment);
  /// The first pages of a segment were filled in; their check sums.
  void loaded_segment(std::uint32_t segment, std::span<const std::uint32_t> sums);
  /// One page that is stored singly: overrules its segment.
  void loaded_page(std::uint32_t page, std::span<const std::uint8_t> bytes, std::uint32_t sum);
  /// Compares count, check sums and their sum. Trouble::Damaged: the store is never written.
  Result<void> end_load(std::uint64_t sum);

  // ---- Saving ----
  /// Starts to write what is committed, unless a write is on its way or a try has its time set.
  void keep();
  /// keep() for a person who asks again: does not wait for the time of the next try.
  void try_again();
  /// The backend's answer. `generation`: what the store holds now, with WriteEnd::Done.
  void written(std::uint64_t ticket, WriteEnd end, std::uint64_t generation, std::string_view detail);
  /// To be called when next_step() comes: retries, time-outs, folding of single pages.
  void step();
  /// The connection ended without our doing, as it does when a store is cleared: a write finds out whether the book is
  /// still there.
  void doubt();
  /// When step() has something to do, or health() changes by itself, on the steady clock; nullopt = not before the next
  /// commit.
  std::optional<Moment> next_step() const;
  /// Another tab takes the book: nothing is written from here on.
  void give_up() { elsewhere_ = true; }
  /// Begins to write what is committed, so that a copy of the stored book has it. Trouble::System while that fails.
  Result<void> ready_to_copy();
  StorageHealth health() const;
  /// Is anything committed that lasting storage does not hold yet?
  bool unsaved() const { return dirty_ > 0 || cut_ || (flying_ && !folding_); }
  bool busy() const { return flying_; }
  std::uint64_t generation() const { return generation_; }
  /// As the browser answered: the storage is not cleared under pressure.
  void set_lasting(bool yes) { lasting_ = yes; }
  /// So many photos found no room beside the pages; they are tried again.
  void set_photos_left(int count) { photos_left_ = count; }

  // ---- For the VFS ----
  bool read(std::uint64_t offset, std::span<std::uint8_t> into) const;  ///< False: past the end, zero-filled.
  void write_page(std::uint32_t number, const std::uint8_t* bytes);
  void cut(std::uint32_t pages);
  /// What was written since the last call belongs to a commit now, or was rolled back.
  void commit_ended();

  // ---- For the backend, and to save entries that storage refused ----
  std::uint32_t page_count() const { return static_cast<std::uint32_t>(pages_.size()); }
  const std::uint8_t* page(std::uint32_t number) const;
  /// CRC-32 (ISO 3309) of a page as it went out last, or goes out now.
  std::uint32_t page_sum(std::uint32_t number) const { return pages_[number].sum; }
  /// Σ (2 · number + 1) · check sum, modulo 2^64: a missing page shows, and one older than the head.
  std::uint64_t sum() const;
  /// The whole SQLite file as it stands in memory.
  std::string file() const;

 private:
  struct Page {
    std::uint32_t sum = 0;
    bool writing = false;  ///< Written since the last commit ended.
    bool dirty = false;    ///< Committed; not in a write on its way.
    bool flying = false;   ///< In the write on its way.
    bool single = false;   ///< Lies in the store as a row of its own.
    bool filled = false;   ///< Of the load.
  };

  bool may_write() const { return loaded_ && !elsewhere_ && !flying_ && writing_ == 0; }
  void resize(std::uint32_t pages);
  void set_dirty(Page& page, bool dirty);
  void start_write(bool folding);
  void plan(PageWrite& write, bool folding) const;
  void land(bool stored);
  void failed(WriteEnd end, std::string_view detail);
  void all_anew();
  bool wants_folding() const;
  std::int64_t patience() const;  ///< ms after which a write without an answer counts as lost.

  PageBackend& backend_;
  std::function<Moment()> now_, steady_;

  std::vector<std::unique_ptr<std::uint8_t[]>> segments_;
  std::vector<Page> pages_;
  std::uint32_t dirty_ = 0, writing_ = 0, single_ = 0;  ///< Counts of the flags.
  int photos_left_ = 0;
  bool cut_ = false;  ///< The file got shorter; not yet stored.

  bool loaded_ = false, elsewhere_ = false, damaged_ = false, lasting_ = false;
  std::uint64_t generation_ = 0, tickets_ = 0;
  bool flying_ = false, folding_ = false;
  PageWrite flight_;
  Moment flight_began_;
  std::optional<Moment> next_try_;
  int failures_ = 0;
  std::optional<Moment> unsaved_since_;  ///< This and all other waits: of the steady clock.
  Moment last_change_;
  Moment last_saved_;  ///< Time of day.
  WriteEnd last_end_ = WriteEnd::Done;
  std::string detail_;
};

}  // namespace steep
