#include "native/folder_watch.h"

#include <algorithm>

#include "base/text.h"
#include "book/photos.h"
#include "handover/file_reader.h"
#include "handover/give.h"
#include "native/disk.h"

namespace steep {
namespace {

namespace fs = std::filesystem;

constexpr int kPhotosAtOnce = 8;  // A window goes on being drawn.

bool is_handover_name(const std::string& name) {
  if (name.empty() || name.front() == '.') return false;
  return name.ends_with(".steepbook") || name.ends_with(".steepbook.txt") || name.ends_with(".sqlite");
}

/// How many changes a handover file says that it holds; −1 = it cannot be read.
std::int64_t changes_said(std::string_view bytes) {
  auto reader = FileReader::open(bytes);
  if (!reader) return -1;
  const auto first = reader->next();
  return first && *first != nullptr ? (*first)->header.changes : -1;
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

std::optional<FolderWatch::Looks> FolderWatch::looks_of(const std::string& path) {
  std::error_code failed, none;
  Looks looks{fs::file_size(path, failed), log_size(path), {}};
  if (!failed) looks.time = fs::last_write_time(path, failed);
  if (failed) return std::nullopt;
  if (looks.log > 0) looks.time = std::max(looks.time, fs::last_write_time(path + "-wal", none));
  return looks;
}

bool FolderWatch::is_at_rest(const std::string& name, const Looks& looks) {
  const auto now = Clock::now();
  const auto [seen, is_new] = seen_.try_emplace(name, Seen{looks, now});
  if (!is_new && seen->second.looks != looks) seen->second = {looks, now};
  return now - seen->second.since >= kRest;
}

Result<std::optional<FolderWatch::Found>> FolderWatch::next(const Book& book) {
  TRY_ASSIGN(const std::vector<std::string> names, handover_files_in(folder_));
  const std::string own = own_name(book);
  waits_ = false;
  for (const std::string& name : names) {
    const std::string path = folder_ + "/" + name;
    const auto looks = looks_of(path);
    if (!looks) continue;
    const auto done = done_.find(name);
    if (done != done_.end() && done->second == *looks) continue;
    if (!is_at_rest(name, *looks)) {
      waits_ = waits_ || unread_.count(name) == 0;
      continue;
    }
    auto bytes = read_to_take(path);
    if (bytes) {
      unread_.erase(name);
      done_[name] = *looks;
      // Written by an earlier run, or by a twin: a device that was copied whole goes by the same name until the two have met.
      if (name == own) answered_ = changes_said(*bytes);
      return std::optional(Found{name, File{name, std::move(*bytes), ""}, name == own});
    }
    seen_.erase(name);
    if (unread_.insert(name).second) return std::optional(Found{name, tl::unexpected<Problem>(bytes.error())});
  }
  return std::optional<Found>();
}

void FolderWatch::again(const std::string& name, std::chrono::milliseconds wait) {
  const auto done = done_.find(name);
  if (done == done_.end()) return;
  seen_[name] = {done->second, Clock::now() + wait};
  done_.erase(done);
}

Result<bool> FolderWatch::answer(Book& book) {
  if (!book.is_started() || book.copy().is_nil()) return false;
  const std::int64_t changes = book.change_count();
  const std::string name = own_name(book), path = folder_ + "/" + name;
  std::error_code none;
  if (const auto there = looks_of(path)) {
    const auto known = done_.find(name);
    const bool unread = (known == done_.end() || known->second != *there) && unread_.count(name) == 0;
    if (unread || changes == answered_) return false;
  }
  if (!fs::is_directory(folder_, none)) return refuse(Trouble::NotFound, "file.cannot_read"_w, {folder_}, folder_);
  TRY_ASSIGN(const Given given, give(book, {}));
  TRY(write_file_whole(path, given.file.bytes));
  TRY(book.note_given(given.tips, false));
  answered_ = changes;
  if (const auto looks = looks_of(path)) done_[name] = *looks;
  return true;
}

// ---- Photos ------------------------------------------------------------------------------------

/// Photos that are not here, and those that the folder lacks.
Result<void> FolderWatch::list_photos(const Book& book, const PhotoStore& store) {
  if (photos_of_ == book.counter()) return {};
  TRY_ASSIGN(const auto photos, all_photos(book));
  const std::string folder = folder_ + "/photos";
  std::set<std::string> there;
  std::error_code failed;
  for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed))
    there.insert(at->path().filename().string());
  to_fetch_.clear();
  to_lay_.clear();
  std::set<Hash> seen;
  for (const Photo& photo : photos) {
    const auto type = photo_type_of_word(photo.type);
    if (!type || !seen.insert(photo.hash).second) continue;
    const std::string name = hex(photo.hash) + std::string(photo_ending(*type));
    if (!store.has(photo.hash))
      to_fetch_.push_back({photo.hash, folder + "/" + name});
    else if (there.count(name) == 0)
      to_lay_.push_back({photo.hash, folder + "/" + name});
  }
  photos_of_ = book.counter();
  return {};
}

/// One that is still being written, or damaged, is not that of its name: it is looked at again once it was changed.
bool FolderWatch::fetch(const PhotoFile& photo, PhotoStore& store) {
  const auto looks = looks_of(photo.path);
  if (!looks || looks->size > kMaxPhoto) return false;
  const auto done = done_.find(photo.path);
  if (done != done_.end() && done->second == *looks) return false;
  const auto bytes = read_file(photo.path);
  if (!bytes) return false;
  if (photo_type(*bytes) && sha256(*bytes) == photo.hash) return store.keep(photo.hash, *bytes).has_value();
  done_[photo.path] = *looks;
  return false;
}

Result<FolderWatch::Photos> FolderWatch::meet_photos(const Book& book, PhotoStore& store) {
  Photos sum;
  std::error_code none;
  if (!book.is_started() || !fs::is_directory(folder_, none)) return sum;
  TRY(list_photos(book, store));
  std::erase_if(to_fetch_, [&](const PhotoFile& photo) {
    const bool came = sum.came < kPhotosAtOnce && fetch(photo, store);
    sum.came += came;
    return came;
  });
  for (; !to_lay_.empty() && sum.went < kPhotosAtOnce; to_lay_.pop_back()) {
    const PhotoFile& photo = to_lay_.back();
    Result<std::string> bytes = refuse(Trouble::NotFound, "photo.not_here"_w);
    store.read(photo.hash, [&bytes](Result<std::string> came) { bytes = std::move(came); });
    if (!bytes) continue;  // Damaged here: another copy may have it.
    TRY(make_folder(folder_ + "/photos"));
    TRY(write_file_whole(photo.path, *bytes));
    ++sum.went;
  }
  return sum;
}

Result<int> FolderWatch::bring_photos(const Book& book, PhotoStore& store) {
  TRY(list_photos(book, store));
  int came = 0;
  for (const PhotoFile& photo : to_fetch_) came += fetch(photo, store);
  photos_of_.reset();
  return came;
}

}  // namespace steep
