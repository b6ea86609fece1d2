#include "native/platform_desktop.h"

#include <fcntl.h>
#include <langinfo.h>
#include <sys/random.h>
#include <sys/wait.h>
#include <unistd.h>
#include <algorithm>
#include <cerrno>
#include <chrono>
#include <clocale>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <vector>

#include "base/sha256.h"
#include "base/text.h"
#include "book/book_file.h"
#include "handover/safety_copy.h"
#include "native/disk.h"
#include "native/photo_decode.h"

namespace steep {
namespace {

namespace fs = std::filesystem;
constexpr std::size_t kSafetyCopies = 3;
constexpr std::string_view kAnchor = "lanes";

bool has_program(const char* name) {
  const char* path = std::getenv("PATH");
  for (const std::string_view folder : split(path ? path : "", ':'))
    if (!folder.empty() && ::access((std::string(folder) + "/" + name).c_str(), X_OK) == 0) return true;
  return false;
}

/// Starts a program without a shell; the read end of its output, or −1.
int start(const std::vector<std::string>& words, pid_t& child) {
  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0) return -1;
  child = ::fork();
  if (child == 0) {
    ::dup2(ends[1], STDOUT_FILENO);
    std::vector<char*> arguments;
    for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    ::execvp(arguments[0], arguments.data());
    ::_exit(127);
  }
  ::close(ends[1]);
  if (child < 0) {
    ::close(ends[0]);
    return -1;
  }
  ::fcntl(ends[0], F_SETFL, O_NONBLOCK);
  return ends[0];
}

/// One file or folder, by whatever name; also of what is not there yet.
bool is_same_place(const fs::path& a, const fs::path& b) {
  std::error_code none;
  const auto full = [&none](const fs::path& path) { return fs::weakly_canonical(fs::absolute(path, none), none); };
  return fs::equivalent(a, b, none) || full(a) == full(b);
}

/// 'book-1778792520000.sqlite', as make_safety_copy names them.
bool is_safety_copy(std::string_view name) {
  if (!name.starts_with("book-") || !name.ends_with(".sqlite")) return false;
  name = name.substr(5, name.size() - 12);
  return name.size() >= 13 && name.find_first_not_of("0123456789-") == std::string_view::npos;
}

std::string locale_word() {
  for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"})
    if (const char* value = std::getenv(name); value && *value) return value;
  return "en";
}

}  // namespace

/// A file dialog of the desktop, run as a program of its own.
struct PlatformDesktop::Dialog {
  int output = -1;
  pid_t child = -1;
  std::string path;
  std::function<void(Result<File>)> then;
  ~Dialog() {
    if (output >= 0) ::close(output);
    if (child > 0) ::waitpid(child, nullptr, WNOHANG);
  }
};

PlatformDesktop::PlatformDesktop(std::string book_path)
    : book_path_(book_path.empty() ? data_folder() + "/book.sqlite" : std::move(book_path)),
      settings_path_(config_folder() + "/settings"),
      photos_(book_path_ + "-photos") {
  read_settings_file();
  last_saved_at_ = now().at;
}

PlatformDesktop::~PlatformDesktop() = default;

bool PlatformDesktop::can(Verb verb) const {
  switch (verb) {
    case Verb::PickFile: return has_program("zenity") || has_program("kdialog");
    case Verb::SaveFile: return true;
    case Verb::Print: return has_program("xdg-open");
    case Verb::Clipboard: return static_cast<bool>(clipboard);
    case Verb::WatchFolder: return true;
    case Verb::Camera:
    case Verb::ShareFile:
    case Verb::KeepAwake:
    case Verb::FindPosition:
    case Verb::Fullscreen: return false;
  }
  return false;
}

Stamp PlatformDesktop::now() {
  using namespace std::chrono;
  const auto ms = duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
  const std::time_t seconds = static_cast<std::time_t>(ms / 1000);
  std::tm local{};
  ::localtime_r(&seconds, &local);
  return {{ms}, static_cast<int>(local.tm_gmtoff / 60)};
}

