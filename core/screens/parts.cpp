#include "screens/parts.h"

#include <algorithm>

#include "look/draw.h"
#include "look/press.h"

namespace steep {

Pen reading_column(const Pen& pen, float most) {
  // Large text needs a longer line for as many words.
  const float width = std::min(pen.width(), scaled(most));
  const float left = pen.left + (pen.width() - width) / 2;
  return {left, left + width, pen.y};
}

void problem_line(Pen& pen, std::string_view sentence) {
  if (sentence.empty()) return;
  const float height = std::max(24.0f, wrapped_height(pen.width() - 32, TextStyle::Body, sentence));
  const Box box = pen.take(height + 8);
  draw_icon({box.left + 11, box.top + 12}, 22, Icon::NotSaved, colors().beet);
  draw_wrapped({box.left + 32, box.top, box.right, box.bottom}, TextStyle::Body, colors().beet, sentence);
  add_text_item(Role::Alert, sentence, box);
}

}  // namespace steep
