#pragma once
/// One frame of the interface: what widgets share while it is drawn.
///
/// app/ calls, once a frame: ImGui::NewFrame(), begin_look(…), the screen's drawing, end_look(),
/// ImGui::Render(). Nothing here knows a clock but the seconds given to begin_look.

#include <cstdint>
#include <string_view>

#include "base/words.h"
#include "look/theme.h"

namespace steep {

/// Starts the frame: sets look, words and tree, reads the pointer, opens the window that covers the
/// drawing area, fills it with `ground`. `now_s`: seconds that never go back, the true ones also
/// after a sleep (used for double presses, repeats, motion).
void begin_look(const Look& look, const Words& words, ItemTree& tree, double now_s);
/// Ends it; the item tree's frame is complete then.
void end_look();

double look_time();         ///< Seconds of this frame.
const Words& look_words();  ///< For look's own words.

/// Asks for a frame at the latest in `seconds`; 0 = the next one at once.
void want_frame(double seconds = 0);
/// After end_look: seconds until the next wanted frame; infinity when none. Input always brings one.
double next_frame_in();

// --- Ids. Stable from frame to frame; scopes make the same id in two rows different.
std::uint32_t item_id(std::string_view id);
class IdScope {
 public:
  explicit IdScope(std::string_view id);
  IdScope(std::string_view id, std::int64_t number);
  ~IdScope();
  IdScope(const IdScope&) = delete;
  IdScope& operator=(const IdScope&) = delete;
};

// --- Clipping. Drawing, presses and item rectangles end at the clip.
class Clip {
 public:
  explicit Clip(const Box& box);
  ~Clip();
  Clip(const Clip&) = delete;
  Clip& operator=(const Clip&) = delete;
};
const Box& clip_box();
bool is_visible(const Box& box);  ///< Does any of it lie inside the clip?

// --- Keys for the desktop; true once, when no text field has them.
enum class LookKey { Escape, Enter, Slash, Up, Down, Left, Right, PageUp, PageDown, Home, End, Undo };
bool key_pressed(LookKey key);

/// Forgets the finger: the system took it away (pointercancel, hidden page). Presses nothing.
void cancel_pointer();
/// Two fingers or a wheel with control: for the map only. Factor since the last call, around `at`.
void add_pinch(Point at, float factor);
/// Puts the focus ring on an item (the page's active element); 0 takes it off.
void set_look_focus(std::uint32_t id);

}  // namespace steep