void PlatformDesktop::random(std::span<std::uint8_t> bytes) {
  while (!bytes.empty()) {
    const auto got = ::getrandom(bytes.data(), bytes.size(), 0);
    if (got > 0) bytes = bytes.subspan(static_cast<std::size_t>(got));
  }
}

void PlatformDesktop::keep() { last_saved_at_ = now().at; }

StorageHealth PlatformDesktop::storage() { return {SaveState::Saved, last_saved_at_, {}, true, false}; }

/// Which lanes are in use is a matter of one book; a machine may hold several.
std::string PlatformDesktop::own_key(std::string_view key) const {
  if (key != kAnchor && key != kSafetyCopySetting) return std::string(key);
  std::error_code none;
  return std::string(key) + '-' + hex(sha256(fs::weakly_canonical(book_path_, none).string())).substr(0, 16);
}

void PlatformDesktop::read_settings_file() {
  const auto text = read_file(settings_path_);
  if (!text) return;
  settings_.clear();
  for (const std::string_view line : split(*text, '\n'))
    if (const auto mark = line.find('='); mark != std::string_view::npos)
      settings_.emplace(line.substr(0, mark), line.substr(mark + 1));
}

std::string PlatformDesktop::setting(std::string_view key) {
  if (key == kAnchor) read_settings_file();  // Another program may have begun to write this book.
  const auto place = settings_.find(own_key(key));
  return place == settings_.end() ? "" : place->second;
}

Result<void> PlatformDesktop::set_setting(std::string_view key, std::string_view value) {
  // The window and command lines may run at once: what the others wrote meanwhile stays.
  const FileLock lock(settings_path_ + ".lock");
  read_settings_file();
  std::string clean(value);
  std::replace(clean.begin(), clean.end(), '\n', ' ');
  settings_[own_key(key)] = clean;
  std::string text;
  for (const auto& [name, kept] : settings_) text += name + "=" + kept + "\n";
  return write_file_whole(settings_path_, text);
}

bool PlatformDesktop::belongs_to_book(const std::string& path) const {
  std::error_code none;
  for (const char* rest : {"", "-wal", "-shm", "-journal"})
    if (is_same_place(path, book_path_ + rest)) return true;
  for (const char* rest : {"-photos", "-safety-copies"})
    if (is_same_place(fs::absolute(path, none).parent_path(), book_path_ + rest)) return true;
  return false;
}

Result<void> PlatformDesktop::write_named(const std::string& path, std::string_view bytes) {
  if (belongs_to_book(path) || is_database(path)) return refuse(Trouble::Conflict, "file.is_book"_w, {path});
  return write_file_whole(path, bytes);
}

BookPlace PlatformDesktop::book_place() { return {book_path_, "", true}; }

void PlatformDesktop::make_safety_copy(std::function<void(Result<void>)> then) {
  later([then = std::move(then), made = copy_aside()] { then(made); });
}

Result<void> PlatformDesktop::copy_aside() {
  const std::string folder = book_path_ + "-safety-copies";  // Of this book alone.
  std::error_code error;
  TRY(make_folder(folder));
  const std::string copy = free_path(folder, "book-" + fixed(static_cast<double>(now().at.ms), 0) + ".sqlite");
  TRY(copy_book(book_path_, copy));
  std::vector<std::string> copies;
  for (const auto& entry : fs::directory_iterator(folder, error))
    if (is_safety_copy(entry.path().filename().string())) copies.push_back(entry.path().string());
  std::sort(copies.begin(), copies.end());
  for (std::size_t i = 0; i + kSafetyCopies < copies.size(); ++i) fs::remove(copies[i], error);
  return {};
}

