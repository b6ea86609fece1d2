#include "trade/geodesy.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace steep {
namespace {

constexpr double kPi = 3.14159265358979323846, kDegree = kPi / 180;
constexpr double kA = 6378137.0, kF = 1 / 298.257223563, kB = kA * (1 - kF), kE2 = kF * (2 - kF);
constexpr double kGreatestExtent_m = 200000;

bool is_place(Place p) { return std::abs(p.latitude) <= 90 && std::abs(p.longitude) <= 180; }
auto bad_place() { return refuse(Trouble::OutOfRange, "area.place"_w, {}, "polygon"); }

/// Degrees of longitude from one to the other, the short way.
double longitude_step(double from, double to) {
  double step = to - from;
  if (step > 180) step -= 360;
  if (step < -180) step += 360;
  return step;
}

/// Snyder's q at a latitude (eq. 3-12).
double snyder_q(double sine) {
  const double e = std::sqrt(kE2);
  return (1 - kE2) * (sine / (1 - kE2 * sine * sine) - std::log((1 - e * sine) / (1 + e * sine)) / (2 * e));
}

double authalic_latitude(double latitude) {
  const double share = snyder_q(std::sin(latitude * kDegree)) / snyder_q(1);
  return std::asin(std::clamp(share, -1.0, 1.0));
}

/// Do segments a–b and c–d cross within both? Plane, relative degrees.
struct Flat {
  double x, y;
};
double turn(Flat a, Flat b, Flat c) { return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x); }
bool cross(Flat a, Flat b, Flat c, Flat d) {
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

Result<void> check_polygon(std::span<const Place> vertices) {
  if (vertices.size() < 3) return refuse(Trouble::BadInput, "area.few-vertices"_w, {}, "polygon");
  std::vector<Flat> flat;
  for (const Place& p : vertices) {
    if (!is_place(p)) return bad_place();
    flat.push_back({longitude_step(vertices[0].longitude, p.longitude), p.latitude});
  }
  for (const Flat& p : flat) {
    const double north = std::abs(p.y - flat[0].y) * kDegree * kA;
    const double east = std::abs(p.x) * kDegree * kA * std::cos(flat[0].y * kDegree);
    if (std::hypot(north, east) > kGreatestExtent_m)
      return refuse(Trouble::OutOfRange, "area.too-large"_w, {}, "polygon");
  }
  const std::size_t n = flat.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 2; j < n; ++j)
      if ((j + 1) % n != i && cross(flat[i], flat[(i + 1) % n], flat[j], flat[(j + 1) % n]))
        return refuse(Trouble::BadInput, "area.crossing"_w, {}, "polygon");
  return {};
}

}  // namespace

Result<Area> polygon_area(std::span<const Place> vertices) {
  TRY(check_polygon(vertices));
  double excess = 0;
  for (std::size_t i = 0; i < vertices.size(); ++i) {
    const Place &p = vertices[i], &q = vertices[(i + 1) % vertices.size()];
    const double t1 = std::tan(authalic_latitude(p.latitude) / 2), t2 = std::tan(authalic_latitude(q.latitude) / 2);
    const double half_step = std::tan(longitude_step(p.longitude, q.longitude) * kDegree / 2);
    excess += 2 * std::atan2(half_step * (t1 + t2), 1 + t1 * t2);
  }
  const double area = std::abs(excess) * kA * kA * snyder_q(1) / 2;
  // Corners in a line, or all in one place: less than a hand.
  if (!(area > 0.01)) return refuse(Trouble::BadInput, "area.nothing"_w, {}, "polygon");
  return Area::from_square_meters(area);
}

