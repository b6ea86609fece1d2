#include "screens/parts.h"

#include <algorithm>

namespace steep {

Pen reading_column(const Pen& pen, float most) {
  // Large text needs a longer line for as many words.
  const float width = std::min(pen.width(), scaled(most));
  const float left = pen.left + (pen.width() - width) / 2;
  return {left, left + width, pen.y};
}

}  // namespace steep
