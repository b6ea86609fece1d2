#pragma once
/// A stretch of a bed, and how treatments of parts cut a bed into pieces of one history each.
///
/// Changes:  ends that lie within 1 cm of each other count as one place: nobody walks a bed more exactly,
///           and a sliver would be drawn as a cut line.
/// Accuracy: exact otherwise.

#include <cstddef>
#include <span>
#include <vector>

#include "quantity/quantities.h"

namespace steep {

/// From–to along a bed, both measured from its named zero end.
struct Stretch {
  Length from, to;
  Length length() const { return to - from; }
  bool operator==(const Stretch&) const = default;
};

/// A part of the bed that has the same history throughout.
struct Piece {
  Stretch stretch;
  std::vector<std::size_t> covered_by;  ///< Indices of the parts that cover it, in the order given.
};

/// Cuts `whole` at the ends of `parts` that lie inside it, in order from its start; the pieces fill it.
/// Parts given backwards are turned round, what lies outside `whole` is left out. A `whole` of no
/// length (within 1 cm) gives no piece.
std::vector<Piece> cut_into_pieces(Stretch whole, std::span<const Stretch> parts);

}  // namespace steep
