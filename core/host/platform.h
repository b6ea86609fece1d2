#pragma once
/// The outside world, in words of the job. The page, the desktop and the tests each fill it once.
///
/// What a browser can only answer later takes a callback everywhere, also where the system could
/// answer at once. What a system cannot do answers Trouble::Unsupported, and `can` lets a screen
/// hide the button. Callbacks come on the main thread, never from inside the call itself.

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/moment.h"
#include "base/result.h"
#include "host/photo_store.h"
#include "host/pixels.h"

namespace steep {

struct File {
  std::string name;  ///< For people and for saving; never used as a path.
  std::string bytes;
  std::string type;     ///< Media type, 'application/gzip', 'text/html' …
  Moment changed = {};  ///< Of a chosen file: when it was last written, as its system says; 0 = not known.
};

/// Where this copy's book lies, in words of SQLite.
struct BookPlace {
  std::string path;          ///< File name, or the name the page store goes by.
  std::string vfs;           ///< Empty = SQLite's own.
  bool write_ahead = false;  ///< WAL with full sync (a disk), or the page store's own journal.
};

enum class Verb {
  PickFile,
  SaveFile,
  ShareFile,
  Print,
  KeepAwake,
  FindPosition,
  Clipboard,
  Fullscreen,
  WatchFolder,  ///< A folder is looked into for handover files, and ours is written there: setting 'watch-folder'.
  Camera,       ///< A photo can be taken here and now.
};

/// How far the writes of the book have come. Shown as the saved mark.
enum class SaveState {
  Saved,     ///< Everything committed has reached lasting storage.
  Saving,    ///< A write is on its way.
  NotSaved,  ///< The last write failed; entries are in memory only.
};

struct StorageHealth {
  SaveState state = SaveState::Saved;
  Moment last_saved;       ///< When storage last confirmed; 0 when never.
  std::string trouble;     ///< Of NotSaved: short technical reason, for the details line.
  bool lasting = true;     ///< Storage that the system will not clear by itself, as far as known.
  bool elsewhere = false;  ///< Another window or tab holds the book: this one must not write.
  int photos_left = 0;     ///< Photos that found no room: their records are stored, they themselves are in memory only.
};

/// What the device asks of the drawing. Read anew at every frame; a change brings a frame.
struct DeviceLook {
  bool dark = false;  ///< Prefers a dark appearance.
  bool less_motion = false;
  bool touch = false;    ///< The last pointer was a finger.
  float text_scale = 1;  ///< The system's own text size; 1 = usual.
  /// Parts of the drawing area under a notch, round corners or the home bar; dp.
  float inset_left = 0, inset_top = 0, inset_right = 0, inset_bottom = 0;
  bool operator==(const DeviceLook&) const = default;
};

/// The program itself, where it is installed from a page.
struct ProgramState {
  bool works_offline = true;   ///< Every file of it lies on this device.
  bool newer_waits = false;    ///< A newer version is ready; it starts only when a person says so.
  bool installed = true;       ///< Runs as a program of its own, not in a browser tab.
  bool keeps_per_app = false;  ///< A tab and the installed program have separate storage (iOS).
};

class Platform {
 public:
  virtual ~Platform() = default;
  virtual bool can(Verb verb) const = 0;

  // Time and chance.
  virtual Stamp now() = 0;
  virtual void random(std::span<std::uint8_t> bytes) = 0;

  // Storage. `keep` asks that everything committed so far reaches lasting storage; the state is
  // read with `storage()`. On the desktop a commit is lasting when it returns.
  virtual void keep() = 0;
  virtual StorageHealth storage() = 0;
  /// Asks the system not to clear this storage by itself; after the first real record, in its press.
  virtual void ask_lasting() {}
  /// Takes the book over from the window or tab that holds it; starts this one anew.
  virtual void use_here() {}
  /// Small settings beside the book (language, theme, text size, lane ids of this copy).
  virtual std::string setting(std::string_view key) = 0;
  virtual Result<void> set_setting(std::string_view key, std::string_view value) = 0;

  virtual BookPlace book_place() = 0;
  /// Sets a copy of the whole stored book aside (two are kept on the page, three on the desktop). It is there once the
  /// answer says so.
  virtual void make_safety_copy(std::function<void(Result<void>)> then) = 0;
  /// Photos beside that book.
  virtual PhotoStore& photos() = 0;

  // Files.
  virtual void pick_file(std::function<void(Result<File>)> then) = 0;
  /// As pick_file, for a photo. The page makes it smaller (1,600 pixels a side) and leaves out what the camera wrote into it.
  virtual void pick_photo(std::function<void(Result<File>)> then) = 0;
  /// At most `side` pixels a side, upright. Trouble::Unsupported 'photo.cannot_show'.
  virtual void decode_photo(std::string bytes, int side, std::function<void(Result<Pixels>)> then) = 0;
  virtual void save_file(File file, std::function<void(Result<void>)> then) = 0;
  virtual void share_file(File file, std::function<void(Result<void>)> then) = 0;
  /// Opens a finished HTML page where it can be printed.
  virtual void print_page(File page, std::function<void(Result<void>)> then) = 0;

  // The device.
  virtual void copy_text(std::string_view text) = 0;
  virtual void keep_awake(bool on) = 0;
  /// Language of the device ('en', 'es', 'es-MX' …), and its decimal mark ('.' or ',').
  virtual std::string language() = 0;
  virtual char decimal_mark() = 0;
  /// IANA name of the device's zone; empty when unknown.
  virtual std::string zone_name() = 0;
  /// Says one line to assistive technology; `urgent` interrupts.
  virtual void announce(std::string_view text, bool urgent) = 0;
  /// Asks for a frame at the latest at `at`; input always brings one.
  virtual void wake_at(Moment at) = 0;
  virtual DeviceLook device_look() { return {}; }
  virtual ProgramState program() { return {}; }
  /// Starts the newer version that waits; only with everything saved and no pass open.
  virtual void use_newer() {}
};

}  // namespace steep
