#pragma once
/// Figures of a refill: what the next load will cover, and where the last one ended.

#include <span>
#include <string_view>

#include "look/layout.h"

namespace steep {

/// The load as a lying tank: a slab for each bed, the sump at its end.
struct LoadBar {
  std::string_view label = {}, right = {};  ///< 'Load 2 will cover', 'rest of N16 to N24'
  struct Slab {
    std::string_view text = {};
    float share = 1;
  };
  std::span<const Slab> slabs = {};  ///< Shares of the tank's content.
  float sump_share = 0;
  std::string_view below_right = {};  ///< '0.15 gal stays in'
  std::string_view spoken = {};
};
void load_bar(Pen& pen, const LoadBar& bar);

/// 'Where did it run dry?': the bed in hand cut at a place.
struct RunDry {
  std::string_view number = {};
  float at = 0.5f;                                   ///< Share of the length from the zero end.
  std::string_view left_text = {}, right_text = {};  ///< 'load 1', 'rest: load 2'
  std::string_view zero = {}, here = {}, end = {};   ///< '0 ft, lane', '50 ft', '100 ft'
  bool from_far_end = false;                         ///< The treated stretch is at the right.
  std::string_view spoken = {};
};
void run_dry(Pen& pen, const RunDry& figure);

}  // namespace steep
