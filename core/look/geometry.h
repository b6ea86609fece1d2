#pragma once
/// Points and boxes on the screen. One unit is one dp (a CSS pixel) everywhere in look/ and in
/// Dear ImGui's coordinates; `io.DisplayFramebufferScale` carries the device pixels per dp.

#include <algorithm>

#include "look/item_tree.h"

namespace steep {

struct Point {
  float x = 0, y = 0;
  bool operator==(const Point&) const = default;
};
constexpr Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
constexpr Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }

/// In dp from the top left of the drawing area; bottom and right are outside.
struct Box {
  float left = 0, top = 0, right = 0, bottom = 0;
  bool operator==(const Box&) const = default;

  constexpr float width() const { return right - left; }
  constexpr float height() const { return bottom - top; }
  constexpr Point center() const { return {(left + right) / 2, (top + bottom) / 2}; }
  constexpr bool empty() const { return right <= left || bottom <= top; }
  constexpr bool contains(Point p) const { return p.x >= left && p.x < right && p.y >= top && p.y < bottom; }
  /// Smaller on all sides by `by` (larger when negative), or by different amounts across and down.
  constexpr Box inset(float by) const { return {left + by, top + by, right - by, bottom - by}; }
  constexpr Box inset(float across, float down) const {
    return {left + across, top + down, right - across, bottom - down};
  }
  constexpr Box moved(float dx, float dy) const { return {left + dx, top + dy, right + dx, bottom + dy}; }
  constexpr Box with_height(float h) const { return {left, top, right, top + h}; }
  constexpr Box with_width(float w) const { return {left, top, left + w, bottom}; }
};

constexpr Box box_at(float left, float top, float width, float height) {
  return {left, top, left + width, top + height};
}
constexpr Box meet(const Box& a, const Box& b) {
  return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right), std::min(a.bottom, b.bottom)};
}
/// A box of this size with the same center.
constexpr Box centered(const Box& in, float width, float height) {
  const Point c = in.center();
  return {c.x - width / 2, c.y - height / 2, c.x + width / 2, c.y + height / 2};
}
constexpr ItemRect item_rect(const Box& b) { return {b.left, b.top, b.right, b.bottom}; }

}  // namespace steep
