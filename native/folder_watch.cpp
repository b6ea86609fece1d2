#include "native/folder_watch.h"

#include <algorithm>

#include "base/text.h"
#include "handover/give.h"
#include "native/disk.h"

namespace steep {
namespace {

namespace fs = std::filesystem;

bool is_handover_name(const std::string& name) {
  if (name.empty() || name.front() == '.') return false;
  return name.ends_with(".steepbook") || name.ends_with(".steepbook.txt") || name.ends_with(".sqlite");
}

}  // namespace

Result<std::vector<std::string>> handover_files_in(const std::string& folder) {
  std::error_code failed;
  fs::directory_iterator at(folder, failed);
  if (failed) return refuse(Trouble::NotFound, "file.cannot_read"_w, {folder}, folder);
  std::vector<std::string> names;
  for (const fs::directory_iterator end; at != end && !failed; at.increment(failed)) {
    std::error_code none;
    const std::string name = at->path().filename().string();
    if (is_handover_name(name) && at->is_regular_file(none)) names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

/// Of this copy for ever: others overwrite none of ours, and ours replaces only ours.
std::string FolderWatch::own_name(const Book& book) const {
  std::string label;
  for (const char c : lower(book.copy_label())) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (plain)
      label += c;
    else if (!label.empty() && label.back() != '-')
      label += '-';
  }
  while (label.ends_with('-')) label.pop_back();
  return (label.empty() ? "copy" : label) + "-" + short_code(book.copy()) + ".steepbook";
}

Result<std::optional<File>> FolderWatch::next(const Book& book) {
  TRY_ASSIGN(const std::vector<std::string> names, handover_files_in(folder_));
  const std::string own = own_name(book);
  for (const std::string& name : names) {
    if (name == own) continue;
    const std::string path = folder_ + "/" + name;
    std::error_code failed;
    Looks looks{fs::file_size(path, failed), {}};
    if (!failed) looks.time = fs::last_write_time(path, failed);
    if (failed) continue;
    const auto done = done_.find(name);
    if (done != done_.end() && done->second == looks) continue;
    const auto seen = seen_.find(name);
    const bool at_rest = seen != seen_.end() && seen->second == looks;
    seen_[name] = looks;
    if (!at_rest) continue;
    done_[name] = looks;
    auto bytes = read_file(path);
    if (bytes) return std::optional(File{name, std::move(*bytes), ""});
  }
  return std::optional<File>();
}

Result<bool> FolderWatch::answer(Book& book) {
  if (!book.is_started() || book.copy().is_nil()) return false;
  const std::int64_t changes = book.change_count();
  const std::string path = folder_ + "/" + own_name(book);
  std::error_code none;
  if (changes == answered_ && fs::exists(path, none)) return false;
  if (!fs::is_directory(folder_, none)) return refuse(Trouble::NotFound, "file.cannot_read"_w, {folder_}, folder_);
  TRY_ASSIGN(const Given given, give(book, {}));
  TRY(write_file_whole(path, given.file.bytes));
  TRY(book.note_given(given.tips, false));
  answered_ = changes;
  return true;
}

}  // namespace steep
