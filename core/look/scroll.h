#pragma once
/// A part of the screen that scrolls up and down: by finger with momentum, by wheel, by keys, and
/// by request of the item tree (a screen reader goes to a row that was clipped).
///
/// Velocity is 0.7 new + 0.3 old over the moves of the last 60 ms; after the release it decays as
/// exp(−4t) and stops under 20 dp/s. A new touch stops it and is not a tap.

#include <cstddef>
#include <functional>
#include <string_view>

#include "look/layout.h"
#include "look/press.h"

namespace steep {

/// While it lives, `pen` writes into the scrolling content and drawing is clipped to the area.
class Scroll {
 public:
  /// `across`: margin left and right; `above`, `below`: empty space around the content.
  Scroll(std::string_view id, const Box& area, float across = 0, float above = 0, float below = 0);
  ~Scroll();
  Scroll(const Scroll&) = delete;
  Scroll& operator=(const Scroll&) = delete;

  Pen pen;
  const Box& area() const { return area_; }
  float offset() const { return offset_; }  ///< dp scrolled.

 private:
  std::uint32_t id_;
  Box area_;
  float above_, below_, start_y_, offset_;
};

/// A long list of rows of equal height: draws those in view, names the others in the item tree
/// (`drawn` = false), and scrolls to a row that is asked for there. Inside a Scroll.
struct LongList {
  std::size_t count = 0;
  float row_height = 56;
  float gap = 0;
  Role role = Role::Row;
  std::function<std::uint32_t(std::size_t)> id = {};  ///< Of the row's pressable item, as drawn by `draw`.
  std::function<std::string(std::size_t)> name = {};  ///< Spoken name of a row that is not drawn.
  std::function<void(std::size_t, const Box&)> draw = {};
};
void long_list(Pen& pen, const LongList& list);

}  // namespace steep
