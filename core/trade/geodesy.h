#pragma once
/// How large is a bed or field drawn on the map, and how far is it between two places?
///
/// Source:   [WGS-84] ellipsoid, a = 6,378,137 m, 1/f = 298.257223563; [SNYDER-1395] Map Projections, USGS PP 1395,
///           eqs. 3-11 to 3-13 (authalic latitude); [VINCENTY-1975] Survey Review 23, 88, inverse formula.
/// Formula:  area = authalic radius² × spherical excess of the polygon on the authalic sphere; distance by Vincenty's series
/// Changes:  edges are great circles of the authalic sphere instead of geodesics: they part by some 1e-8 of a field's area.
/// Limits:   3 vertices or more, edges that do not cross, extent below 200 km; not around a pole. Vertex order decides no sign.
/// Accuracy: areas within 1e-4 m² + 1e-7 of geodesic ones (against GeographicLib); distances 0.5 mm. A sphere would be 0.4 % off.

#include <span>

#include "base/result.h"
#include "quantity/quantities.h"
#include "trade/sun.h"

namespace steep {

/// Trouble: BadInput  fewer than 3 vertices, edges that cross; OutOfRange  latitude or longitude outside ±90, ±180, extent
/// above 200 km.
Result<Area> polygon_area(std::span<const Place> vertices);

/// The longer side of the narrowest rectangle that holds it, one side along an edge: how long a bed of this shape is.
/// In the local plane with the ellipsoid's radii of curvature. Trouble as above.
Result<Length> polygon_length(std::span<const Place> vertices);

/// Trouble: OutOfRange  latitude or longitude outside ±90, ±180, or places nearly opposite on the globe.
Result<Length> distance_between(Place from, Place to);

/// All around. Trouble as above.
Result<Length> polygon_perimeter(std::span<const Place> vertices);

}  // namespace steep
