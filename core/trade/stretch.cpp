#include "trade/stretch.h"

#include <algorithm>

namespace steep {
namespace {
constexpr double kSamePlace_m = 0.01;
}  // namespace

std::vector<Piece> cut_into_pieces(Stretch whole, std::span<const Stretch> parts) {
  const double start = std::min(whole.from, whole.to).meters();
  const double end = std::max(whole.from, whole.to).meters();
  std::vector<double> places;
  for (const Stretch& part : parts)
    for (const double place : {part.from.meters(), part.to.meters()})
      if (place > start + kSamePlace_m && place < end - kSamePlace_m) places.push_back(place);
  std::sort(places.begin(), places.end());

  std::vector<double> cuts{start};
  for (const double place : places)
    if (place > cuts.back() + kSamePlace_m) cuts.push_back(place);
  if (end > start + kSamePlace_m) cuts.push_back(end);

  std::vector<Piece> pieces;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    Piece piece{{Length::from_meters(cuts[i]), Length::from_meters(cuts[i + 1])}, {}};
    const double middle = (cuts[i] + cuts[i + 1]) / 2;
    for (std::size_t p = 0; p < parts.size(); ++p) {
      const auto [low, high] = std::minmax({parts[p].from.meters(), parts[p].to.meters()});
      if (low < middle && middle < high) piece.covered_by.push_back(p);
    }
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

}  // namespace steep
