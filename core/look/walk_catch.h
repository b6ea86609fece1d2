#pragma once
/// Pictures of a calibration: the measured course with its walker, and measuring jugs with what was caught.

#include <span>
#include <string_view>

#include "look/layout.h"

namespace steep {

/// A course between two stakes, with the length at each mark.
struct WalkCourse {
  std::span<const std::string_view> marks = {};  ///< From the start to the end, evenly apart: '0', '34' … '136.1 ft'.
  std::string_view spoken = {};
};
void walk_course(Pen& pen, const WalkCourse& course);

/// One jug: `level` 0–1 of its height, the label above; `in_hand` = thicker edge, label strong. A picture: no item.
void draw_jug(const Box& box, std::string_view label, float level, bool in_hand);

}  // namespace steep
