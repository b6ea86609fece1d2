#pragma once
/// How anything is pressed. All widgets go through `press`.
///
/// A press acts on release inside the target. A finger that moved more than 12 dp has scrolled and
/// can never press. Two presses on the same item, or at the same place, within 350 ms count once. While down, the
/// widget inverts its fill. Presses asked for on the item tree (tests, screen readers) act alike.

#include <string_view>

#include "look/frame.h"

namespace steep {

struct PressSpec {
  std::uint32_t id = 0;  ///< From item_id.
  Role role = Role::Button;
  std::string_view name = {};   ///< Whole phrase, state and unit in it. Never empty.
  std::string_view value = {};  ///< Spoken value, mostly empty.
  bool enabled = true;
  PickKind picks = PickKind::File;        ///< Of FilePick.
  bool on = false;                        ///< Of tabs, choices, checks.
  bool repeats = false;                   ///< Steppers: `steps` counts while it is held.
  double guard_s = size::kDoublePress_s;  ///< Keys of the number pad take a shorter one: 55 is two presses.
};

struct Press {
  bool pressed = false;  ///< Once.
  bool down = false;     ///< Finger on it now: draw inverted.
  bool focused = false;  ///< Draw the ring (focus_ring).
  bool hovered = false;  ///< Mouse over it; only ever an extra.
  int steps = 0;         ///< Of `repeats`: 1 on press, then 6 a second after 400 ms; after 2 s 10 each.
};

/// Adds the item and says what happened to it. `target` is enlarged to 48 high and wide on touch
/// screens if smaller (the drawn thing stays as it is).
Press press(const PressSpec& spec, const Box& target);

/// Adds an item that can't be pressed.
void add_text_item(Role role, std::string_view name, const Box& box);
void add_text_item(std::uint32_t id, Role role, std::string_view name, const Box& box);

/// 3 ink ring, 2 away.
void focus_ring(const Box& box, float radius);

/// Was the item asked for as a drag (map)? Movement of the finger since the last frame while it
/// started in `box`; such drags do not scroll.
struct Drag {
  bool active = false;
  Point by = {};
  float pinch = 1;  ///< Factor of two fingers or of the wheel since the last frame.
  Point pinch_at = {};
};
Drag take_drags(std::uint32_t id, const Box& box);

}  // namespace steep
