#pragma once
/// How far to walk to find out what a sprayer puts on, so that the catch reads directly as a rate.
///
/// Source:   [EXT-128] the 1/128-acre method of US extension services: what one nozzle (or one wand) gives,
///           in fluid ounces, while covering 1/128 acre is gallons per acre, since a gallon has 128 of them.
///           [EXT-NOMATH] Utah State University, Horticulture/Vegetables/2014-03.
///           Metric twin: millilitres caught on 10 m² are liters per hectare (arithmetic).
/// Formula:  course = (43,560 / 128) ft² / swath = 340.3125 ft² / swath;  course = 10 m² / swath
/// Changes:  any swath or nozzle spacing; 340.3125 where tables print courses for 340.
/// Limits:   swath over 1 cm and up to 100 m. The swath is what is *sprayed* in one walk, not the bed top.
/// Accuracy: exact; a course is laid out to the nearest foot or decimeter.

#include <span>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

enum class CourseKind {
  Acre128,          ///< Fluid ounces caught = US gallons per acre.
  TenSquareMeters,  ///< Milliliters caught = liters per hectare.
};

/// 340.3125 ft² or 10 m².
constexpr Area course_area(CourseKind kind) {
  return kind == CourseKind::Acre128 ? Area::from_square_feet(43560.0 / 128) : Area::from_square_meters(10);
}

/// Trouble: OutOfRange  swath not within 1 cm – 100 m.
Result<Length> course_length(Length swath, CourseKind kind);

/// How long a course takes at a speed. Trouble: OutOfRange  speed not above 0.
Result<Duration> course_time(Length course, Speed speed);

/// Mean of several timed walks of one course. Trouble: BadInput none; OutOfRange  a time not above 0.
Result<Duration> mean_walk(std::span<const Duration> walks);

/// Speed of a timed course. Trouble: OutOfRange  length or time not above 0.
Result<Speed> course_speed(Length course, Duration time);

}  // namespace steep
