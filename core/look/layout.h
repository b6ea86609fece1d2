#pragma once
/// A pen goes down a column. Widgets draw at the pen over its whole width and move it below
/// themselves; what stands side by side is cut out of a box with `columns`.

#include <array>
#include <span>
#include <string_view>
#include <vector>

#include "look/icons.h"
#include "look/text.h"

namespace steep {

struct Pen {
  float left = 0, right = 0;
  float y = 0;

  Pen() = default;
  Pen(float left_edge, float right_edge, float top) : left(left_edge), right(right_edge), y(top) {}
  explicit Pen(const Box& box) : left(box.left), right(box.right), y(box.top) {}

  float width() const { return right - left; }
  void space(float dp) { y += dp; }
  /// A box of the whole width at the pen; the pen goes below it.
  Box take(float height) {
    const Box box{left, y, right, y + height};
    y += height;
    return box;
  }
  /// The same box without moving.
  Box here(float height) const { return {left, y, right, y + height}; }
  /// A pen of one of several columns side by side, at the same height. Negative parts are shares of
  /// what fixed parts (dp) and gaps leave: `pen.column({-1, 120}, 1, 8)` is the right 120.
  Pen column(std::span<const float> parts, std::size_t which, float gap = size::kTouchGap) const;
  Pen column(std::initializer_list<float> parts, std::size_t which, float gap = size::kTouchGap) const {
    return column(std::span<const float>(parts.begin(), parts.size()), which, gap);
  }
  /// Goes below the deeper of the columns.
  void below(const Pen& column) { y = column.y > y ? column.y : y; }
};

/// Boxes side by side; parts as in Pen::column.
std::vector<Box> columns(const Box& box, std::span<const float> parts, float gap = size::kTouchGap);
inline std::vector<Box> columns(const Box& box, std::initializer_list<float> parts, float gap = size::kTouchGap) {
  return columns(box, std::span<const float>(parts.begin(), parts.size()), gap);
}

// Plain text at the pen. Each of these leaves an item for screen readers: a Heading or a Text.
void heading(Pen& pen, std::string_view text, TextStyle style = TextStyle::Button);
/// A heading with a note at the right.
void heading_with_note(Pen& pen, std::string_view text, std::string_view note, TextStyle style = TextStyle::Button);
/// A heading with a small link at the right ('All beds ›'). True when the link was pressed.
/// A chevron stands after the words, any other icon before them.
bool heading_with_link(Pen& pen, std::string_view text, std::string_view id, std::string_view link,
                       Icon link_icon = Icon::ChevronRight, TextStyle style = TextStyle::Button);
/// Wrapped, with **bold** parts.
void paragraph(Pen& pen, std::string_view text, TextStyle style = TextStyle::Body);
void paragraph_in(Pen& pen, std::string_view text, TextStyle style, Color color, Align align = Align::Left);
/// From here to the end of the part the page is a surface (the history of a bed): a line, then white.
class SurfaceSection {
 public:
  explicit SurfaceSection(Pen& pen, float gap_below = 12);
  ~SurfaceSection();
  SurfaceSection(const SurfaceSection&) = delete;
  SurfaceSection& operator=(const SurfaceSection&) = delete;
};
/// A grey line across.
void divider(Pen& pen, float gap_above = 0, float gap_below = 0);

}  // namespace steep
