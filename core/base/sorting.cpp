#include "base/sorting.h"

#include <algorithm>
#include <numeric>

namespace steep {

std::vector<std::uint32_t> sorted_places(std::size_t count, PlaceBefore before, const void* how) {
  std::vector<std::uint32_t> places(count);
  std::iota(places.begin(), places.end(), 0U);
  std::stable_sort(places.begin(), places.end(), [&](std::uint32_t a, std::uint32_t b) { return before(how, a, b); });
  return places;
}

}  // namespace steep
