#pragma once
/// List rows: the whole row is the target. Rows inside a card are parted by grey lines.

#include <span>
#include <string_view>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

struct ListRow {
  std::string_view id = {};
  Icon icon = Icon::None;        ///< 24, or a sign of ours.
  std::string_view stake = {};   ///< A bed's number as a small stake instead of the icon.
  std::string_view first = {};   ///< Strong.
  std::string_view second = {};  ///< Label; wraps.
  std::string_view value = {};   ///< At the right, strong, one line.
  std::string_view value2 = {};  ///< Below it, label.
  bool value_plain = false;      ///< Value in body and ink2 ('taken in Wed 7:44 pm').
  Icon warn = Icon::None;        ///< Small sign before the second line.
  Color second_color = 0;        ///< 0 = ink2; duetext or beet for what is due or held.
  bool opens = true;             ///< Chevron, whole row pressable.
  bool chosen = false;           ///< On well with an ink bar at the left.
  bool line_above = false;       ///< Grey line over it (rows after the first in a card).
  bool struck = false;
  std::string_view spoken = {};  ///< Empty = the texts joined by commas.
  float bleed = 0;               ///< How far the chosen ground reaches beyond the column left and right.
};
float list_row_height(float width, const ListRow& row);
bool list_row(Pen& pen, const ListRow& row);
bool list_row(const Box& box, const ListRow& row);

/// A row of the handover card: a number or sign, strong words, right note.
struct CountRow {
  std::string_view number = {};  ///< Empty with `sign`.
  Icon sign = Icon::None;
  std::string_view words = {}, note = {};
};
void count_row(Pen& pen, const CountRow& row);

/// A line of a setting: icon, word, and the box left for a control at the right. Returns that box;
/// when it does not fit beside the word it lies below.
Box setting_line(Pen& pen, Icon icon, std::string_view word, float control_width, bool line_above = false);

/// 'word … value' in one line, value right-aligned and strong ('Nozzles differ by 0.9 %').
void pair_line(Pen& pen, std::string_view word, std::string_view value);
/// Small grey word and strong value in running text, several in a row ('The same on both').
struct Fact {
  std::string_view word = {}, value = {};
};
void fact_line(Pen& pen, std::string_view head, std::span<const Fact> facts);

/// A filter or link at the right edge: '≡ All', 'Brew 31 ›'.
bool small_link(const Box& box, std::string_view id, std::string_view text, Icon before, Icon after);

}  // namespace steep
