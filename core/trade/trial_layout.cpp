#include "trade/trial_layout.h"

#include <numeric>
#include <utility>

namespace steep {

std::uint64_t SplitMix64::next() {
  std::uint64_t z = (state_ += 0x9E3779B97F4A7C15u);
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
  return z ^ (z >> 31);
}

std::uint64_t SplitMix64::below(std::uint64_t count) {
  const std::uint64_t uneven = (0 - count) % count;  // 2^64 mod count: so many of the lowest are too many.
  std::uint64_t drawn = next();
  while (drawn < uneven) drawn = next();
  return drawn % count;
}

Result<std::vector<std::vector<int>>> trial_layout(int treatments, int blocks, std::uint64_t seed) {
  if (treatments < 2 || treatments > 50) return refuse(Trouble::OutOfRange, "trial.treatments"_w, {}, "treatment");
  if (blocks < 1 || blocks > 200) return refuse(Trouble::OutOfRange, "trial.blocks"_w, {}, "blocks");
  SplitMix64 random(seed);
  std::vector<std::vector<int>> layout;
  for (int block = 0; block < blocks; ++block) {
    std::vector<int> order(static_cast<std::size_t>(treatments));
    std::iota(order.begin(), order.end(), 0);
    for (std::size_t i = order.size() - 1; i > 0; --i) std::swap(order[i], order[random.below(i + 1)]);
    layout.push_back(std::move(order));
  }
  return layout;
}

}  // namespace steep
