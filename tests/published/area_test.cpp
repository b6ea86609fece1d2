#include "trade/geodesy.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "published/published.h"

using namespace steep;
using namespace steep::published;

namespace {

constexpr const char* kGeodesic = "GeographicLib 2.0 (Karney 2013), geodesic polygon on WGS 84";

TEST_CASE("area: polygons on the ellipsoid") {
  // Invented beds and fields, laid out on the ellipsoid.
  struct Row {
    const char* name;
    double area_m2, perimeter_m, sphere_m2;
    std::vector<Place> corners;
  };
  const std::vector<Row> rows{
      {"bed 1.2x30m 45N",
       35.999554,
       62.399937,
       35.923203,
       {{44.564600000, -123.262000000},
        {44.564853689, -123.261870841},
        {44.564849996, -123.261856646},
        {44.564596307, -123.261985806}}},
      {"bed 0.75x15m 35S",
       11.250805,
       31.500173,
       11.251334,
       {{-35.108200000, 147.359800000},
        {-35.108211784, 147.359963906},
        {-35.108218519, 147.359963189},
        {-35.108206735, 147.359799283}}},
      {"field 100x200m 42N",
       19999.998797,
       599.999984,
       19969.410647,
       {{42.030800000, -93.631900000},
        {42.032600603, -93.631900000},
        {42.032600597, -93.630692394},
        {42.030799994, -93.630692428}}},
      {"L field 51N",
       35454.992666,
       858.754980,
       35322.835203,
       {{51.507400000, -0.127800000},
        {51.509200000, -0.127800000},
        {51.509200000, -0.126000000},
        {51.508300000, -0.126000000},
        {51.508300000, -0.124500000},
        {51.507400000, -0.124500000}}},
      {"triangle 1acre equator",
       4048.906766,
       307.237792,
       4067.088364,
       {{0.000000000, 36.800000000}, {0.000000000, 36.800808000}, {0.000814200, 36.800000000}}},
      {"quarter mile square 41N",
       161874.257416,
       1609.344002,
       161672.721300,
       {{40.805100000, -81.935100000},
        {40.808723011, -81.935100000},
        {40.808722912, -81.930331740},
        {40.805099901, -81.930331999}}},
  };
  for (const Row& row : rows) {
    const auto area = polygon_area(row.corners);
    REQUIRE(area);
    // Three builds of the library differ by 5e-5 m2; our edges are great circles of the authalic sphere.
    const double tolerance = 1e-4 + 1e-7 * row.area_m2;
    PUBLISHED_NUMBER("area", kGeodesic, row.name, area->square_meters(), row.area_m2, tolerance);
    PUBLISHED_NUMBER("area", kGeodesic, std::string(row.name) + ", all around",
                     polygon_perimeter(row.corners)->meters(), row.perimeter_m, 1e-3);
    std::vector<Place> backwards(row.corners.rbegin(), row.corners.rend());
    PUBLISHED_NUMBER("area", kGeodesic, std::string(row.name) + ", the other way round",
                     polygon_area(backwards)->square_meters(), row.area_m2, tolerance);
    // Of a rectangle, area and perimeter leave one length.
    if (const double quarter = row.perimeter_m / 4; row.corners.size() == 4) {
      const double length = quarter + std::sqrt(std::max(0.0, quarter * quarter - row.area_m2));
      PUBLISHED_NUMBER("area", kGeodesic, std::string(row.name) + ", how long", polygon_length(row.corners)->meters(),
                       length, 1e-3 + 1e-4 * length);
    }
    // A sphere is wrong by up to 0.45 %: ours must not be the sphere's.
    PUBLISHED("area", "area on a sphere of 6,371,008.8 m (@turf/area 7.4.0), a known error", row.name,
              within(area->square_meters(), row.sphere_m2, 0.006 * row.area_m2) &&
                  !within(area->square_meters(), row.sphere_m2, 2e-5 * row.area_m2));
  }
  PUBLISHED_NUMBER("area", "a quarter-mile square is 40 acres", "acres", polygon_area(rows.back().corners)->acres(), 40,
                   1e-5);
}

TEST_CASE("area: distances on the ellipsoid") {
  struct Row {
    const char* name;
    Place from, to;
    double meters;
  };
  for (const Row& row : {
           Row{"bed length", {44.5646, -123.262}, {44.564854, -123.261871}, 30.0281},
           {"1 km north 42N", {42.0308, -93.6319}, {42.0398, -93.6319}, 999.6657},
           {"1 km east 42N", {42.0308, -93.6319}, {42.0308, -93.6198}, 1002.0106},
           {"London-Paris", {51.5074, -0.1278}, {48.8566, 2.3522}, 343923.1201},
           {"JFK-LAX", {40.6413, -73.7781}, {33.9416, -118.4085}, 3983079.7485},
           {"equator 1 deg", {0, 0}, {0, 1}, 111319.4908},
           {"meridian 1 deg at 45", {44.5, 10}, {45.5, 10}, 111131.7777},
           {"dateline", {-37, 179.999}, {-37, -179.999}, 178.0233},
           {"same point", {10, 20}, {10, 20}, 0.0000},
       }) {
    // Half a millimeter of Vincenty's series, and 1 part in 10^9.
    const auto distance = distance_between(row.from, row.to);
    REQUIRE(distance);
    PUBLISHED_NUMBER("area", "GeographicLib 2.0 (Karney 2013), geodesic distance on WGS 84", row.name,
                     distance->meters(), row.meters, 5e-4 + 1e-9 * row.meters);
  }
}

}  // namespace
