#pragma once
/// A decoded picture.

#include <string>

namespace steep {

struct Pixels {
  int width = 0, height = 0;  ///< At least 1 each.
  std::string rgba;           ///< 4 bytes a pixel, rows from the top.
};

}  // namespace steep
