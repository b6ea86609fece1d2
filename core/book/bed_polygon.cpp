#include "book/bed_polygon.h"

#include <vector>

#include "base/text.h"
#include "trade/geodesy.h"

namespace steep {

Result<Area> area_of_corners(std::string_view typed) {
  std::vector<Place> corners;
  for (const std::string_view piece : split(typed, ';')) {
    const std::string_view corner = trim(piece);
    const std::size_t gap = corner.find_first_of(" ,");
    if (gap == std::string_view::npos) return refuse(Trouble::BadInput, "enter.corners"_w, {typed});
    const auto latitude = parse_decimal(corner.substr(0, gap)), longitude = parse_decimal(trim(corner.substr(gap + 1)));
    if (!latitude || !longitude) return refuse(Trouble::BadInput, "enter.corners"_w, {typed});
    corners.push_back({*latitude, *longitude});
  }
  return polygon_area(corners);
}

}  // namespace steep
