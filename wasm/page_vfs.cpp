#include "page_vfs.h"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "page_store.h"

namespace steep {
namespace {

/// A file that dies with the page.
using Scratch = std::shared_ptr<std::string>;

struct Served {
  PageStore* store = nullptr;
  RandomSource random;
  std::function<Moment()> now;
  std::map<std::string, Scratch, std::less<>> scratch;
  int readers = 0;               ///< Connections that hold at least SHARED on the book.
  const void* writer = nullptr;  ///< The one that holds more.
};

Served& served() {
  static Served one;
  return one;
}

bool same_word(std::string_view a, std::string_view b) {
  return a.size() == b.size() && sqlite3_strnicmp(a.data(), b.data(), static_cast<int>(a.size())) == 0;
}

struct PageFile {
  sqlite3_file base;
  Scratch* scratch;  ///< Null for the book.
  int lock;
  bool memory_journal, exclusive, no_spill;

  static PageFile& of(sqlite3_file* file) { return *reinterpret_cast<PageFile*>(file); }
  bool is_book() const { return scratch == nullptr; }
  std::string& bytes() const { return **scratch; }
  bool has_promised() const { return memory_journal && exclusive && no_spill; }
};

// ---- Files ----

int read_file(sqlite3_file* file, void* into, int amount, sqlite3_int64 offset) {
  const PageFile& self = PageFile::of(file);
  const std::span<std::uint8_t> room(static_cast<std::uint8_t*>(into), static_cast<std::size_t>(amount));
  if (self.is_book()) {
    return served().store->read(static_cast<std::uint64_t>(offset), room) ? SQLITE_OK : SQLITE_IOERR_SHORT_READ;
  }
  const std::string& bytes = self.bytes();
  const std::size_t from = std::min(bytes.size(), static_cast<std::size_t>(offset));
  const std::size_t part = std::min(room.size(), bytes.size() - from);
  std::memcpy(room.data(), bytes.data() + from, part);
  std::memset(room.data() + part, 0, room.size() - part);
  return part == room.size() ? SQLITE_OK : SQLITE_IOERR_SHORT_READ;
}

int write_file(sqlite3_file* file, const void* from, int amount, sqlite3_int64 offset) {
  const PageFile& self = PageFile::of(file);
  if (self.is_book()) {
    if (!self.has_promised() || amount != static_cast<int>(kPageBytes) || offset % kPageBytes != 0) {
      sqlite3_log(SQLITE_MISUSE, "pagestore: write without its pragmas or not of a whole page");
      return SQLITE_IOERR_WRITE;
    }
    served().store->write_page(static_cast<std::uint32_t>(offset / kPageBytes), static_cast<const std::uint8_t*>(from));
    return SQLITE_OK;
  }
  std::string& bytes = self.bytes();
  const std::size_t end = static_cast<std::size_t>(offset) + static_cast<std::size_t>(amount);
  if (bytes.size() < end) bytes.resize(end);
  std::memcpy(bytes.data() + offset, from, static_cast<std::size_t>(amount));
  return SQLITE_OK;
}

int cut_file(sqlite3_file* file, sqlite3_int64 size) {
  const PageFile& self = PageFile::of(file);
  if (self.is_book()) {
    served().store->cut(static_cast<std::uint32_t>((size + kPageBytes - 1) / kPageBytes));
  } else if (static_cast<std::size_t>(size) < self.bytes().size()) {
    self.bytes().resize(static_cast<std::size_t>(size));
  }
  return SQLITE_OK;
}

int file_size(sqlite3_file* file, sqlite3_int64* size) {
  const PageFile& self = PageFile::of(file);
  *size = self.is_book() ? sqlite3_int64{served().store->page_count()} * kPageBytes
                         : static_cast<sqlite3_int64>(self.bytes().size());
  return SQLITE_OK;
}

int sync_file(sqlite3_file*, int) { return SQLITE_OK; }  // A commit is lasting when the store says so.

int lock_file(sqlite3_file* file, int level) {
  PageFile& self = PageFile::of(file);
  if (level <= self.lock) return SQLITE_OK;
  if (self.is_book()) {
    Served& s = served();
    const bool others = s.readers > (self.lock >= SQLITE_LOCK_SHARED ? 1 : 0);
    if (s.writer != nullptr && s.writer != &self) return SQLITE_BUSY;
    if (level == SQLITE_LOCK_EXCLUSIVE && others) return SQLITE_BUSY;
    if (self.lock < SQLITE_LOCK_SHARED) ++s.readers;
    if (level > SQLITE_LOCK_SHARED) s.writer = &self;
  }
  self.lock = level;
  return SQLITE_OK;
}

int unlock_file(sqlite3_file* file, int level) {
  PageFile& self = PageFile::of(file);
  if (level >= self.lock) return SQLITE_OK;
  if (self.is_book()) {
    Served& s = served();
    if (s.writer == &self) s.writer = nullptr;
    if (level == SQLITE_LOCK_NONE) --s.readers;
  }
  self.lock = level;
  return SQLITE_OK;
}

int check_lock(sqlite3_file* file, int* answer) {
  *answer = PageFile::of(file).is_book() && served().writer != nullptr;
  return SQLITE_OK;
}

int close_file(sqlite3_file* file) {
  PageFile& self = PageFile::of(file);
  unlock_file(file, SQLITE_LOCK_NONE);
  delete self.scratch;
  self.scratch = nullptr;
  return SQLITE_OK;
}

/// A pragma as it comes by: [1] its name, [2] its value or null.
int note_pragma(PageFile& self, char** words) {
  if (!self.is_book() || words[2] == nullptr) return SQLITE_NOTFOUND;
  const std::string_view name = words[1], value = words[2];
  if (same_word(name, "journal_mode")) self.memory_journal = same_word(value, "memory");
  if (same_word(name, "locking_mode")) self.exclusive = same_word(value, "exclusive");
  if (same_word(name, "cache_spill")) {
    self.no_spill = same_word(value, "off") || same_word(value, "false") || same_word(value, "no") || value == "0";
  }
  return SQLITE_NOTFOUND;  // SQLite carries it out itself.
}

int control_file(sqlite3_file* file, int what, void* with) {
  PageFile& self = PageFile::of(file);
  switch (what) {
    case SQLITE_FCNTL_COMMIT_PHASETWO:
      if (self.is_book()) served().store->commit_ended();
      return SQLITE_OK;
    case SQLITE_FCNTL_PRAGMA: return note_pragma(self, static_cast<char**>(with));
    default: return SQLITE_NOTFOUND;
  }
}

int sector_size(sqlite3_file*) { return static_cast<int>(kPageBytes); }
int device_traits(sqlite3_file*) { return SQLITE_IOCAP_POWERSAFE_OVERWRITE; }

const sqlite3_io_methods kFileMethods = {
    1,         close_file,  read_file,  write_file,   cut_file,    sync_file,     file_size,
    lock_file, unlock_file, check_lock, control_file, sector_size, device_traits, nullptr,
    nullptr,   nullptr,     nullptr,    nullptr,      nullptr};

// ---- The VFS ----

int open_file(sqlite3_vfs*, sqlite3_filename name, sqlite3_file* file, int flags, int* out_flags) {
  PageFile& self = *new (file) PageFile{};
  const std::string_view path = name == nullptr ? "" : name;
  if ((flags & (SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_WAL)) != 0) return SQLITE_CANTOPEN;  // Journals live in memory.
  if (path == kPageFile) {
    if (served().store == nullptr) return SQLITE_CANTOPEN;
  } else {
    auto found = path.empty() ? served().scratch.end() : served().scratch.find(path);
    Scratch bytes = found != served().scratch.end() ? found->second : nullptr;
    if (bytes == nullptr) {
      if ((flags & SQLITE_OPEN_CREATE) == 0) return SQLITE_CANTOPEN;
      bytes = std::make_shared<std::string>();
      if (!path.empty() && (flags & SQLITE_OPEN_DELETEONCLOSE) == 0) served().scratch.emplace(path, bytes);
    }
    self.scratch = new Scratch(std::move(bytes));
  }
  self.base.pMethods = &kFileMethods;
  if (out_flags != nullptr) *out_flags = flags;
  return SQLITE_OK;
}

int delete_file(sqlite3_vfs*, const char* name, int) {
  const auto found = served().scratch.find(std::string_view(name));
  if (found == served().scratch.end()) return SQLITE_IOERR_DELETE_NOENT;
  served().scratch.erase(found);
  return SQLITE_OK;
}

int has_access(sqlite3_vfs*, const char* name, int, int* answer) {
  const std::string_view path = name;
  *answer = path == kPageFile ? served().store != nullptr && served().store->page_count() > 0
                              : served().scratch.find(path) != served().scratch.end();
  return SQLITE_OK;
}

int full_name(sqlite3_vfs*, const char* name, int room, char* into) {
  sqlite3_snprintf(room, into, "%s", name);
  return SQLITE_OK;
}

int fill_random(sqlite3_vfs*, int amount, char* into) {
  const std::span<std::uint8_t> room(reinterpret_cast<std::uint8_t*>(into), static_cast<std::size_t>(amount));
  if (!served().random) return 0;
  served().random(room);
  return amount;
}

int sleep_not(sqlite3_vfs*, int) { return 0; }
int last_error(sqlite3_vfs*, int, char*) { return 0; }

int now_64(sqlite3_vfs*, sqlite3_int64* out) {
  constexpr sqlite3_int64 kJulianOfUnix = 210866760000000;  // 1970-01-01 in ms since the Julian epoch.
  *out = kJulianOfUnix + (served().now ? served().now().ms : 0);
  return SQLITE_OK;
}

int now_double(sqlite3_vfs* vfs, double* out) {
  sqlite3_int64 ms = 0;
  now_64(vfs, &ms);
  *out = static_cast<double>(ms) / 86400000.0;
  return SQLITE_OK;
}

sqlite3_vfs& vfs() {
  static sqlite3_vfs one = {2,          sizeof(PageFile), 512,     nullptr, kPageVfs, nullptr, open_file,   delete_file,
                            has_access, full_name,        nullptr, nullptr, nullptr,  nullptr, fill_random, sleep_not,
                            now_double, last_error,       now_64,  nullptr, nullptr,  nullptr};
  return one;
}

}  // namespace

void serve_pages(PageStore* store, RandomSource random, std::function<Moment()> now) {
  served() = {store, std::move(random), std::move(now), {}, 0, nullptr};
}

Result<void> register_page_vfs() {
  if (const int code = sqlite3_vfs_register(&vfs(), sqlite3_vfs_find(nullptr) == nullptr); code != SQLITE_OK) {
    return refuse(Trouble::System, "page.store.damaged"_w, {sqlite3_errstr(code)}, "vfs");
  }
  return {};
}

Result<void> check_pages() {
  sqlite3* db = nullptr;
  sqlite3_stmt* check = nullptr;
  int code = sqlite3_open_v2(kPageFile, &db, SQLITE_OPEN_READONLY, kPageVfs);
  if (code == SQLITE_OK) code = sqlite3_prepare_v2(db, "PRAGMA quick_check(1)", -1, &check, nullptr);
  std::string answer = sqlite3_errstr(code);
  if (code == SQLITE_OK) {
    code = sqlite3_step(check);
    answer = code == SQLITE_ROW ? reinterpret_cast<const char*>(sqlite3_column_text(check, 0)) : sqlite3_errmsg(db);
  }
  sqlite3_finalize(check);
  sqlite3_close(db);
  if (answer != "ok") return refuse(Trouble::Damaged, "page.store.damaged"_w, {answer}, "sqlite");
  return {};
}

}  // namespace steep
