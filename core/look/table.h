#pragma once
/// Tables of the desktop: head 36, rows 40, first column = stake or code, numbers right-aligned
/// with unit, sort triangle in the head, chosen row on well with an ink line.

#include <functional>
#include <span>
#include <string_view>

#include "look/bed_strip.h"
#include "look/icons.h"
#include "look/layout.h"

namespace steep {

struct GridColumn {
  std::string_view head = {};
  float width = -1;    ///< dp, or a negative share of what is left.
  bool right = false;  ///< Numbers.
  bool sorts = false;
};

/// What a cell shows; texts are valid until the row is drawn.
struct GridCell {
  std::string_view stake = {};               ///< Bed tag.
  std::string_view strong = {}, plain = {};  ///< 'Lettuce' '100 ft'
  Icon sign = Icon::None;
  const BedStrip* strip = nullptr;
  bool grey = false;  ///< 'none recorded'
  bool struck = false;
};

struct Grid {
  std::string_view id = {};
  std::span<const GridColumn> columns = {};
  std::size_t rows = 0;
  int sorted_by = -1;
  bool sorted_down = false;
  std::function<void(std::size_t row, std::span<GridCell> cells)> fill = {};  ///< Called for rows in view.
  std::function<std::uint32_t(std::size_t row)> key = {};                     ///< Stable number of the row.
  std::function<std::string(std::size_t row)> spoken = {};
  std::int64_t chosen = -1;  ///< Row.
  bool pin_chosen = false;   ///< The chosen row stays on top.
};
struct GridEvent {
  std::int64_t pressed = -1;  ///< Row.
  int sort_column = -1;       ///< A head was pressed.
};
/// Inside a Scroll's pen (the head scrolls along); arrows move the focus, Enter opens.
GridEvent grid(Pen& pen, const Grid& spec);

}  // namespace steep
