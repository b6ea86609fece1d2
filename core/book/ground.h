#pragma once
/// History follows the ground: which bed of today lies where a bed of earlier lay. Only core/book includes this.

#include <cstddef>
#include <unordered_map>
#include <vector>

#include "book/places.h"
#include "trade/stretch.h"

namespace steep {

/// Where a stretch of some bed's record lies now.
struct GroundPlace {
  std::size_t bed = 0;  ///< Index into Places::beds.
  GroundSource source;
};

class Ground {
 public:
  explicit Ground(const Places& places);
  /// Where records of this bed lie now; empty = on no bed that is shown.
  const std::vector<GroundPlace>& places_of(const Id& bed) const;
  /// Beds of other farms whose records lie on ground of this one.
  const std::vector<Id>& elsewhere() const { return elsewhere_; }

 private:
  std::unordered_map<Id, std::vector<GroundPlace>> places_;
  std::vector<Id> elsewhere_;
};

}  // namespace steep
