#include "book/bed_polygon.h"

#include <vector>

#include "base/text.h"
#include "trade/geodesy.h"

namespace steep {
namespace {

Result<std::vector<Place>> read_corners(std::string_view typed) {
  std::vector<Place> corners;
  for (const std::string_view piece : split(typed, ';')) {
    const std::string_view corner = trim(piece);
    const std::size_t gap = corner.find_first_of(" ,");
    if (gap == std::string_view::npos) return refuse(Trouble::BadInput, "enter.corners"_w, {typed});
    const auto latitude = parse_decimal(corner.substr(0, gap)), longitude = parse_decimal(trim(corner.substr(gap + 1)));
    if (!latitude || !longitude) return refuse(Trouble::BadInput, "enter.corners"_w, {typed});
    corners.push_back({*latitude, *longitude});
  }
  return corners;
}

}  // namespace

Result<Area> area_of_corners(std::string_view typed) {
  TRY_ASSIGN(const std::vector<Place>& corners, read_corners(typed));
  return polygon_area(corners);
}

Result<BedSides> sides_of_corners(std::string_view typed, std::optional<Length> length, std::optional<Length> width) {
  TRY_ASSIGN(const std::vector<Place>& corners, read_corners(typed));
  TRY_ASSIGN(const Area area, polygon_area(corners));
  if (length && length->si() > 0) return BedSides{*length, area / *length};
  if (width && width->si() > 0) return BedSides{area / *width, *width};
  TRY_ASSIGN(const Length longest, polygon_length(corners));
  return BedSides{longest, area / longest};
}

}  // namespace steep
