#pragma once
/// A folder through which copies meet: any file sync, a share, a USB stick. Handover files that appear there are to be taken in;
/// this copy's own file is written there and kept up to date. Looked into now and then: no system's notices are needed,
/// and they would not come from a share or a stick anyway.

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>

#include "book/book.h"
#include "host/platform.h"

namespace steep {

/// Handover files of a folder, by name: '*.steepbook', '*.steepbook.txt', books '*.sqlite'. Not what begins with a dot.
Result<std::vector<std::string>> handover_files_in(const std::string& folder);

class FolderWatch {
 public:
  explicit FolderWatch(std::string folder) : folder_(std::move(folder)) {}
  const std::string& folder() const { return folder_; }

  /// The next file that is new or was changed, and is no longer being written: its size and time stood still since the look before.
  /// nullopt when there is none now. Trouble::NotFound while the folder is away (a stick that was pulled out).
  Result<std::optional<File>> next(const Book& book);
  /// The file of `next` could not be taken just now: it comes again at the next look.
  void again(const std::string& name) { done_.erase(name); }
  /// Writes this copy's file when the journal holds more than its last one, or nothing is there yet. True when it wrote.
  /// A copy that has an id but no line of its own answers too: its file confirms what it has.
  Result<bool> answer(Book& book);

 private:
  struct Looks {
    std::uintmax_t size = 0;
    std::filesystem::file_time_type time;
    bool operator==(const Looks&) const = default;
  };
  std::string own_name(const Book& book) const;
  std::string folder_;
  std::map<std::string, Looks> seen_, done_;
  std::int64_t answered_ = -1;  ///< Changes in the file that was written last; −1 = none in this run.
};

}  // namespace steep
