#pragma once
/// Numbers first: big numbers, groups of numbers, the ledger.

#include <span>
#include <string_view>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

/// 'about 1½ h  until ready (1 to 2 h) / estimate from 6 temperatures'. From 120 % text size, or
/// when the words don't fit beside it, they go below.
struct BigNumber {
  std::string_view before = {};  ///< 'about', body.
  std::string_view number = {};  ///< l or xl.
  std::string_view unit = {};    ///< One or two steps smaller on the same baseline.
  std::string_view words = {};   ///< Strong, beside the number.
  std::string_view detail = {};  ///< Label below the words.
  bool xl = false;
  bool words_at_right = true;    ///< Right-aligned at the edge; else right after the unit, body.
  std::string_view spoken = {};  ///< Empty = all texts in order.
};
void big_number(Pen& pen, const BigNumber& number);

/// Groups of numbers side by side: '24 beds · 5.89 gal spray (2.62 tea)'. Stacked number over unit
/// when `stacked` or from 120 % text size.
struct NumberGroup {
  std::string_view label = {};  ///< Small above ('Next due'); may be empty.
  std::string_view number = {}, unit = {};
  std::string_view detail = {};  ///< Label below.
};
void number_groups(Pen& pen, std::span<const NumberGroup> groups, bool stacked = false);
/// Each group in a card of its own ('Next due', 'Tea this season').
void number_cards(Pen& pen, std::span<const NumberGroup> groups);

/// Words left, numbers aligned at the decimal point, unit in its own column, 2 line, total.
/// A line with `id` shows its formula when pressed.
struct LedgerLine {
  std::string_view id = {};  ///< Empty = can't be pressed.
  std::string_view words = {}, detail = {};
  std::string_view number = {};  ///< With the mark of the Decimals setting.
  std::string_view unit = {};
  Icon icon = Icon::None;  ///< After the words (pencil).
  bool strong = false;     ///< Words strong.
  bool total = false;      ///< 2 line above, words strong, number strong.
  bool large = false;      ///< Total in l.
};
/// Index of the pressed line, or −1.
int ledger(Pen& pen, std::span<const LedgerLine> lines);

}  // namespace steep
