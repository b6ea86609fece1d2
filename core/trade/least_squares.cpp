#include "trade/least_squares.h"

// Only rotations are taken from Eigen: its own solver of eigenvalues weighs 43 KB on the page, this way 6 KB.
#define EIGEN_NO_DEBUG  // Its texts alone weigh 2 KB; all indices here are ours.
#include <Eigen/Jacobi>
#include <algorithm>
#include <cassert>
#include <cmath>

namespace steep {
namespace {

// Of small, fixed room, so that nothing is allocated and little is instantiated.
constexpr int kMost = 6;
using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, kMost, kMost>;
using Vector = Eigen::Matrix<double, Eigen::Dynamic, 1, Eigen::ColMajor, kMost, 1>;
using Column = std::vector<double>;

double sum_of_products(const Column& a, const Column& b) {
  double sum = 0;
  for (std::size_t k = 0; k < a.size(); ++k) sum += a[k] * b[k];
  return sum;
}

/// The slopes of the misfit at one place, taken apart.
struct Place {
  Vector scale;     ///< Length of each column of J; 1 where it is zero.
  Vector gradient;  ///< Jᵀr / scale.
  Vector eigenvalues;
  Matrix eigenvectors;  ///< Of the scaled JᵀJ.
};

/// Eigenvalues and eigenvectors of a small symmetric matrix with ones on its diagonal, by Jacobi's rotations.
void take_apart(Place& place, Matrix normal) {
  const Eigen::Index n = normal.rows();
  place.eigenvectors = Matrix::Identity(n, n);
  double off = 1;
  for (int sweep = 0; sweep < 30 && off > 1e-16; ++sweep) {
    off = 0;
    for (Eigen::Index p = 0; p < n; ++p) {
      for (Eigen::Index q = p + 1; q < n; ++q) {
        off = std::max(off, std::abs(normal(p, q)));
        Eigen::JacobiRotation<double> turn;
        turn.makeJacobi(normal, p, q);
        normal.applyOnTheLeft(p, q, turn.adjoint());
        normal.applyOnTheRight(p, q, turn);
        place.eigenvectors.applyOnTheRight(p, q, turn);
      }
    }
  }
  place.eigenvalues = normal.diagonal();
}

std::optional<Place> slopes(const Misfit& misfit, std::vector<double> at, const Column& residuals) {
  const auto n = static_cast<Eigen::Index>(at.size());
  std::vector<Column> J(at.size(), Column(residuals.size()));
  Column behind(residuals.size());
  for (std::size_t i = 0; i < at.size(); ++i) {
    const double value = at[i],
                 step = 6e-6 * std::max(std::abs(value), 0.1);  // About ε^⅓, best for central differences.
    at[i] = value + step;
    if (!misfit(at, J[i])) return std::nullopt;
    at[i] = value - step;
    if (!misfit(at, behind)) return std::nullopt;
    at[i] = value;
    for (std::size_t k = 0; k < behind.size(); ++k) J[i][k] = (J[i][k] - behind[k]) / (2 * step);
  }
  Place place;
  place.scale.resize(n);
  place.gradient.resize(n);
  Matrix normal(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Column& column = J[static_cast<std::size_t>(i)];
    const double length = std::sqrt(sum_of_products(column, column));
    if (!std::isfinite(length)) return std::nullopt;
    place.scale[i] = length > 0 ? length : 1;
    place.gradient[i] = sum_of_products(column, residuals) / place.scale[i];
    for (Eigen::Index j = 0; j <= i; ++j)
      normal(i, j) = normal(j, i) =
          sum_of_products(column, J[static_cast<std::size_t>(j)]) / (place.scale[i] * place.scale[j]);
  }
  take_apart(place, normal);
  return place;
}

std::vector<double> stepped(const std::vector<double>& from, const Place& place, double damping) {
  const Eigen::Index n = place.scale.size();
  std::vector<double> to = from;
  for (Eigen::Index k = 0; k < n; ++k) {
    double along = 0;
    for (Eigen::Index i = 0; i < n; ++i) along += place.eigenvectors(i, k) * place.gradient[i];
    along /= std::max(place.eigenvalues[k], 0.0) + damping;
    for (Eigen::Index i = 0; i < n; ++i)
      to[static_cast<std::size_t>(i)] -= place.eigenvectors(i, k) * along / place.scale[i];
  }
  return to;
}

bool is_close(const std::vector<double>& a, const std::vector<double>& b) {
  for (std::size_t i = 0; i < a.size(); ++i)
    if (std::abs(a[i] - b[i]) > 1e-10 * (std::abs(a[i]) + 1e-3)) return false;
  return true;
}

/// nullopt when a direction without end, or nearly so, has a part in this parameter.
std::optional<double> standard_error(const Place& place, Eigen::Index i, double deviation) {
  constexpr double kVanishes = 1e-11, kNoPart = 1e-6;
  double sum = 0;
  for (Eigen::Index k = 0; k < place.scale.size(); ++k) {
    const double part = place.eigenvectors(i, k) * place.eigenvectors(i, k);
    if (place.eigenvalues[k] > kVanishes)
      sum += part / place.eigenvalues[k];
    else if (part > kNoPart)
      return std::nullopt;
  }
  return deviation * std::sqrt(sum) / place.scale[i];
}

auto no_fit() { return refuse(Trouble::OutOfRange, "fit.none"_w); }

}  // namespace

Result<LeastSquares> least_squares(const Misfit& misfit, std::size_t readings, std::span<const double> start) {
  assert(!start.empty() && start.size() <= kMost && "no more parameters than there is room for");
  if (readings <= start.size()) return refuse(Trouble::BadInput, "fit.few"_w);
  LeastSquares fit;
  fit.values.assign(start.begin(), start.end());
  Column residuals(readings), tried(readings);
  if (!misfit(fit.values, residuals)) return no_fit();
  fit.sum = sum_of_products(residuals, residuals);
  if (!std::isfinite(fit.sum)) return no_fit();

  auto place = slopes(misfit, fit.values, residuals);
  double damping = 1e-3;
  bool arrived = false;
  for (int step = 0; step < 200 && !arrived; ++step) {
    if (!place) return no_fit();
    const std::vector<double> next = stepped(fit.values, *place, damping);
    const bool exists = misfit(next, tried);
    const double sum = exists ? sum_of_products(tried, tried) : fit.sum;
    if (exists && sum < fit.sum) {
      arrived = is_close(next, fit.values);
      fit.values = next;
      fit.sum = sum;
      std::swap(residuals, tried);
      place = slopes(misfit, fit.values, residuals);
      damping = std::max(damping / 10, 1e-15);
    } else {
      arrived = (exists && is_close(next, fit.values)) || damping > 1e12;
      damping *= 10;
    }
  }
  if (!arrived || !place) return no_fit();
  fit.deviation = std::sqrt(fit.sum / static_cast<double>(readings - start.size()));
  for (std::size_t i = 0; i < start.size(); ++i)
    fit.errors.push_back(standard_error(*place, static_cast<Eigen::Index>(i), fit.deviation));
  return fit;
}

}  // namespace steep
