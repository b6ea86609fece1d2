#pragma once
/// Runs screens and widgets without a window: frames, presses by name, touches, pictures.
///
///   Harness harness({.width = 390, .height = 844, .density = 2});
///   harness.draw = [&] { … };          // what a frame draws, between begin_look and end_look
///   harness.settle();
///   REQUIRE(harness.press("N11 done…"));
///   harness.save("build/pictures/spraying.png");

#include <functional>
#include <string>
#include <string_view>

#include "base/words.h"
#include "look/item_tree.h"
#include "look/theme.h"
#include "screens/raster.h"

struct ImGuiContext;

namespace steep::test {

class Harness {
 public:
  explicit Harness(Look first_look = {}, Language language = Language::English);
  ~Harness();
  Harness(const Harness&) = delete;
  Harness& operator=(const Harness&) = delete;

  Look look;  ///< May be changed between frames.
  Words words;
  ItemTree tree;
  std::function<void()> draw;  ///< Called once a frame.
  /// When set, runs the whole frame itself (app): begin_look … end_look are its own then.
  std::function<void()> whole_frame;
  double now = 100;  ///< Seconds of the harness's clock; moves only with frames and `wait`.

  /// One frame, 1/60 s after the last.
  void frame();
  /// Frames until nothing asks for one within the next 20 ms; at most `most`. Returns how many.
  int settle(int most = 120);
  /// Lets time pass and draws the frames asked for within it.
  void wait(double seconds);

  /// Presses by name ('…' at the end: starts with), as an assistive technology would, and settles.
  /// More than 350 ms after the last one.
  bool press(std::string_view name);
  bool press(Role role, std::string_view name);
  bool type(std::string_view name, std::string text, bool done = true);
  const Item* find(std::string_view name) const { return tree.find(name); }
  const Item* find(Role role, std::string_view name) const { return tree.find(role, name); }

  // The finger itself, in dp; each draws a frame. `tap` at an item's middle.
  void touch_down(float x, float y);
  void touch_move(float x, float y);
  void touch_up();
  void tap(float x, float y);
  bool tap(std::string_view name);
  void mouse_move(float x, float y);
  void mouse_click(float x, float y);
  void key(int imgui_key, bool shift = false);

  /// The last frame as a picture.
  Picture picture() const;
  bool save(const std::string& path) const;
  double last_frame_ms() const { return last_frame_ms_; }  ///< Of drawing, without rasterizing.

 private:
  void press_id(std::uint32_t id);
  /// Frames until Dear ImGui has taken all input: it spreads fast events over frames.
  void drain();
  ImGuiContext* context_;
  double last_frame_ms_ = 0;
};

}  // namespace steep::test