Result<Length> polygon_length(std::span<const Place> vertices) {
  TRY(check_polygon(vertices));
  const Place& origin = vertices[0];
  const double sine = std::sin(origin.latitude * kDegree), w2 = 1 - kE2 * sine * sine;
  const double across = kA / std::sqrt(w2), along = across * (1 - kE2) / w2;  // Radii: prime vertical, meridian.
  std::vector<Flat> plane;
  for (const Place& p : vertices)
    plane.push_back({longitude_step(origin.longitude, p.longitude) * kDegree * across *
                         std::cos((origin.latitude + p.latitude) / 2 * kDegree),
                     (p.latitude - origin.latitude) * kDegree * along});
  double narrowest = -1, longer = 0;
  for (std::size_t i = 0; i < plane.size(); ++i) {
    const Flat &a = plane[i], &b = plane[(i + 1) % plane.size()];
    const double size = std::hypot(b.x - a.x, b.y - a.y);
    if (!(size > 0)) continue;
    const double ux = (b.x - a.x) / size, uy = (b.y - a.y) / size;
    double least[2] = {}, most[2] = {};
    for (const Flat& p : plane) {
      const double at[2] = {(p.x - a.x) * ux + (p.y - a.y) * uy, (p.y - a.y) * ux - (p.x - a.x) * uy};
      for (const int side : {0, 1}) {
        least[side] = std::min(least[side], at[side]);
        most[side] = std::max(most[side], at[side]);
      }
    }
    const double one = most[0] - least[0], other = most[1] - least[1];
    if (narrowest >= 0 && one * other >= narrowest) continue;
    narrowest = one * other;
    longer = std::max(one, other);
  }
  return Length::from_meters(longer);
}

Result<Length> distance_between(Place from, Place to) {
  if (!is_place(from) || !is_place(to)) return bad_place();
  const double L = longitude_step(from.longitude, to.longitude) * kDegree;
  const double U1 = std::atan((1 - kF) * std::tan(from.latitude * kDegree)),
               U2 = std::atan((1 - kF) * std::tan(to.latitude * kDegree));
  const double sU1 = std::sin(U1), cU1 = std::cos(U1), sU2 = std::sin(U2), cU2 = std::cos(U2);
  double lambda = L, sin_sigma = 0, cos_sigma = 1, sigma = 0, cos2_alpha = 1, cos_2sm = 1;
  bool settled = false;
  for (int i = 0; i < 100 && !settled; ++i) {
    const double sl = std::sin(lambda), cl = std::cos(lambda);
    sin_sigma = std::hypot(cU2 * sl, cU1 * sU2 - sU1 * cU2 * cl);
    if (sin_sigma == 0) return Length{};
    cos_sigma = sU1 * sU2 + cU1 * cU2 * cl;
    sigma = std::atan2(sin_sigma, cos_sigma);
    const double sin_alpha = cU1 * cU2 * sl / sin_sigma;
    cos2_alpha = 1 - sin_alpha * sin_alpha;
    cos_2sm = cos2_alpha > 1e-15 ? cos_sigma - 2 * sU1 * sU2 / cos2_alpha : 0;  // On the equator.
    const double C = kF / 16 * cos2_alpha * (4 + kF * (4 - 3 * cos2_alpha));
    const double before = lambda;
    lambda = L + (1 - C) * kF * sin_alpha *
                     (sigma + C * sin_sigma * (cos_2sm + C * cos_sigma * (-1 + 2 * cos_2sm * cos_2sm)));
    settled = std::abs(lambda - before) < 1e-12;
  }
  if (!settled) return refuse(Trouble::OutOfRange, "area.opposite"_w, {}, "place");
  const double u2 = cos2_alpha * (kA * kA - kB * kB) / (kB * kB);
  const double A = 1 + u2 / 16384 * (4096 + u2 * (-768 + u2 * (320 - 175 * u2)));
  const double B = u2 / 1024 * (256 + u2 * (-128 + u2 * (74 - 47 * u2)));
  const double delta_sigma =
      B * sin_sigma *
      (cos_2sm + B / 4 *
                     (cos_sigma * (-1 + 2 * cos_2sm * cos_2sm) -
                      B / 6 * cos_2sm * (-3 + 4 * sin_sigma * sin_sigma) * (-3 + 4 * cos_2sm * cos_2sm)));
  return Length::from_meters(kB * A * (sigma - delta_sigma));
}

Result<Length> polygon_perimeter(std::span<const Place> vertices) {
  TRY(check_polygon(vertices));
  Length sum;
  for (std::size_t i = 0; i < vertices.size(); ++i) {
    TRY_ASSIGN(const Length edge, distance_between(vertices[i], vertices[(i + 1) % vertices.size()]));
    sum += edge;
  }
  return sum;
}

}  // namespace steep
