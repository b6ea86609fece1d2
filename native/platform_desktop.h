#pragma once
/// The desktop behind the abstract platform: files, clock, settings; dialogs of the desktop where it has some.

#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <string>

#include "host/platform.h"
#include "native/photo_folder.h"

namespace steep {

class PlatformDesktop : public Platform {
 public:
  /// `book_path` empty = the user's own book in the data folder.
  explicit PlatformDesktop(std::string book_path = {});
  ~PlatformDesktop() override;

  bool can(Verb verb) const override;
  Stamp now() override;
  void random(std::span<std::uint8_t> bytes) override;
  void keep() override;
  StorageHealth storage() override;
  std::string setting(std::string_view key) override;
  Result<void> set_setting(std::string_view key, std::string_view value) override;
  BookPlace book_place() override;
  void make_safety_copy(std::function<void(Result<void>)> then) override;
  PhotoStore& photos() override { return photos_; }
  void pick_file(std::function<void(Result<File>)> then) override;
  void pick_photo(std::function<void(Result<File>)> then) override { pick_file(std::move(then)); }
  void decode_photo(std::string bytes, int side, std::function<void(Result<Pixels>)> then) override;
  void save_file(File file, std::function<void(Result<void>)> then) override;
  void share_file(File file, std::function<void(Result<void>)> then) override;
  void print_page(File page, std::function<void(Result<void>)> then) override;
  void copy_text(std::string_view text) override;
  void keep_awake(bool on) override;
  std::string language() override;
  char decimal_mark() override;
  std::string zone_name() override;
  void announce(std::string_view text, bool urgent) override;
  void wake_at(Moment at) override;

  /// make_safety_copy for whoever draws no frames.
  Result<void> copy_aside();
  /// Writes a file that a person named, over what lies there; never over the book, what belongs to it, or another database.
  Result<void> write_named(const std::string& path, std::string_view bytes);

  /// Gives answers that have come in (a dialog that closed); once a frame, never inside a call.
  void answer();
  /// Is a dialog open, so that the loop must look again soon?
  bool waits_for_answer() const { return dialog_ != nullptr || !answers_.empty(); }
  Moment next_wake() const { return wake_; }
  void forget_wake() { wake_ = {}; }

  std::function<void(const std::string&)> clipboard;  ///< Set by the window.

 private:
  struct Dialog;
  void later(std::function<void()> answer) { answers_.push_back(std::move(answer)); }
  Result<void> open_with_system(const std::string& path);
  bool belongs_to_book(const std::string& path) const;
  std::string own_key(std::string_view key) const;
  void read_settings_file();
  std::string book_path_, settings_path_;
  PhotoFolder photos_;
  std::map<std::string, std::string, std::less<>> settings_;
  std::deque<std::function<void()>> answers_;
  std::unique_ptr<Dialog> dialog_;
  Moment wake_, last_saved_at_;
};

}  // namespace steep
