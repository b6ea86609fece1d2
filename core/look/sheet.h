#pragma once
/// A sheet: a panel from below (3 ink line on top, page behind not dimmed), or on wide screens a
/// panel 420 wide on the hand's side. Never more than one. Draw it after everything else.
///
///   if (input.sheet_open) {
///     Sheet sheet({.id = "reading", .title = …});
///     …draw at sheet.pen…
///     if (sheet.closed()) input.sheet_open = false;
///   }

#include <cstdint>
#include <optional>
#include <string_view>

#include "look/icons.h"
#include "look/layout.h"
#include "look/scroll.h"

namespace steep {

struct SheetSpec {
  std::string_view id = {};
  std::string_view title = {};
  std::string_view note = {};  ///< At the right of the title, in place of the ×.
  Icon note_icon = Icon::None;
  bool says_refusals = true;     ///< At its top; false: it has a place of its own for them.
  std::string_view spoken = {};  ///< Of the dialog; empty = title.
};

class Sheet {
 public:
  explicit Sheet(const SheetSpec& spec);
  ~Sheet();
  Sheet(const Sheet&) = delete;
  Sheet& operator=(const Sheet&) = delete;

  Pen& pen() { return scroll_->pen; }
  bool closed() const { return closed_; }  ///< By ×, Escape, the system's back, or a tap beside it.

 private:
  void draw_head(const SheetSpec& spec);
  void take_gestures();
  std::uint32_t id_;
  Box box_;
  float head_ = 0;
  bool closed_ = false;
  std::optional<Scroll> scroll_;
};

/// The sheet on screen; 0 = none.
std::uint32_t sheet_on_screen();
/// In this frame the sheet of that id says at its top why what was asked on it was refused.
void say_on_sheet(std::uint32_t sheet, std::string_view sentence);
/// Between frames: does a sheet stand on screen, and close it in the next frame.
bool can_close_sheet();
void close_sheet();

/// Space that an open sheet covers at the foot of the page; pages may leave it free.
float sheet_cover();

}  // namespace steep
