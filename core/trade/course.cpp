#include "trade/course.h"

#include <cmath>

namespace steep {

Result<Length> course_length(Length swath, CourseKind kind) {
  if (!(swath.meters() > 0.01) || swath.meters() > 100)
    return refuse(Trouble::OutOfRange, "course.swath"_w, {}, "swath");
  return course_area(kind) / swath;
}

Result<Duration> course_time(Length course, Speed speed) {
  if (!(speed.si() > 0) || !std::isfinite(speed.si()))
    return refuse(Trouble::OutOfRange, "course.speed"_w, {}, "speed");
  if (!(course.si() > 0)) return refuse(Trouble::OutOfRange, "course.length"_w, {}, "course");
  return course / speed;
}

Result<Duration> mean_walk(std::span<const Duration> walks) {
  if (walks.empty()) return refuse(Trouble::BadInput, "course.time"_w, {}, "walk");
  Duration sum;
  for (const Duration one : walks) {
    if (!(one.si() > 0) || !std::isfinite(one.si())) return refuse(Trouble::OutOfRange, "course.time"_w, {}, "walk");
    sum += one;
  }
  return sum / static_cast<double>(walks.size());
}

Result<Speed> course_speed(Length course, Duration time) {
  if (!(course.si() > 0) || !std::isfinite(course.si()))
    return refuse(Trouble::OutOfRange, "course.length"_w, {}, "course");
  if (!(time.si() > 0)) return refuse(Trouble::OutOfRange, "course.time"_w, {}, "time");
  return course / time;
}

}  // namespace steep
