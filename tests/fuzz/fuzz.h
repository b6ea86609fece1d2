#pragma once
/// Readers of outside data against damaged input. A target is a function in the manner of libFuzzer, which
/// drives it by coverage where clang is at hand (suite 'guided'); without it main.cpp damages good inputs itself.

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

struct FuzzTarget {
  const char* name;
  /// Aborts when something is wrong with how the input was treated. Returns 0.
  int (*run)(const std::uint8_t* data, std::size_t size);
  /// Good inputs to begin with.
  std::vector<std::string> (*seeds)();
  /// A run of this takes as long as so many of a reader's; so many fewer are made.
  unsigned weight = 1;
};

inline std::vector<FuzzTarget>& fuzz_targets() {
  static std::vector<FuzzTarget> targets;
  return targets;
}
/// `const FuzzEntry entry{{"change-line", run, seeds}};` in the target's file.
struct FuzzEntry {
  explicit FuzzEntry(FuzzTarget target) { fuzz_targets().push_back(target); }
};
