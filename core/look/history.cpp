#include "look/history.h"

#include <algorithm>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

std::string name_of(const HistoryEntry& l) {
  return spoken_or(l.spoken, {std::string(l.day) + (l.clock.empty() ? "" : " ") + std::string(l.clock), l.first,
                              l.struck_why.empty() ? l.second : l.struck_why});
}

void sign(Point c, const HistoryEntry& l) {
  const Tokens& t = colors();
  constexpr float kSize = 34;
  const Box box = box_at(c.x - kSize / 2, c.y - kSize / 2, kSize, kSize);
  switch (l.sign) {
    case HistorySign::Leaf: disc(c, kSize / 2, t.leaf); return draw_icon(c, 22, l.icon, t.onleaf);
    case HistorySign::Square:
      panel(box, t.surface, t.line, size::kEdgePress, size::kRadiusChip);
      return draw_icon(c, 22, l.icon, t.ink);
    case HistorySign::Ring:
      disc(c, kSize / 2, t.surface);
      ring(c, kSize / 2, t.line, size::kEdgePress);
      return draw_icon(c, 22, l.icon, t.ink);
  }
}

}  // namespace

bool history_line(Pen& pen, const HistoryEntry& l) {
  const Tokens& t = colors();
  // One width for all lines, so that the thread is straight.
  const float date = std::max(text_width(TextStyle::Label, "00:00 pm"), text_width(TextStyle::LabelStrong, "00 Sept"));
  const float column = date + 8, thread = pen.left + column + 17, left = column + 34 + 16;
  const float room = pen.width() - left - 24;
  const std::string_view below = l.struck_why.empty() ? l.second : l.struck_why;
  const TextStyle below_style = l.struck_why.empty() ? TextStyle::Label : TextStyle::LabelStrong;
  const float first = wrapped_height(room, TextStyle::Strong, l.first),
              second = below.empty() ? 0 : wrapped_height(room, below_style, below);
  const Box row = pen.take(std::max(57.0f, first + second + 16));
  const std::string name = name_of(l);
  const Press hit = press({.id = item_id(l.id), .role = Role::Row, .name = name}, row);
  if (!is_visible(row)) return hit.pressed;
  if (hit.down) fill_box(row.inset(-6, 0), t.well);
  const float y = row.center().y;
  if (l.thread_above) fill_box({thread - 1.5f, row.top, thread + 1.5f, y}, t.ink);
  if (l.thread_below) fill_box({thread - 1.5f, y, thread + 1.5f, row.bottom}, t.ink);
  sign({thread, y}, l);
  const float line = line_height(TextStyle::Label) - 1;
  draw_text({row.left, y - line, row.right, y}, TextStyle::LabelStrong, t.ink, l.day);
  draw_text({row.left, y, row.right, y + line}, TextStyle::Label, t.ink2, l.clock);
  const float top = y - (first + second) / 2;
  const Box words{row.left + left, top, row.left + left + room, top + first};
  if (l.struck)
    draw_struck(words, TextStyle::Body, l.first);
  else
    draw_wrapped(words, TextStyle::Strong, t.ink, l.first);
  if (second > 0)
    draw_wrapped({words.left, top + first, words.right, row.bottom}, below_style,
                 l.struck_why.empty() ? t.ink2 : t.beet, below);
  draw_icon({row.right - 11, y}, 24, Icon::ChevronRight, t.ink);
  if (hit.focused) focus_ring(row.inset(4), 4);
  return hit.pressed;
}

bool history_row(Pen& pen, const HistoryEntry& l) {
  const Tokens& t = colors();
  const float column = std::max(60.0f, text_width(TextStyle::LabelStrong, l.day)) + 14, room = pen.width() - column;
  const std::string_view below = l.struck_why.empty() ? l.second : l.struck_why;
  const TextStyle below_style = l.struck_why.empty() ? TextStyle::Tick : TextStyle::TickStrong;
  const float first = wrapped_height(room, TextStyle::LabelStrong, l.first),
              second = below.empty() ? 0 : wrapped_height(room, below_style, below);
  const Box row = pen.take(std::max(50.0f, first + second + 14));
  const std::string name = name_of(l);
  const Press hit = press({.id = item_id(l.id), .role = Role::Row, .name = name}, row);
  if (!is_visible(row)) return hit.pressed;
  if (hit.down || hit.hovered) fill_box(row, t.well);
  line({row.left, row.bottom}, {row.right, row.bottom}, t.rule, size::kEdgeTable);
  draw_text(row, TextStyle::LabelStrong, t.ink, l.day);
  const float top = row.center().y - (first + second) / 2;
  const Box words{row.left + column, top, row.right, top + first};
  if (l.struck)
    draw_struck(words, TextStyle::Label, l.first);
  else
    draw_wrapped(words, TextStyle::LabelStrong, t.ink, l.first);
  if (second > 0)
    draw_wrapped({words.left, top + first, row.right, row.bottom}, below_style, l.struck_why.empty() ? t.ink2 : t.beet,
                 below);
  if (hit.focused) focus_ring(row.inset(4), 4);
  return hit.pressed;
}

}  // namespace steep
