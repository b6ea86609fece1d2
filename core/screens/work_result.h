#pragma once
/// The answer of a calculation as it is read on a screen.

#include <string>
#include <vector>

#include "screens/page.h"
#include "trade/step_words.h"

namespace steep {

/// What the result is: 'Load 2: tea to add'.
std::string result_label(const ResultValue& result, const Words& words);
/// Its number and unit; days and times on the farm's clock, in words.
Shown result_reading(const ResultValue& result, const Surroundings& around);

struct WorkAnswer {
  struct Line {
    std::string name, words, number, unit, spoken;
    bool is_text = false;          ///< A word, a day, a name: no number that could be aligned.
    bool is_main = false;          ///< The number that was asked for.
    std::vector<StepShown> steps;  ///< How this line came about.
    bool operator==(const Line&) const = default;
  };
  std::vector<Line> lines;
  std::vector<std::string> cautions, notes;
  // Behind each line:
  std::string how, source_word, source, limits_word, limits;
  // Two readings of what was typed.
  struct Reading {
    std::string input, text, words;
    bool operator==(const Reading&) const = default;
  };
  std::vector<Reading> readings;
  std::string which;  ///< 'Which one was meant?'
  bool operator==(const WorkAnswer&) const = default;
};
WorkAnswer shown_answer(const Calculation& calculation, const Answer& answer, const Surroundings& around);

}  // namespace steep
