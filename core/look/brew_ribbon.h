#pragma once
/// The brew ribbon: a band from start to use-by on a true time axis, the sky behind it. Times are
/// hours on any one axis; the screen says where its zero is.

#include <span>
#include <string_view>

#include "look/layout.h"

namespace steep {

/// Sky and ticks of one axis; ribbon and charts share it.
struct RibbonAxis {
  double from_h = 0, to_h = 24;
  struct Sun {
    double rise_h = 0, set_h = 0;
  };
  std::span<const Sun> days = {};  ///< Ascending; may begin before and end after the axis.
  bool night_at_start = false;     ///< Used when no sun is known within the axis.
  struct TickMark {
    double at_h = 0;
    std::string_view text = {};
    bool strong = false;
  };
  std::span<const TickMark> ticks = {};  ///< Those that would touch are left out, weak ones first.
  double now_h = -1e9;                   ///< Outside the axis: no line.
};

enum class RibbonPoint { Reading, UnderFloor, NotTaken };
struct RibbonReading {
  double at_h = 0;
  RibbonPoint kind = RibbonPoint::Reading;
};
struct RibbonEvent {
  double at_h = 0;
  bool hollow = false;
};  ///< Fed filled, others hollow.

struct BrewRibbon {
  double start_h = 0;
  double ready_from_h = -1, ready_to_h = -1;  ///< No bracket when ready_to ≤ ready_from.
  double use_by_h = -1;                       ///< ≤ start: none known; the ribbon ends at the axis.
  bool planned = false;                       ///< Dashed edge, no steeping.
  std::span<const RibbonReading> readings = {};
  std::span<const RibbonEvent> events = {};
  std::string_view verdict = {};  ///< Chip: 'ready, Ana' / 'hold' / 'do not use'.
  bool verdict_bad = false;
};

struct RibbonFigure {
  RibbonAxis axis = {};
  BrewRibbon ribbon = {};
  std::string_view above_left = {};   ///< 'start 12:30 pm'
  std::string_view above_right = {};  ///< 'Ready 3:30–8:30 pm', bold, placed over the window
  std::string_view now = {};          ///< 'now 2:10 pm'; empty = only the mark.
  std::string_view below_right = {};  ///< 'use by 10:30 pm', bold
  float band = 50;                    ///< Height of the sky.
  std::string_view spoken = {};       ///< A sentence; the ribbon itself is a picture.
};
/// With its words above and below. From 120 % text size two ticks at most.
void ribbon_figure(Pen& pen, const RibbonFigure& figure);

}  // namespace steep
