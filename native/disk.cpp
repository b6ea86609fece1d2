#include "native/disk.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <system_error>

#include "book/book_file.h"

namespace steep {
namespace {

namespace fs = std::filesystem;

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

std::string home() {
  const auto folder = environment("HOME");
  return folder.empty() ? "." : folder;
}

std::string made(const std::string& folder) {
  std::error_code ignored;  // What cannot be made shows when the first file is written there.
  fs::create_directories(folder, ignored);
  return folder;
}

std::string base_folder(const char* variable, const char* below_home) {
  const auto set = environment(variable);
  return (set.empty() ? home() + below_home : set) + "/steepbook";
}

/// A name is lasting once its folder is. Where a system does not let folders be opened, it does that by itself.
void sync_folder(const std::string& folder) {
  const int opened = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (opened < 0) return;
  ::fsync(opened);
  ::close(opened);
}

/// A new file that nobody else writes, and what it is called.
int open_beside(const std::string& path, std::string& name) {
  for (int i = 0;; ++i) {
    name = path + "." + std::to_string(::getpid()) + "-" + std::to_string(i) + ".part";
    const int file = ::open(name.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0644);
    if (file >= 0 || errno != EEXIST) return file;
  }
}

}  // namespace

std::string data_folder() { return made(base_folder("XDG_DATA_HOME", "/.local/share")); }
std::string config_folder() { return made(base_folder("XDG_CONFIG_HOME", "/.config")); }

std::string documents_folder() {
  std::error_code none;
  for (const std::string& folder : {environment("XDG_DOCUMENTS_DIR"), home() + "/Documents", home()})
    if (!folder.empty() && fs::is_directory(folder, none)) return folder;
  return ".";
}

Result<std::string> read_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream bytes;
  if (!in || !(bytes << in.rdbuf()).good()) {
    std::error_code none;
    if (in && fs::is_regular_file(path, none) && fs::file_size(path, none) == 0) return std::string();
    return refuse(Trouble::NotFound, "file.cannot_read"_w, {path}, path);
  }
  return std::move(bytes).str();
}

Moment changed_at(const std::string& path) {
  struct stat looks {};
  if (::stat(path.c_str(), &looks) != 0) return {};
  return {static_cast<std::int64_t>(looks.st_mtim.tv_sec) * 1000 + looks.st_mtim.tv_nsec / 1'000'000};
}

Result<std::string> read_start(const std::string& path, std::size_t bytes) {
  std::ifstream in(path, std::ios::binary);
  std::string start(bytes, '\0');
  if (!in || (!in.read(start.data(), static_cast<std::streamsize>(bytes)) && !in.eof()))
    return refuse(Trouble::NotFound, "file.cannot_read"_w, {path}, path);
  start.resize(static_cast<std::size_t>(in.gcount()));
  return start;
}

bool is_database(const std::string& path) {
  const auto start = read_start(path, 16);
  return start && start->starts_with("SQLite format 3");
}

std::uintmax_t log_size(const std::string& path) {
  std::error_code none;
  const std::uintmax_t size = fs::file_size(path + "-wal", none);
  return none ? 0 : size;
}

Result<std::string> read_to_take(const std::string& path) {
  if (log_size(path) > 0 && is_database(path)) return bytes_of_book(path);
  return read_file(path);
}

Result<void> make_folder(const std::string& folder) {
  std::error_code failed;
  if (!fs::create_directories(folder, failed) && failed)
    return refuse(Trouble::System, "file.cannot_write"_w, {folder}, folder);
  sync_folder(fs::path(folder).parent_path().string());
  return {};
}

Result<void> write_file_whole(const std::string& path, std::string_view bytes) {
  const auto fail = [&] { return refuse(Trouble::System, "file.cannot_write"_w, {path}, path); };
  std::string temporary;
  const int file = open_beside(path, temporary);
  if (file < 0) return fail();
  bool fine = true;
  while (fine && !bytes.empty()) {
    const auto written = ::write(file, bytes.data(), bytes.size());
    fine = written > 0;
    if (fine) bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  fine = fine && ::fsync(file) == 0;
  fine = ::close(file) == 0 && fine;
  if (fine && ::rename(temporary.c_str(), path.c_str()) == 0) {
    sync_folder(fs::path(path).parent_path().string());
    return {};
  }
  ::unlink(temporary.c_str());
  return fail();
}

FileLock::FileLock(const std::string& path) : file_(::open(path.c_str(), O_CREAT | O_RDWR | O_CLOEXEC, 0644)) {
  while (file_ >= 0 && ::flock(file_, LOCK_EX) != 0 && errno == EINTR) continue;
}

FileLock::~FileLock() {
  if (file_ >= 0) ::close(file_);
}

std::string safe_file_name(std::string_view name) {
  std::string safe;
  for (const char c : name) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
                       c == '_' || (c == '.' && !safe.empty());
    safe += plain ? c : '-';
  }
  return safe.empty() ? "file" : safe;
}

std::string free_path(const std::string& folder, std::string_view name) {
  const std::string safe = safe_file_name(name);
  const auto ending = safe.find('.');
  const std::string stem = safe.substr(0, ending), rest = ending == std::string::npos ? "" : safe.substr(ending);
  std::error_code none;
  std::string path = folder + "/" + safe;
  for (int i = 2; fs::exists(path, none); ++i) path = folder + "/" + stem + "-" + std::to_string(i) + rest;
  return path;
}

}  // namespace steep
