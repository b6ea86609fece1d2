#pragma once
/// The chart of one quantity over time: readings, the farm's figure, nights.

#include <span>
#include <string_view>

#include "look/brew_ribbon.h"
#include "look/layout.h"

namespace steep {

enum class ChartMark { Ring, Diamond, Square };

struct Chart {
  std::string_view title = {};  ///< 'Oxygen, mg/L'
  RibbonAxis axis = {};         ///< Times, nights (drawn as `well`), ticks, now.
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
  ChartMark mark = ChartMark::Ring;
  bool brew_color = false;  ///< `tea` instead of `water`.
  bool has_figure = false;  ///< The farm's figure.
  double figure = 0;
  bool figure_is_least = true;                ///< 'or more': the side below is hatched.
  std::string_view figure_text = {};          ///< 'farm: 6 or more'
  double ready_from_h = -1, ready_to_h = -1;  ///< Small bar at the top.
  double gap_h = 12;                          ///< No line between readings further apart.
  float height = 120;                         ///< Of the plot.
  bool show_ticks = true;
  std::string_view spoken = {};
};
void chart(Pen& pen, const Chart& figure);

}  // namespace steep
