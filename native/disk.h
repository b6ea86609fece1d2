#pragma once
/// Folders and files of the desktop program.

#include <cstdint>
#include <string>
#include <string_view>

#include "base/moment.h"
#include "base/result.h"

namespace steep {

/// $XDG_DATA_HOME/steepbook or ~/.local/share/steepbook; made when missing.
std::string data_folder();
/// $XDG_CONFIG_HOME/steepbook or ~/.config/steepbook; made when missing.
std::string config_folder();
/// Where saved files go: the user's documents folder, else home, else the current folder.
std::string documents_folder();

Result<std::string> read_file(const std::string& path);
/// When it was last written; 0 when it is not there.
Moment changed_at(const std::string& path);
/// At most so many bytes from its start: enough to tell what it is before it is read whole.
Result<std::string> read_start(const std::string& path, std::size_t bytes);
/// A book, or another SQLite database?
bool is_database(const std::string& path);
/// Whole, to be taken in: of a book that was not closed also what its write-ahead log holds.
Result<std::string> read_to_take(const std::string& path);
/// Size of the log of a book that was not closed; 0 = there is none.
std::uintmax_t log_size(const std::string& path);
/// Makes the folder, lastingly; fine when it is there.
Result<void> make_folder(const std::string& folder);
/// Temp file of its own beside it, synced, renamed: the old content or the new, never a half, whoever else writes there.
Result<void> write_file_whole(const std::string& path, std::string_view bytes);
/// `name` reduced to letters, digits, '-', '_' and '.', so that a label can never leave the folder.
std::string safe_file_name(std::string_view name);
/// `folder/name`, with ' 2', ' 3' … before the ending when taken.
std::string free_path(const std::string& folder, std::string_view name);

/// Held while a file is read, changed and written: other programs wait. `path` is made and stays.
class FileLock {
 public:
  explicit FileLock(const std::string& path);
  ~FileLock();
  FileLock(const FileLock&) = delete;
  FileLock& operator=(const FileLock&) = delete;

 private:
  int file_ = -1;  ///< −1: it could not be made; then the file itself cannot be written either.
};

}  // namespace steep