void PlatformDesktop::pick_file(std::function<void(Result<File>)> then) {
  if (dialog_) return later([then] { then(refuse(Trouble::Conflict, "file.dialog_open"_w)); });
  auto dialog = std::make_unique<Dialog>();
  dialog->then = std::move(then);
  const std::vector<std::string> words = has_program("zenity")
                                             ? std::vector<std::string>{"zenity", "--file-selection"}
                                             : std::vector<std::string>{"kdialog", "--getopenfilename"};
  dialog->output = start(words, dialog->child);
  dialog_ = std::move(dialog);
}

void PlatformDesktop::answer() {
  auto answers = std::move(answers_);
  answers_.clear();
  for (const auto& each : answers) each();
  if (!dialog_) return;
  char piece[4096];
  for (;;) {
    const auto got = dialog_->output < 0 ? 0 : ::read(dialog_->output, piece, sizeof piece);
    if (got > 0)
      dialog_->path.append(piece, static_cast<std::size_t>(got));
    else if (got < 0 && errno == EAGAIN)
      return;  // Still open.
    else
      break;
  }
  const auto dialog = std::move(dialog_);
  const std::string path(trim(dialog->path));
  if (path.empty()) return dialog->then(refuse(Trouble::NotFound, "file.none_chosen"_w));
  auto bytes = read_to_take(path);
  if (!bytes) return dialog->then(tl::unexpected<Problem>(bytes.error()));
  dialog->then(File{fs::path(path).filename().string(), std::move(*bytes), "", changed_at(path)});
}

void PlatformDesktop::decode_photo(std::string bytes, int side, std::function<void(Result<Pixels>)> then) {
  later([bytes = std::move(bytes), side, then = std::move(then)] { then(steep::decode_photo(bytes, side)); });
}

void PlatformDesktop::save_file(File file, std::function<void(Result<void>)> then) {
  const std::string path = free_path(documents_folder(), file.name);
  const auto written = write_file_whole(path, file.bytes);
  later([then = std::move(then), written] { then(written); });
}

void PlatformDesktop::share_file(File, std::function<void(Result<void>)> then) {
  later([then = std::move(then)] { then(refuse(Trouble::Unsupported, "file.no_share"_w)); });
}

Result<void> PlatformDesktop::open_with_system(const std::string& path) {
  pid_t child = -1;
  const int output = start({"xdg-open", path}, child);
  if (output < 0) return refuse(Trouble::System, "file.cannot_open"_w, {path});
  ::close(output);
  return {};
}

void PlatformDesktop::print_page(File page, std::function<void(Result<void>)> then) {
  const std::string path = free_path(documents_folder(), page.name);
  Result<void> done = write_file_whole(path, page.bytes);
  if (done && can(Verb::Print)) done = open_with_system(path);
  later([then = std::move(then), done] { then(done); });
}

void PlatformDesktop::copy_text(std::string_view text) {
  if (clipboard) clipboard(std::string(text));
}

void PlatformDesktop::keep_awake(bool) {}  // A desk stays awake by its own settings; `can` says so.

std::string PlatformDesktop::language() { return locale_word(); }

char PlatformDesktop::decimal_mark() {
  std::setlocale(LC_NUMERIC, "");
  const char* mark = ::nl_langinfo(RADIXCHAR);
  const char found = mark && *mark == ',' ? ',' : '.';
  std::setlocale(LC_NUMERIC, "C");
  return found;
}

std::string PlatformDesktop::zone_name() {
  if (const char* set = std::getenv("TZ"); set && *set) return *set == ':' ? set + 1 : set;
  std::error_code error;
  const std::string link = fs::read_symlink("/etc/localtime", error).string();
  const auto place = link.find("zoneinfo/");
  if (place != std::string::npos) return link.substr(place + 9);
  const auto name = read_file("/etc/timezone");
  return name ? std::string(trim(*name)) : "";
}

void PlatformDesktop::announce(std::string_view, bool) {}  // No bridge to assistive technology; README says so.

void PlatformDesktop::wake_at(Moment at) {
  if (wake_.ms == 0 || at < wake_) wake_ = at;
}

}  // namespace steep
