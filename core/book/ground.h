#pragma once
/// History follows the ground: which bed of today lies where a bed of earlier lay. Only core/book includes this.

#include <cstddef>
#include <unordered_map>
#include <vector>

#include "book/places.h"
#include "trade/stretch.h"

namespace steep {

/// A stretch of some bed's record, and where it lies now.
struct GroundPlace {
  std::size_t bed = 0;      ///< Index into Places::beds.
  bool whole = true;        ///< The whole source bed; else `source` of it.
  Stretch source;
  Length shift;             ///< Place now = place then + shift.
};

class Ground {
 public:
  explicit Ground(const Places& places);
  /// Where records of this bed lie now; empty = on no bed that is shown.
  const std::vector<GroundPlace>& places_of(const Id& bed) const;
  /// The stretch as it lies now; of no length when it lies outside.
  static Stretch moved(const GroundPlace& place, Stretch stretch);

 private:
  std::unordered_map<Id, std::vector<GroundPlace>> places_;
};

}  // namespace steep
