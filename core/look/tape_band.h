#pragma once
/// A standing caution: a full-width band of tape under the top bar. At most one; more are counted.
/// It stays until it ends and can't be closed, only opened.

#include <string_view>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

struct TapeBand {
  Icon sign = Icon::NoEntry;     ///< NoEntry, NoHarvest, CautionDue or NotSaved.
  std::string_view first = {};   ///< 'No entry: T3, T4'
  std::string_view second = {};  ///< 'until 8:52 pm today · sulfur, 24 h'
  int more = 0;                  ///< '+2'
  std::string_view spoken = {};  ///< Empty = first, second.
};

float tape_band_height(const TapeBand& band, float width);
/// True when it was opened.
bool draw_tape_band(const Box& box, const TapeBand& band);

}  // namespace steep
