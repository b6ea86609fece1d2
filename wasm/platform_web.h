#pragma once
/// The browser behind the abstract platform. The book lies in a PageStore over IndexedDB, small
/// settings in localStorage; files go out by download or share sheet and come in through the real
/// file inputs that the page lays over FilePick items.

#include <deque>
#include <functional>
#include <map>
#include <optional>

#include "host/platform.h"
#include "wasm/page_store.h"
#include "wasm/photos_web.h"

namespace steep {

class PlatformWeb : public Platform, private PageBackend {
 public:
  PlatformWeb();
  ~PlatformWeb() override;

  bool can(Verb verb) const override;
  Stamp now() override;
  void random(std::span<std::uint8_t> bytes) override;
  void keep() override;
  StorageHealth storage() override { return store_.health(); }
  void ask_lasting() override;
  void use_here() override;
  std::string setting(std::string_view key) override;
  Result<void> set_setting(std::string_view key, std::string_view value) override;
  BookPlace book_place() override;
  void make_safety_copy(std::function<void(Result<void>)> then) override;
  PhotosWeb& photos() override { return photos_; }
  void decode_photo(std::string bytes, int side, std::function<void(Result<Pixels>)> then) override;
  void pick_photo(std::function<void(Result<File>)> then) override { pick_file(std::move(then)); }
  void pick_file(std::function<void(Result<File>)> then) override;
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
  DeviceLook device_look() override { return device_; }
  ProgramState program() override { return program_; }
  void use_newer() override;

  // ---- What the page tells ----
  PageStore& store() { return store_; }
  void set_device(const DeviceLook& device) { device_ = device; }
  void set_program(const ProgramState& program) { program_ = program; }
  /// A file that a person chose; goes to the pick_file that asked, or the next one that asks.
  void file_chosen(Result<File> file);
  /// A share sheet, download or print that was asked for has ended. Ends: 0 done, 1 closed by the person,
  /// 2 refused for want of a press (try again by one), 3 not possible here. Of a safety copy: 0 made, 4 not.
  void answered(int number, int end);
  /// Of decode_photo; nullptr = the browser cannot.
  void pixels_came(int number, const char* rgba, int width, int height);
  /// Gives answers that came in: never inside the call that asked. True when there were some.
  bool answer();
  /// Ends the time that wake_at asked for; nullopt when none.
  std::optional<Moment> next_wake() const { return wake_; }
  void forget_wake() { wake_.reset(); }

 private:
  void write(const PageWrite& write, const PageStore& store) override;
  void reopen() override;

  int await(std::function<void(Result<void>)> then);

  PageStore store_;
  PhotosWeb photos_;
  DeviceLook device_;
  ProgramState program_;
  std::function<void(Result<File>)> picking_;
  std::optional<Result<File>> chosen_;
  std::map<int, std::function<void(Result<void>)>> waiting_;
  std::map<int, std::function<void(Result<Pixels>)>> decoding_;
  std::deque<std::function<void()>> answers_;
  int numbers_ = 0;
  std::optional<Moment> wake_;
};

/// The plain lines of a gzip file; nullopt when it is not one, is damaged or larger than `most` bytes.
std::optional<std::string> gunzipped(std::string_view bytes, std::size_t most);

}  // namespace steep
