#pragma once
/// Settling what differs: one card per fact group, its versions as large press-cells.

#include <span>
#include <string_view>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

struct SettleVersion {
  std::string_view whose = {};   ///< 'This book · Office, Wed 13 May 6:10 pm, Ana'
  std::string_view value = {};   ///< '16 fl oz', the whole fact as one text
  std::string_view detail = {};  ///< 'receipt 1187, 27 Apr'
};
struct SettleCard {
  std::string_view id = {};
  std::string_view fact = {};   ///< 'How much came in'
  std::string_view hangs = {};  ///< 'used 1.1 fl oz, so left: **14.9 fl oz**'
  std::span<const SettleVersion> versions = {};
  int chosen = -1;              ///< versions.size() = another value.
  std::string_view other = {};  ///< 'Type another value', or the typed one
};
/// Newly chosen version; versions.size() for another value; −1 for nothing.
int settle_card(Pen& pen, const SettleCard& card);

/// A row of the list at the left: sign, two lines, chosen bar.
struct SettleRow {
  std::string_view id = {};
  Icon sign = Icon::Differs;  ///< Differs, Question, CautionDue, New
  std::string_view first = {}, second = {};
  bool chosen = false;
};
bool settle_row(Pen& pen, const SettleRow& row);

/// Counts over the list: '2 to settle · 1 question · 19 new'.
struct SettleCount {
  Icon sign = Icon::Differs;
  std::string_view number = {}, words = {};
};
void settle_counts(Pen& pen, std::span<const SettleCount> counts);

}  // namespace steep
