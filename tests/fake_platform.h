#pragma once
/// The platform of the tests: owns the clock, remembers what was asked of it, fails on demand.

#include <cstdio>
#include <deque>
#include <functional>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "host/platform.h"
#include "tests/memory_photos.h"

namespace steep::test {

class FakePlatform : public Platform {
 public:
  explicit FakePlatform(std::string book_path = ":memory:") : path(std::move(book_path)) {}

  // ---- What the test sets ----
  std::string path;
  Moment clock{1778792520000};  ///< Thu 14 May 2026, 2:02 pm in Los Angeles.
  std::string zone = "America/Los_Angeles";
  int offset_minutes = -420;
  std::string device_language = "en";
  char mark = '.';
  DeviceLook device;
  ProgramState state;
  StorageHealth health;
  bool saves_at_once = true;  ///< Else `keep` leaves it at Saving until `saved()`.
  std::map<std::string, std::string, std::less<>> settings;
  std::deque<File> files_to_pick;  ///< The next one is what a person picks; none = nothing chosen.
  int fail_keep_after = -1;        ///< So many more `keep`s work; −1 = all.
  bool fail_share = false, fail_settings = false, fail_safety_copy = false;
  std::vector<Verb> cannot;
  MemoryPhotos photo_store;

  // ---- What was asked ----
  std::vector<std::string> asked;  ///< 'keep', 'share Alder Reach.steepbook', 'awake on' …
  std::vector<File> given;         ///< Saved, shared and printed files.
  std::vector<std::string> said;   ///< To assistive technology.
  bool awake = false;
  int count(std::string_view what) const {
    int n = 0;
    for (const std::string& ask : asked) n += ask == what;
    return n;
  }
  void saved() {
    health.state = SaveState::Saved;
    health.last_saved = clock;
  }
  void wait(std::int64_t ms) { clock = clock + ms; }
  /// Callbacks come later, never from inside the call: the test lets them come.
  void answer() {
    while (!answers_.empty()) {
      auto next = std::move(answers_.front());
      answers_.pop_front();
      next();
    }
  }

  // ---- Platform ----
  bool can(Verb verb) const override {
    for (const Verb v : cannot) {
      if (v == verb) return false;
    }
    return true;
  }
  Stamp now() override { return {clock, offset_minutes}; }
  void random(std::span<std::uint8_t> bytes) override {
    for (std::uint8_t& byte : bytes) {
      seed_ ^= seed_ << 13;
      seed_ ^= seed_ >> 7;
      seed_ ^= seed_ << 17;
      byte = static_cast<std::uint8_t>(seed_ >> 32);
    }
  }
  void keep() override {
    asked.emplace_back("keep");
    if (fail_keep_after == 0) {
      health.state = SaveState::NotSaved;
      health.trouble = "QuotaExceededError";
      return;
    }
    if (fail_keep_after > 0) --fail_keep_after;
    if (saves_at_once) {
      saved();
    } else {
      health.state = SaveState::Saving;
    }
  }
  StorageHealth storage() override { return health; }
  void ask_lasting() override { asked.emplace_back("lasting"); }
  void use_here() override { asked.emplace_back("use here"); }
  void use_newer() override { asked.emplace_back("use newer"); }
  std::string setting(std::string_view key) override {
    const auto found = settings.find(key);
    return found == settings.end() ? std::string() : found->second;
  }
  Result<void> set_setting(std::string_view key, std::string_view value) override {
    if (fail_settings) return refuse(Trouble::System, "book.storage"_w, {"settings"});
    settings[std::string(key)] = value;
    return {};
  }
  BookPlace book_place() override { return {path, {}, false}; }
  void make_safety_copy(std::function<void(Result<void>)> then) override {
    asked.emplace_back("safety copy");
    Result<void> made;
    if (fail_safety_copy) made = refuse(Trouble::System, "book.storage"_w, {"safety copy"});
    answers_.push_back([then = std::move(then), made] { then(made); });
  }
  PhotoStore& photos() override { return photo_store; }
  void pick_file(std::function<void(Result<File>)> then) override {
    asked.emplace_back("pick");
    if (files_to_pick.empty()) {
      answers_.push_back([then] { then(refuse(Trouble::NotFound, "take.empty"_w)); });
      return;
    }
    File file = std::move(files_to_pick.front());
    files_to_pick.pop_front();
    answers_.push_back([then, file = std::move(file)] { then(file); });
  }
  void pick_photo(std::function<void(Result<File>)> then) override { pick_file(std::move(then)); }
  /// Each byte of its end a grey; what is called 'broken' cannot be shown.
  void decode_photo(std::string bytes, int side, std::function<void(Result<Pixels>)> then) override {
    asked.push_back("decode " + std::to_string(side));
    answers_.push_back([bytes = std::move(bytes), then] {
      if (bytes.find("broken") != std::string::npos) return then(refuse(Trouble::Unsupported, "photo.cannot_show"_w));
      Pixels pixels{4, 3, {}};
      for (int i = 0; i < 12; ++i) pixels.rgba += std::string(3, bytes.back()) + '\xFF';
      then(std::move(pixels));
    });
  }
  void save_file(File file, std::function<void(Result<void>)> then) override {
    out("save", std::move(file), std::move(then));
  }
  void share_file(File file, std::function<void(Result<void>)> then) override {
    out("share", std::move(file), std::move(then));
  }
  void print_page(File file, std::function<void(Result<void>)> then) override {
    out("print", std::move(file), std::move(then));
  }
  void copy_text(std::string_view text) override { asked.push_back("copy " + std::string(text)); }
  void keep_awake(bool on) override {
    awake = on;
    asked.emplace_back(on ? "awake on" : "awake off");
  }
  std::string language() override { return device_language; }
  char decimal_mark() override { return mark; }
  std::string zone_name() override { return zone; }
  void announce(std::string_view text, bool) override { said.emplace_back(text); }
  void wake_at(Moment) override {}
  DeviceLook device_look() override { return device; }
  ProgramState program() override { return state; }

 private:
  void out(std::string_view how, File file, std::function<void(Result<void>)> then) {
    asked.push_back(std::string(how) + " " + file.name);
    const bool fails = fail_share;
    if (!fails) given.push_back(std::move(file));
    answers_.push_back([then, fails] {
      if (fails) {
        then(refuse(Trouble::System, "book.storage"_w, {"share"}));
      } else {
        then(Result<void>());
      }
    });
  }
  std::deque<std::function<void()>> answers_;
  std::uint64_t seed_ = 0x9E3779B97F4A7C15u;
};

}  // namespace steep::test
