#pragma once
/// A disk on which the power fails, or which is full, at a chosen write: a layer over SQLite's own files.

#include <sqlite3.h>

#include <cstring>
#include <string>
#include <vector>

namespace steep::test {

class BreakingDisk {
 public:
  static constexpr const char* kName = "breaking";
  enum Fault {
    None,
    Power,  ///< From this write on nothing reaches the disk any more; half of this one does.
    Full,   ///< This write finds no room; later ones do again.
  };

  /// Registers the layer once.
  static void make() {
    if (sqlite3_vfs_find(kName) != nullptr) return;
    static sqlite3_vfs layer;
    sqlite3_vfs* const real = sqlite3_vfs_find(nullptr);
    layer = *real;
    layer.zName = kName;
    layer.pNext = nullptr;
    layer.szOsFile = static_cast<int>(sizeof(Open)) + real->szOsFile;
    layer.xOpen = [](sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* out) {
      auto* open = reinterpret_cast<Open*>(file);
      open->real = reinterpret_cast<sqlite3_file*>(open + 1);
      sqlite3_vfs* const below = sqlite3_vfs_find(nullptr);
      const int code = below->xOpen(below, name, open->real, flags, out);
      open->base.pMethods = open->real->pMethods != nullptr ? methods() : nullptr;
      return code;
    };
    layer.xDelete = [](sqlite3_vfs*, const char* name, int sync) {
      sqlite3_vfs* const below = sqlite3_vfs_find(nullptr);
      return strikes() ? SQLITE_IOERR_DELETE : below->xDelete(below, name, sync);
    };
    sqlite3_vfs_register(&layer, 0);
  }
  static void arm(Fault fault, int at) { state() = {fault, at, 0, false}; }
  static int writes() { return state().writes; }
  static bool struck() { return state().broken; }

 private:
  struct Open {
    sqlite3_file base;
    sqlite3_file* real;
  };
  struct State {
    Fault fault = None;
    int at = 0, writes = 0;
    bool broken = false;
  };
  static State& state() {
    static State now;
    return now;
  }
  /// Counts one thing that would reach the disk; true when it does not.
  static bool strikes(bool is_write = false) {
    State& now = state();
    if (now.fault == Full && !is_write) return false;
    if (now.fault == Power && now.broken) return true;
    if (++now.writes != now.at || now.fault == None) return false;
    return now.broken = true;
  }
  static sqlite3_file* real(sqlite3_file* file) { return reinterpret_cast<Open*>(file)->real; }

  static const sqlite3_io_methods* methods() {
    static sqlite3_io_methods layer = {};
    if (layer.iVersion != 0) return &layer;
    layer.iVersion = 2;
    layer.xClose = [](sqlite3_file* f) { return real(f)->pMethods->xClose(real(f)); };
    layer.xRead = [](sqlite3_file* f, void* to, int n, sqlite3_int64 at) {
      return real(f)->pMethods->xRead(real(f), to, n, at);
    };
    layer.xWrite = [](sqlite3_file* f, const void* from, int n, sqlite3_int64 at) {
      if (!strikes(true)) return real(f)->pMethods->xWrite(real(f), from, n, at);
      if (state().fault == Full) return SQLITE_FULL;
      if (state().writes == state().at) {  // The write that was under way is torn.
        state().writes += 1;
        real(f)->pMethods->xWrite(real(f), from, n / 2, at);
      }
      return SQLITE_IOERR_WRITE;
    };
    layer.xTruncate = [](sqlite3_file* f, sqlite3_int64 size) {
      return strikes() ? SQLITE_IOERR_TRUNCATE : real(f)->pMethods->xTruncate(real(f), size);
    };
    layer.xSync = [](sqlite3_file* f, int flags) {
      return strikes() ? SQLITE_IOERR_FSYNC : real(f)->pMethods->xSync(real(f), flags);
    };
    layer.xFileSize = [](sqlite3_file* f, sqlite3_int64* size) { return real(f)->pMethods->xFileSize(real(f), size); };
    layer.xLock = [](sqlite3_file* f, int level) { return real(f)->pMethods->xLock(real(f), level); };
    layer.xUnlock = [](sqlite3_file* f, int level) { return real(f)->pMethods->xUnlock(real(f), level); };
    layer.xCheckReservedLock = [](sqlite3_file* f, int* out) {
      return real(f)->pMethods->xCheckReservedLock(real(f), out);
    };
    layer.xFileControl = [](sqlite3_file* f, int op, void* arg) {
      return real(f)->pMethods->xFileControl(real(f), op, arg);
    };
    layer.xSectorSize = [](sqlite3_file* f) { return real(f)->pMethods->xSectorSize(real(f)); };
    layer.xDeviceCharacteristics = [](sqlite3_file* f) { return real(f)->pMethods->xDeviceCharacteristics(real(f)); };
    layer.xShmMap = [](sqlite3_file* f, int page, int size, int extend, void volatile** to) {
      return real(f)->pMethods->xShmMap(real(f), page, size, extend, to);
    };
    layer.xShmLock = [](sqlite3_file* f, int from, int n, int flags) {
      return real(f)->pMethods->xShmLock(real(f), from, n, flags);
    };
    layer.xShmBarrier = [](sqlite3_file* f) { real(f)->pMethods->xShmBarrier(real(f)); };
    layer.xShmUnmap = [](sqlite3_file* f, int remove) { return real(f)->pMethods->xShmUnmap(real(f), remove); };
    return &layer;
  }
};

}  // namespace steep::test
