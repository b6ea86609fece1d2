#pragma once
/// How the person wants the program to look, and on what it is shown. Set once a frame by
/// `begin_look` (frame.h); widgets read it here.

#include "look/geometry.h"
#include "look/tokens.h"

namespace steep {

enum class ScreenClass {
  Phone,      ///< Portrait, one column.
  Landscape,  ///< A phone lying: two columns, actions in the thumb's column, rail.
  Tablet,     ///< 768–1099 wide: list and detail.
  Desktop,    ///< 1100 and wider: rail with words, main, detail panel.
};

struct Look {
  Theme theme = Theme::Day;
  int text_percent = 100;           ///< 100–160 in steps of 10.
  bool left_handed = false;         ///< Mirrors what the thumb needs.
  bool reduce_motion = false;       ///< All motion becomes instant.
  bool native_text = true;          ///< Text fields are ImGui's own; false on the page, where DOM inputs lie over them.
  float density = 1;                ///< Device pixels per dp.
  float width = 390, height = 844;  ///< Drawing area in dp.
  struct {
    float left = 0, top = 0, right = 0, bottom = 0;
  } safe;  ///< Under notch and home bar: kept free.

  ScreenClass screen() const;
  /// From 120 %: number over unit, button below text, strips 74 high.
  bool stacks() const { return text_percent >= 120; }
  /// From 140 %: the end cell of a strip goes below its body.
  bool end_cell_below() const { return text_percent >= 140; }
  /// 16; 12 on screens narrower than 390; 24 on the desktop.
  float margin() const;
  bool narrow() const { return width < 390; }
  /// True for tablets from 900 and desktops: the rail with words at the side; else the bottom bar
  /// (or, lying, the narrow rail).
  bool wide_rail() const { return width >= 900 && screen() != ScreenClass::Landscape; }
};

/// The look of the frame being drawn.
const Look& look();
/// Its colour table.
const Tokens& colors();

/// `value` rounded to a whole device pixel, so that edges are sharp.
float snap(float value);
Box snap(const Box& box);
/// An edge width in whole device pixels, at least one: 1.5 gives 2 px at 1×, 3 px at 2×.
float snap_width(float width);

/// Body, labels and buttons grow fully with the text size: `scaled(24)` is 24 at 100 %, 38.4 at 160 %.
float scaled(float dp);

}  // namespace steep
