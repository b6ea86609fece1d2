#pragma once
/// Minus, value + unit, plus. Hold to repeat: after 400 ms 6 steps a second, after 2 s ten times as
/// far, snapping to round values. A tap on the value opens the number pad.

#include <span>
#include <string_view>

#include "look/layout.h"

namespace steep {

struct Stepper {
  std::string_view id = {};
  std::string_view label = {};  ///< Above, label; may be empty.
  std::string_view value = {}, unit = {};
  std::string_view spoken =
      {};  ///< What it is with value and unit: 'Tea 1.78 gallons'; look adds ', less' and ', more'.
  bool can_less = true, can_more = true;
  bool can_type = true;         ///< A tap on the value answers `open`.
  float height = size::kTouch;  ///< 48–56.
  bool due = false;             ///< Not yet answered: value in ink2.
};

struct Stepped {
  int steps = 0;  ///< Negative = less. ±10 at once after 2 s: then `round` is true.
  bool round = false;
  bool open = false;  ///< Open the number pad.
  explicit operator bool() const { return steps != 0; }
};

Stepped stepper(const Box& box, const Stepper& spec);
Stepped stepper(Pen& pen, const Stepper& spec);
/// Several side by side, below each other when too narrow; index of the changed one in `which`.
Stepped steppers(Pen& pen, std::span<const Stepper> specs, int& which);

/// `value` moved by the steps, held between the limits; `round`: to the next multiple of 10 steps.
double step_value(double value, double step, const Stepped& by, double least, double most);

}  // namespace steep
