#pragma once
/// The whole program without a window: pages driven by the names that a screen reader speaks.

#include <algorithm>
#include <cstdio>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "app/app.h"
#include "book/book.h"
#include "imgui.h"
#include "imgui_internal.h"
#include "screens/harness.h"
#include "tests/fake_platform.h"

namespace steep::test {

inline Look small_phone() {
  Look look;
  look.width = 390;
  look.height = 844;
  return look;
}
inline Look desktop() {
  Look look;
  look.width = 1440;
  look.height = 900;
  return look;
}

/// Found by any AppRun of this process: main() fails then.
inline int names_not_in_words = 0;
inline int never_at_rest = 0;

class AppRun {
 public:
  explicit AppRun(FakePlatform& fake, Look first_look = {}, AppOptions app_options = {})
      : platform(fake), harness(first_look), options(app_options) {
    open();
  }

  FakePlatform& platform;
  Harness harness;
  AppOptions options;
  int presses = 0;  ///< Of buttons, rows, choices; keys of the number pad are not counted.
  int frames = 0;

  App& app() { return *app_; }
  Book& book() { return *app_->book(); }

  /// Ends the program as a kill does: nothing is told, what is not committed is gone.
  void kill_and_open() {
    harness.whole_frame = nullptr;
    app_.reset();
    open();
  }

  void frame() {
    platform.clock = platform.clock + 17;
    harness.frame();
    ++frames;
  }
  /// Frames until the program is at rest.
  void settle(int most = 400) {
    frame();
    for (int i = 0; i < most; ++i) {
      platform.answer();
      const bool soon = app_->next_wake() - platform.clock < 40;
      if (!app_->needs_frame() && !soon && i > 1) return check_words();
      frame();
    }
    ++never_at_rest;
    std::fprintf(stderr, "never came to rest: needs %d, next wake in %lld ms\n%s", app_->needs_frame(),
                 static_cast<long long>(app_->next_wake() - platform.clock), screen().c_str());
  }
  /// Time passes; frames are drawn when the program asked for them. Returns how many.
  int wait(std::int64_t ms) {
    const Moment until = platform.clock + ms;
    int drawn = 0;
    while (app_->needs_frame() || app_->next_wake() <= until) {
      if (!app_->needs_frame()) platform.clock = std::max(platform.clock, app_->next_wake());
      if (platform.clock > until) break;
      frame();
      ++drawn;
      if (drawn > 100000) break;
    }
    if (platform.clock < until) platform.clock = until;
    return drawn;
  }

