#pragma once
/// The corners of a bed that is no rectangle.

#include <optional>
#include <string_view>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// '44.5646 -123.2620; 44.5650 -123.2620; 44.5650 -123.2614': latitude and longitude of each corner.
/// Trouble: BadInput  not so written, fewer than 3 corners, edges that cross; OutOfRange  no such place.
Result<Area> area_of_corners(std::string_view typed);

/// Sides of a bed whose product is the area within its corners.
struct BedSides {
  Length length, width;
};
/// A side that was measured stands and the other is the mean one; with neither, the length is that of its shape.
/// Trouble as above.
Result<BedSides> sides_of_corners(std::string_view typed, std::optional<Length> length, std::optional<Length> width);

}  // namespace steep
