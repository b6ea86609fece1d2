#pragma once
/// What the files of look/ share during a frame. Not for screens.

#include <initializer_list>
#include <limits>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "imgui.h"
#include "look/frame.h"
#include "look/press.h"

namespace steep::look_state {

/// One finger or mouse button, from down to up.
struct Pointer {
  Point pos{-1e9f, -1e9f}, before{-1e9f, -1e9f}, start;
  bool down = false;   ///< Held in this frame.
  bool began = false;  ///< Went down in this frame.
  bool ended = false;  ///< Came up in this frame.
  bool touch = false;
  bool moved = false;      ///< Went past the slop since it began.
  bool cancelled = false;  ///< Taken away or used up: presses nothing.
  double began_at = 0;
  std::uint32_t active = 0;  ///< Item that was hit at the start.
  int active_weight = 0;     ///< 2 = hit on the drawn thing, 1 = on the enlarged target.
  std::uint32_t scroll = 0;  ///< Scroll under the start.
  std::uint32_t drag = 0;    ///< Map under the start: moves go there, not to scrolling.
};

struct ScrollState {
  float y = 0, content = 0, view = 0;
  float velocity = 0;  ///< dp per second, positive = content goes up.
  bool held = false, gliding = false;
  double last_move = 0;
  float aim = -1;  ///< Where a reveal wants to go; −1 = nowhere.
  Box area;
};

struct Glide {
  float from = 0, to = 0;
  double start = 0;
};

struct Overlay {
  int layer = 0;
  Box box;
  bool modal = false;
};

struct Focusable {
  std::uint32_t id = 0;
  int layer = 0;
  Role role = Role::Button;
  Box box;
};

struct State {
  Look look;
  const Words* words = nullptr;
  ItemTree* tree = nullptr;
  double now = 0, before = 0, dt = 0;
  bool first = true;

  Pointer pointer;
  std::vector<std::uint32_t> ids;
  std::vector<Box> clips;
  std::vector<Color> grounds;  ///< What lies behind the things being drawn.
  std::vector<std::uint32_t> scrolls;
  std::unordered_map<std::uint32_t, ScrollState> scroll;
  std::unordered_map<std::uint32_t, Glide> glide;
  std::unordered_map<std::uint32_t, float> measured;  ///< Heights of the last frame.

  int layer = 0;
  std::vector<Overlay> overlays, overlays_before;  ///< Of this frame, of the last one.

  std::uint32_t focus = 0;
  bool focus_shown = false, focus_moved = false;
  bool press_focused = false;  ///< Enter or Space in this frame.
  std::vector<Focusable> focusables, focusables_before;
  std::uint32_t want_field = 0;   ///< Field that gets the caret.
  std::uint32_t focus_field = 0;  ///< Field that is an InputText now.
  bool text_active = false;       ///< A native text field has the keys.

  std::uint32_t last_press = 0;
  double last_press_at = -1e9;
  Point last_press_place{-1e9f, -1e9f};  ///< Of a finger or mouse; far away for all others.
  bool pressed = false;                  ///< In this frame.
  double answered_at = -1e9;             ///< Start of the frame after the last press: what came of it could be seen.
  std::uint32_t repeating = 0;
  double repeat_at = 0;

  Point pinch_at;
  float pinch = 1;
  std::uint32_t key_scroll = 0;

  double wake = std::numeric_limits<double>::infinity();
  std::vector<std::uint32_t> own_items;  ///< Added this frame: the hooks leave them alone.
  std::string toast_text;
  double toast_until = -1e9;
  float sheet_cover = 0, sheet_cover_before = 0;
  std::uint32_t sheet = 0, sheet_before = 0;  ///< Sheet drawn in this frame, in the last one.
  bool close_sheet = false;                   ///< Asked for from outside: by the system's back.
  std::uint32_t refused_on = 0;               ///< Sheet that says `refused`.
  std::string refused;

  std::vector<std::unique_ptr<ImDrawListSplitter>>
      splitters;  ///< One a nested card; kept, so that none is allocated anew.
  std::size_t splitters_used = 0;
};

/// Lets what is drawn later lie under what was drawn since: a card's ground, whose height is known
/// only at its end. Ends in the order begun.
class Underlay {
 public:
  Underlay();
  /// From here on drawing goes below; call once, then draw the ground.
  void below();
  ~Underlay();
  Underlay(const Underlay&) = delete;
  Underlay& operator=(const Underlay&) = delete;

 private:
  ImDrawListSplitter* splitter_;
};

State& state();
/// Draw list of the window that covers the drawing area.
ImDrawList* draw_list();

/// Color behind what is drawn now: the page's, or a card's, panel's, sheet's.
Color behind();

/// May the pointer at `p` reach something drawn on this layer?
bool reaches(Point p, int layer);
/// Is what is pressed now, there, the last press over again?
bool is_bounce(std::uint32_t id, double guard_s, Point place);
/// Is this layer behind a modal sheet?
bool is_behind_modal(int layer);
/// The visible part of a box, empty when a higher layer covers its center.
Box visible_part(const Box& box);

/// Adds an item and remembers it as ours.
void add_item(Item item);
/// The texts that are not empty, joined by commas, without '**': a spoken name.
std::string spoken(std::initializer_list<std::string_view> texts);
/// `given` unless it is empty, else the texts joined.
std::string spoken_or(std::string_view given, std::initializer_list<std::string_view> texts);

/// Scrolls the scroll area being drawn so that `box` shows.
void reveal_here(const Box& box);

/// Does nothing; its call makes every program link the hooks that Dear ImGui calls.
void keep_hooks();

inline ImVec2 vec(Point p) { return {p.x, p.y}; }
inline ImVec2 top_left(const Box& b) { return {b.left, b.top}; }
inline ImVec2 bottom_right(const Box& b) { return {b.right, b.bottom}; }

}  // namespace steep::look_state
