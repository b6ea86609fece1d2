#pragma once
/// A line of a history: date and clock, sign on an ink thread, what happened; struck entries stay.

#include <string_view>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

enum class HistorySign { Leaf, Square, Ring };  ///< Filled leaf disc, outlined square, outlined ring.

struct HistoryEntry {
  std::string_view id = {};
  std::string_view day = {}, clock = {};
  HistorySign sign = HistorySign::Ring;
  Icon icon = Icon::None;
  std::string_view first = {}, second = {};
  bool struck = false;
  std::string_view struck_why = {};  ///< 'Struck by Ana: logged twice'; beet, instead of second.
  bool thread_above = true, thread_below = true;
  std::string_view spoken = {};
};
bool history_line(Pen& pen, const HistoryEntry& line);
/// The desktop's form without thread: day, two lines, grey line below.
bool history_row(Pen& pen, const HistoryEntry& line);

}  // namespace steep
