#pragma once
/// Walk and catch: how much a rig puts on. The course is walked and timed, each nozzle caught for that
/// time, and the rate goes into the book as the rig's calibration. The numbers are those of `work course`
/// and `work calibrate`.

#include <array>
#include <string>
#include <vector>

#include "book/enter.h"
#include "screens/amount_sheet.h"
#include "screens/page.h"
#include "screens/work_result.h"

namespace steep {

struct CalibrationView {
  struct Cell {
    std::string key, label, value, unit, spoken;
    std::optional<Written> written;
    bool operator==(const Cell& o) const { return key == o.key && value == o.value && unit == o.unit; }
  };
  std::string title, second;
  // 1 Walk.
  std::string walk_head, course, course_spoken, done;
  std::array<std::string, 5> marks;
  std::vector<Cell> walks;
  Cell pace;
  bool walks_done = false, has_course = false;
  std::string start_walk, stop_walk;  ///< '{0}' = seconds so far.
  int next_walk = -1;
  // 2 Catch.
  std::string catch_head, pressure, less, more, time_it, time_left, time_over;
  std::vector<Cell> catches;
  std::vector<float> levels;
  double catch_s = 0;  ///< How long; 0 = not walked yet.
  const Unit* catch_unit = nullptr;
  double step = 0.1;
  // What it gives.
  std::string gives_head, rate, rate_unit, rate_detail;
  struct Pair {
    std::string words, value;
    bool operator==(const Pair&) const = default;
  };
  std::string swath_words, swath_value;  ///< Opens the width of the swath.
  std::vector<Pair> pairs;
  std::optional<WorkAnswer> answer;
  std::string missing, use, problem, how;
  bool can_use = false;
  // The number pad.
  struct Typed {
    std::string key, title;
    std::vector<const Unit*> units;
  };
  std::vector<Typed> typed;
  EnterFields fields;  ///< Of the record.
  Id rig, farm;
  UnitsShown units;
  Words words = Words(Language::English);
  bool keep_awake = false;
  bool operator==(const CalibrationView& o) const {
    return title == o.title && walks == o.walks && catches == o.catches && rate == o.rate && pairs == o.pairs &&
           missing == o.missing;
  }
};

struct CalibrationInput : PageInput {
  DraftFields form;    ///< 'bed-top', 'swath', 'pressure', 'walk.0' …, 'catch.0' …: amounts in normal form.
  int hand = 0;        ///< The jug that − and + move.
  std::string timing;  ///< 'walk' or 'catch'; empty = no watch runs.
  double since_s = 0;  ///< On look's clock.
  bool how_open = false;
  AmountTyping typing;
  bool operator==(const CalibrationInput&) const = default;
};
DraftFields draft_fields(const CalibrationInput& input);
void from_draft(CalibrationInput& input, const DraftFields& fields);

Result<CalibrationView> calibration_view(const Surroundings& around, const CalibrationInput& input);
std::optional<Ask> draw_calibration(const CalibrationView& view, CalibrationInput& input, const Furniture& furniture);

}  // namespace steep
