#pragma once
/// A place for a test's files that no other run of the tests on this machine writes to.

#include <filesystem>
#include <random>
#include <string>

namespace steep::test {

inline std::filesystem::path own_temporary(const std::string& name) {
  static const std::string run = std::to_string(std::random_device{}());
  return std::filesystem::temp_directory_path() / ("steepbook-" + run + "-" + name);
}

}  // namespace steep::test
