#pragma once
/// Choosing one of several: segmented words, choice cells, chips.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

struct Choice {
  std::string_view text = {};
  std::string_view second = {};  ///< Only cells draw it.
  bool enabled = true;
  Icon icon = Icon::None;
  std::string_view spoken = {};  ///< Empty = text, second.
};

/// 48 tall, 2–4 words in one frame, chosen = ink block. Index of a newly chosen one, or −1.
/// `name`: what is chosen here ('Units'); spoken before each word.
int segmented(Pen& pen, std::string_view id, std::string_view name, std::span<const Choice> choices, int chosen);
int segmented(const Box& box, std::string_view id, std::string_view name, std::span<const Choice> choices, int chosen);

/// Separate cells of 48 and more, `per_row` side by side (fewer when their words don't fit); words
/// wrap to two lines. `chosen` −1 = none yet. Shares make widths unequal (one per column).
int choice_cells(Pen& pen, std::string_view id, std::string_view name, std::span<const Choice> choices, int chosen,
                 int per_row = 2, std::span<const float> shares = {});

/// Chips 32 high in a 48 target: filters, bed ranges, reasons.
struct Chip {
  std::string_view text = {};
  bool on = false;
  std::string_view spoken = {};
};
int chips(Pen& pen, std::string_view id, std::span<const Chip> chips);

/// A choice out of many: rows in a list (a sheet's content). Index of the chosen one, or −1.
int choice_list(Pen& pen, std::string_view id, std::string_view name, std::span<const Choice> choices, int chosen);

/// A tick box with words: on the whole row.
bool check_row(Pen& pen, std::string_view id, std::string_view text, bool& on, std::string_view second = {});

}  // namespace steep
