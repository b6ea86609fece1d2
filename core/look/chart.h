#pragma once
/// The chart of one quantity over time: readings, the farm's figure, nights.

#include <span>
#include <string_view>

#include "look/brew_ribbon.h"
#include "look/layout.h"

namespace steep {

struct Chart {
  std::string_view title = {};  ///< 'Oxygen, mg/L'
  RibbonAxis axis = {};         ///< Times, nights (drawn as `well`), now; its ticks stand below the ribbon.
  double low = 0, high = 10;    ///< Value axis.
  struct Grid {
    double value = 0;
    std::string_view text = {};
  };
  std::span<const Grid> grid = {};  ///< 4–5 lines.
  struct Reading {
    double at_h = 0, value = 0;
    std::string_view text = {};
  };  ///< Labels: first, lowest, last.
  std::span<const Reading> readings = {};
  bool has_figure = false;  ///< The farm's figure: readings below it lie in the hatched part.
  double figure = 0;
  std::string_view figure_text = {};  ///< 'farm: 6 or more'
  std::string_view spoken = {};
};
void chart(Pen& pen, const Chart& figure);

}  // namespace steep
