#pragma once
/// The frame of a screen: top bar, tabs or rail, the parts between, in every screen size.
///
///   Screen screen({.id = "today", .title = view.title, .second = view.second, .first_of_tab = true,
///                  .saved = view.saved, .tabs = &tabs});
///   if (screen.tab_pressed() >= 0) …
///   { ScreenPart main = screen.main();  Card card(main.pen(), …); … }
///   { ScreenPart actions = screen.actions();  if (button(actions.pen(), …)) … }
///
/// Portrait: main between the bars, actions above the tabs. Lying: main and an action column 340
/// wide on the thumb's side, rail on the other. Tablet, desktop: `left` and `right` panels as asked.

#include <optional>
#include <span>
#include <string_view>

#include "look/icons.h"
#include "look/layout.h"
#include "look/saved_mark.h"
#include "look/scroll.h"
#include "look/tape_band.h"

namespace steep {

struct Tab {
  std::string_view word = {};  ///< At most 7 letters in the five of the bottom bar.
  Icon icon = Icon::None;
  int count = 0;                 ///< Badge; 0 = none.
  std::string_view spoken = {};  ///< 'Book, 8 entries not confirmed'; empty = the word.
};

/// Places to go to. The bottom bar shows the first five; the wide rail all, those from `foot` on at its foot.
struct Tabs {
  std::span<const Tab> tabs = {};
  int current = -1;
  int bottom_count = 5;
  int foot = -1;
};

struct ScreenSpec {
  std::string_view id = {};  ///< Of the screen; keeps scroll positions apart.
  std::string_view title = {}, second = {};
  bool first_of_tab = false;      ///< Title 24 and no arrow.
  bool back = false;              ///< Arrow left of the title.
  std::string_view back_to = {};  ///< Spoken: 'Back to Today'; empty = 'Back'.
  bool has_saved = true;          ///< Only the first run has no mark: there is no book.
  SavedMark saved = {};
  std::string_view not_saved_text = {};  ///< Of the band when the state is NotSaved; empty = no band.
  Icon corner = Icon::None;              ///< A button right of the mark (settings on Book).
  std::string_view corner_name = {};
  const Tabs* tabs = nullptr;      ///< nullptr: no bar (a pass, a form, the first run).
  const TapeBand* band = nullptr;  ///< Standing caution.
  bool bare = false;               ///< No top bar at all (first run).
  float left_panel = 0;            ///< Width of a list panel on the left; only from tablets on, else 0.
  float right_panel = 0;           ///< Width of a detail panel on the right.
  bool scrolls = true;             ///< False: main doesn't scroll (a map).
};

/// A part being drawn; ends with its scope.
class ScreenPart {
 public:
  enum class Kind { Scrolls, Still, Foot };  ///< A Foot measures itself: its area is as high as its content.
  ScreenPart(std::string_view id, const Box& area, Kind kind, float margin, float above, float below, Color ground);
  ~ScreenPart();
  ScreenPart(const ScreenPart&) = delete;
  ScreenPart& operator=(const ScreenPart&) = delete;
  Pen& pen() { return scroll_ ? scroll_->pen : pen_; }
  const Box& area() const { return area_; }
  Scroll* scroll() { return scroll_ ? &*scroll_ : nullptr; }

 private:
  std::uint32_t id_;
  Box area_;
  Kind kind_;
  float below_ = 0;
  Pen pen_;
  std::optional<Scroll> scroll_;
};

class Screen {
 public:
  explicit Screen(const ScreenSpec& spec);  ///< Texts of the spec must live as long as the Screen.
  ~Screen();
  Screen(const Screen&) = delete;
  Screen& operator=(const Screen&) = delete;

  bool back_pressed() const { return back_; }  ///< Arrow, Escape, or the system's back.
  int tab_pressed() const { return tab_; }     ///< Index, or −1.
  bool corner_pressed() const { return corner_; }
  bool try_again_pressed() const { return try_again_; }
  bool band_pressed() const { return band_; }

  ScreenPart main();        ///< Between the bars.
  ScreenPart left();        ///< List panel; only when the spec asked for it.
  ScreenPart right();       ///< Detail panel.
  ScreenPart right_foot();  ///< Buttons at the foot of the detail panel.
  /// What the thumb needs: at the bottom in portrait (as high as what was drawn into it), a column
  /// when lying, at the foot of main on wide screens, where buttons are no wider together than `most` (dp at text
  /// size 100 %). Draw it after main: that is the reading order.
  ScreenPart actions(float most = size::kReading);

  /// Lying: the free part of the row with the saved mark, for one small button ('Undo N10').
  const Box& beside_mark() const { return beside_mark_; }
  const Box& main_area() const { return main_; }
  bool actions_in_column() const { return column_; }  ///< Lying: a column 340 wide, mark on top.
  const Box& action_column() const { return action_; }

 private:
  ScreenSpec spec_;
  void lay_out();
  void lay_out_lying(Box rest);
  void lay_out_top_bar(Box& rest);
  void lay_out_bands(Box& rest);
  void lay_out_panels(Box& rest);
  void top_bar(const Box& box);
  void lying_head();
  void bottom_bar(const Box& box);
  void rail(const Box& box, bool words);
  bool tab_item(const Box& box, std::size_t index, bool in_rail);

  Box main_, left_, right_, action_, right_foot_, beside_mark_;
  bool back_ = false, corner_ = false, try_again_ = false, band_ = false, column_ = false;
  bool drew_actions_ = false, drew_right_foot_ = false;
  int tab_ = -1;
};

}  // namespace steep
