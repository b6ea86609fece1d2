#pragma once
/// Which strip gets which treatment? Drawn at random in every block, the same again from the same seed.
///
/// Source:   randomized complete blocks (any text on field trials); shuffle of [DURSTENFELD-1964]; numbers by SplitMix64,
///           [STEELE-2014].
/// Formula:  for i = n − 1 … 1: swap i with one of 0 … i, all alike
/// Changes:  numbers that would favor some places are thrown away and drawn again.
/// Limits:   2–50 treatments, 1–200 blocks. A seed gives one layout for ever, on every system: never change a step here.
/// Accuracy: every order is as likely as any other, over seeds. Checked outside: the numbers that it draws from; a layout itself
///           has no published twin.

#include <cstdint>
#include <vector>

#include "base/result.h"

namespace steep {

/// Draws whole numbers from a seed.
class SplitMix64 {
 public:
  explicit SplitMix64(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  /// One of 0 … count − 1, all alike. `count` above 0.
  std::uint64_t below(std::uint64_t count);

 private:
  std::uint64_t state_;
};

/// For each block the order of the treatments 0 … treatments − 1 along its strips. Trouble: OutOfRange  outside the limits.
Result<std::vector<std::vector<int>>> trial_layout(int treatments, int blocks, std::uint64_t seed);

}  // namespace steep
