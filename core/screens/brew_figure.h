#pragma once
/// A brew as a ribbon on true time, with its age: shared by Today, the brew list and a brew's page.
///
/// While it brews: about how long until ready, where temperatures and the recipe allow an estimate. Else only its age,
/// and use-by where the farm set a limit.

#include <optional>
#include <string>
#include <vector>

#include "book/today.h"
#include "look/brew_ribbon.h"
#include "look/numbers.h"
#include "screens/page.h"
#include "trade/window.h"

namespace steep {

struct BrewFigure {
  std::string before, number, unit, words,
      detail;  ///< 'about' '1½' 'h' 'until ready (1 to 2 h)' 'estimate from 6 temperatures'
  // Hours since the axis' zero, the local midnight before its start.
  double from_h = 0, to_h = 24, now_h = 0;
  std::vector<std::pair<double, double>> suns;  ///< Rise and set.
  bool night_at_start = false;
  std::vector<std::pair<double, std::string>> ticks;
  double start_h = 0, use_by_h = -1, ready_from_h = -1, ready_to_h = -1;
  std::vector<std::pair<double, int>> readings;  ///< RibbonPoint as int.
  std::vector<std::pair<double, bool>> events;
  std::string verdict;
  bool verdict_bad = false;
  bool has_ribbon = false;   ///< False before anything started.
  bool planned = false;      ///< Not started: dashed.
  bool past_use_by = false;  ///< By the farm's own limits; only while it is still there to be used.
  std::string above_left, ready, use_by, spoken;
  std::string note;  ///< 'An estimate. Smell and oxygen decide, not the clock.'; for the brew's own page.
  /// 'about 1½ h until ready': what of it is known.
  std::string headline() const;
  bool operator==(const BrewFigure&) const = default;
};

BrewFigure brew_figure(const RunningBrew& brew, const Places& places, const Surroundings& around);
/// A brew that is planned. `until`: use-by, or the end of spraying.
BrewFigure planned_figure(Moment air_on, const std::optional<BrewWindow>& ready, Moment until, const Farm& farm,
                          const Surroundings& around);
void draw_brew_numbers(Pen& pen, const BrewFigure& figure);
void draw_brew_ribbon(Pen& pen, const BrewFigure& figure);

/// 'Oxygen 6.9 mg/L', 'pH 7.1', 'Smell earthy', 'Temperature not taken'.
std::string reading_value(const Reading& reading, const Surroundings& around);  ///< '6.9 mg/L'
std::string reading_text(const Reading& reading, const Surroundings& around);
Moment reading_time(const Reading& reading);
/// 'Brew 31 · Leaf 3'
std::string brew_title(const BrewSheet& sheet, const Words& words);

}  // namespace steep
