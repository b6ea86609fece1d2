#pragma once
/// Two bars on one time axis: the same bed, twice? The overlap is marked on `due`.

#include <span>
#include <string_view>

#include "look/layout.h"

namespace steep {

struct Overlap {
  double from_h = 0, to_h = 1;  ///< Axis, any one unit.
  struct Bar {
    std::string_view text = {};
    double start = 0, finish = 0;
  };
  std::span<const Bar> bars = {};  ///< Two or more.
  struct TickMark {
    double at = 0;
    std::string_view text = {};
  };
  std::span<const TickMark> ticks = {};
  std::string_view spoken = {};
};
void overlap(Pen& pen, const Overlap& figure);

}  // namespace steep
