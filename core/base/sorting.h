#pragma once
/// Sorting lists of records. One sorting of places serves them all: the standard library's own would
/// be compiled anew for each type of record and each comparison, 2 to 4 KB of the page every time.

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace steep {

/// Whether the entry at `a` belongs before that at `b`.
using PlaceBefore = bool (*)(const void* how, std::uint32_t a, std::uint32_t b);
/// The places 0 … count-1 in order; equal ones stay as they were.
std::vector<std::uint32_t> sorted_places(std::size_t count, PlaceBefore before, const void* how);

/// Sorts stably. For long lists of numbers or ids std::sort is quicker.
template <class T, class Before>
void sort_list(std::vector<T>& list, const Before& before) {
  if (list.size() < 2) return;
  struct How {
    const std::vector<T>& list;
    const Before& before;
  } const how{list, before};
  const PlaceBefore compare = [](const void* of, std::uint32_t a, std::uint32_t b) -> bool {
    const How& asked = *static_cast<const How*>(of);
    return asked.before(asked.list[a], asked.list[b]);
  };
  std::vector<T> sorted;
  sorted.reserve(list.size());
  for (const std::uint32_t place : sorted_places(list.size(), compare, &how)) sorted.push_back(std::move(list[place]));
  list = std::move(sorted);
}

}  // namespace steep
