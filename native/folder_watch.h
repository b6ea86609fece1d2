#pragma once
/// A folder through which copies meet: any file sync, a share, a USB stick. Handover files that appear there are to be taken in;
/// this copy's own file is written there and kept up to date. Photos lie beside in a folder of their own, each written once
/// by whoever has it: a file that is written anew with every record must not carry them. Looked into now and then: no
/// system's notices are needed, and they would not come from a share or a stick anyway.

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "book/book.h"
#include "host/photo_store.h"
#include "host/platform.h"

namespace steep {

/// Handover files of a folder, by name: '*.steepbook', '*.steepbook.txt', books '*.sqlite'. Not what begins with a dot.
Result<std::vector<std::string>> handover_files_in(const std::string& folder);

class FolderWatch {
 public:
  explicit FolderWatch(std::string folder) : folder_(std::move(folder)) {}
  const std::string& folder() const { return folder_; }

  /// So long a file has to look the same before it is taken for written whole.
  static constexpr std::chrono::milliseconds kRest{900};
  struct Found {
    std::string name;
    Result<File> file;  ///< Or why it cannot be read, said once; it is looked at again.
    bool own = false;   ///< Of this copy's name.
  };
  /// The next file that is new or was changed by others, and is no longer being written: its size and time stood still for kRest.
  /// nullopt when there is none now. Trouble::NotFound while the folder is away (a stick that was pulled out).
  Result<std::optional<Found>> next(const Book& book);
  /// The file of `next` could not be taken just now: it comes again at a later look, not before `wait` has passed unless it
  /// is changed.
  void again(const std::string& name, std::chrono::milliseconds wait = {});
  /// Was there a file, when `next` last looked through all, that has not stood still for kRest?
  bool waits() const { return waits_; }
  /// Writes this copy's file when the journal holds more than the one that lies there, or none does; never over one that
  /// `next` has not given yet: a device that was copied whole, and writes on, goes by the same name until the two have met.
  /// True when it wrote.
  /// A copy that has an id but no line of its own answers too: its file confirms what it has.
  Result<bool> answer(Book& book);
  /// Brings photos that records here name and the folder has, and lays there those that it lacks: some at a time.
  struct Photos {
    int came = 0, went = 0;
  };
  Result<Photos> meet_photos(const Book& book, PhotoStore& store);
  /// Brings all of them, lays none: how many came.
  Result<int> bring_photos(const Book& book, PhotoStore& store);

 private:
  using Clock = std::chrono::steady_clock;
  struct Looks {
    std::uintmax_t size = 0, log = 0;  ///< `log`: of a book that was not closed.
    std::filesystem::file_time_type time;
    bool operator==(const Looks&) const = default;
  };
  struct Seen {
    Looks looks;
    Clock::time_point since;
  };
  struct PhotoFile {
    Hash hash{};
    std::string path;
  };
  static std::optional<Looks> looks_of(const std::string& path);
  bool is_at_rest(const std::string& name, const Looks& looks);
  std::string own_name(const Book& book) const;
  Result<void> list_photos(const Book& book, const PhotoStore& store);
  bool fetch(const PhotoFile& photo, PhotoStore& store);

  std::string folder_;
  std::map<std::string, Seen> seen_;
  std::map<std::string, Looks> done_;
  std::set<std::string> unread_;  ///< Said to be unreadable.
  bool waits_ = false;
  std::int64_t answered_ = -1;                ///< Changes in the file that was written last; −1 = none in this run.
  std::vector<PhotoFile> to_fetch_, to_lay_;  ///< As of `photos_of_`.
  std::optional<std::uint64_t> photos_of_ = {};  ///< Counter of the book.
};

}  // namespace steep