  const Item* find(std::string_view name) const { return app_->items().find(name); }
  bool shows(std::string_view name) const { return find(name) != nullptr; }
  /// Somewhere within the name of an item.
  bool shows_part(std::string_view text) const { return !name_with(text).empty(); }
  /// The first name that holds this text; empty = none does.
  std::string name_with(std::string_view text) const {
    for (const Item& item : app_->items().items())
      if (item.name.find(text) != std::string::npos) return item.name;
    return {};
  }
  /// Says what is on screen, for the message of a failed check.
  std::string screen() const {
    std::string all;
    for (const Item& item : app_->items().items())
      all += (item.enabled ? "  [" : "  (") + item.name + (item.enabled ? "]" : ")") + "\n";
    return all;
  }
  /// A tap on the item with this name ('…' at the end: it begins so), once the last one is half a second ago.
  bool press(std::string_view name) {
    const Item* item = pressable(name);
    if (!item) {
      std::fprintf(stderr, "no '%s' on screen:\n%s", std::string(name).c_str(), screen().c_str());
      return false;
    }
    platform.wait(500);
    ++presses;
    if (!app_->items().press(item->id)) {
      std::fprintf(stderr, "'%s' cannot be pressed:\n%s", std::string(name).c_str(), screen().c_str());
      return false;
    }
    settle();
    return true;
  }
  /// The finger itself, in dp; `times` taps a tenth of a second apart, as a wet glove bounces.
  void tap(float x, float y, int times = 1) {
    ImGuiIO& io = ImGui::GetIO();
    for (int i = 0; i < times; ++i) {
      if (i > 0) platform.wait(60);
      io.AddMouseSourceEvent(ImGuiMouseSource_TouchScreen);
      io.AddMousePosEvent(x, y);
      io.AddMouseButtonEvent(0, true);
      drain();
      io.AddMouseButtonEvent(0, false);
      drain();
    }
    settle();
  }
  /// On the middle of the item with this name.
  bool tap(std::string_view name, int times = 1) {
    const Item* item = pressable(name);
    if (!item || item->rect == ItemRect{}) {
      std::fprintf(stderr, "no '%s' to tap:\n%s", std::string(name).c_str(), screen().c_str());
      return false;
    }
    platform.wait(500);
    tap((item->rect.left + item->rect.right) / 2, (item->rect.top + item->rect.bottom) / 2, times);
    return true;
  }
  /// Keys of the number pad: not counted.
  bool key(std::string_view name) {
    const bool done = press(name);
    --presses;
    return done;
  }
  bool type(std::string_view field, std::string text) {
    const Item* item = app_->items().find(Role::Field, field);
    if (!item) {
      std::fprintf(stderr, "no field '%s':\n%s", std::string(field).c_str(), screen().c_str());
      return false;
    }
    app_->items().type(item->id, std::move(text), true);
    settle();
    return true;
  }

 private:
  /// Frames until Dear ImGui has taken all input: it spreads fast events over frames.
  void drain() {
    do frame();
    while (!ImGui::GetCurrentContext()->InputEventsQueue.empty());
  }
  /// A value that never became words: a place of a sentence left open, a record's id, a missing text, a sign of our own.
  static bool is_unspelled(std::string_view name) {
    constexpr std::size_t kIdText = 26;
    std::size_t run = 0;
    for (std::size_t i = 0; i <= name.size(); ++i) {
      const char c = i < name.size() ? name[i] : ' ';
      if (static_cast<unsigned char>(c) < 0x20) return true;
      if (c == '{' && name.substr(i + 1, 2).ends_with('}')) return true;
      const bool in_id = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z');
      if (!in_id && (run == kIdText || run == kIdText + 1)) return true;
      run = in_id ? run + 1 : 0;
    }
    const bool trails = name.starts_with(' ') || name.ends_with(' ');
    return name.starts_with('[') || trails || name.find("  ") != std::string_view::npos;
  }
  /// On every screen of every test and picture.
  void check_words() const {
    for (const Item& item : app_->items().items()) {
      if (!is_unspelled(item.name) && !is_unspelled(item.error)) continue;
      ++names_not_in_words;
      std::fprintf(stderr, "not in words: '%s' '%s' on\n%s", item.name.c_str(), item.error.c_str(), screen().c_str());
    }
  }
  static bool is_pressable(Role role) {
    return role == Role::Button || role == Role::Tab || role == Role::Choice || role == Role::Check ||
           role == Role::Row || role == Role::FilePick;
  }
  const Item* pressable(std::string_view name) const {
    const bool begins = name.size() > 3 && name.substr(name.size() - 3) == "…";
    const std::string_view wanted = begins ? name.substr(0, name.size() - 3) : name;
    for (const Item& item : app_->items().items()) {
      if (!is_pressable(item.role)) continue;
      if (begins ? std::string_view(item.name).substr(0, wanted.size()) == wanted : item.name == wanted) return &item;
    }
    return nullptr;
  }
  void open() {
    app_ = std::make_unique<App>(platform, options);
    harness.whole_frame = [this] {
      ImGui::NewFrame();
      app_->frame();
      ImGui::Render();
    };
    settle();
  }
  std::unique_ptr<App> app_;
};

}  // namespace steep::test
