#include "look/choice.h"

#include <algorithm>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

std::string choice_name(std::string_view name, const Choice& c) {
  const std::string own = spoken_or(c.spoken, {c.text, c.second});
  return name.empty() ? own : look_words()("look.choice"_w, {std::string(name), own});
}

/// Two may have one text: rigs, people.
std::uint32_t choice_id(std::string_view text, std::size_t i) {
  const IdScope scope(text, static_cast<std::int64_t>(i));
  return item_id("choice");
}

}  // namespace

int segmented(const Box& box, std::string_view id, std::string_view name, std::span<const Choice> choices, int chosen) {
  const Tokens& t = colors();
  const IdScope scope(id);
  const float cell = box.width() / static_cast<float>(std::max<std::size_t>(1, choices.size()));
  int pressed = -1;
  const Box frame = snap(box);
  fill_box(frame.inset(1), t.surface, size::kRadiusButton - 1);
  const std::uint32_t ring_of = state().focus;
  Box ringed;
  bool ring = false;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const Choice& c = choices[i];
    const Box part{snap(frame.left + cell * static_cast<float>(i)), frame.top,
                   snap(frame.left + cell * static_cast<float>(i + 1)), frame.bottom};
    const bool on = static_cast<int>(i) == chosen;
    const std::string spoken_name = choice_name(name, c);
    const std::uint32_t own = choice_id(c.text, i);
    const Press hit =
        press({.id = own, .role = Role::Choice, .name = spoken_name, .enabled = c.enabled, .on = on}, part);
    if (hit.pressed && !on) pressed = static_cast<int>(i);
    const bool filled = on != hit.down;
    if (filled) {
      // The ends follow the frame's corners: a rounded box, its inner half cut off.
      const Clip clip(part);
      const Box wide{part.left - (i == 0 ? 0.0f : 20.0f), part.top,
                     part.right + (i + 1 == choices.size() ? 0.0f : 20.0f), part.bottom};
      fill_box(wide, t.ink, size::kRadiusButton);
    }
    const Color color = filled ? t.surface : c.enabled ? t.ink : t.ink2;
    const float icon = c.icon == Icon::None ? 0 : 26;
    const TextStyle style = text_width(TextStyle::SmallButton, c.text) + icon + 8 <= part.width()
                                ? TextStyle::SmallButton
                                : TextStyle::LabelStrong;
    const float width = text_width(style, c.text) + icon;
    if (width <= part.width() - 4) {
      draw_text({part.center().x - width / 2, part.top, part.right, part.bottom}, style, color, c.text);
      if (icon > 0) draw_icon({part.center().x + width / 2 - 9, part.center().y}, 20, c.icon, color);
    } else {
      const float high = wrapped_height(part.width() - 6, style, c.text);
      draw_wrapped({part.left + 3, part.center().y - high / 2, part.right - 3, part.bottom}, style, color, c.text,
                   Align::Center);
    }
    if (i > 0 && !filled && static_cast<int>(i) - 1 != chosen)
      line({part.left, part.top + 1}, {part.left, part.bottom - 1}, t.line, size::kEdgePress);
    if (hit.focused && ring_of == own) {
      ringed = part;
      ring = true;
    }
  }
  edge_box(frame, t.line, size::kEdgePress, size::kRadiusButton);
  if (ring) focus_ring(ringed.inset(3), 6);
  return pressed;
}

int segmented(Pen& pen, std::string_view id, std::string_view name, std::span<const Choice> choices, int chosen) {
  float needed = 0;
  for (const Choice& c : choices) needed = std::max(needed, longest_word(TextStyle::LabelStrong, c.text) + 12);
  const float cell = pen.width() / static_cast<float>(std::max<std::size_t>(1, choices.size()));
  if (needed > cell && choices.size() > 2) return choice_cells(pen, id, name, choices, chosen, 2);
  float height = size::kTouch;
  for (const Choice& c : choices)
    if (text_width(TextStyle::LabelStrong, c.text) + 10 > cell)
      height = std::max(height, wrapped_height(cell - 6, TextStyle::LabelStrong, c.text) + 14);
  return segmented(pen.take(height), id, name, choices, chosen);
}

namespace {

constexpr float kCellGap = size::kTouchGap, kCellAcross = 5;

/// Column parts of a row of cells: all alike, or as the shares say (20 and more are dp).
std::vector<float> cell_parts(std::size_t per_row, std::span<const float> shares) {
  std::vector<float> parts(per_row, -1);
  for (std::size_t k = 0; k < std::min(shares.size(), parts.size()); ++k)
    parts[k] = shares[k] < 20 ? -shares[k] : shares[k];
  return parts;
}

float cell_room(const Pen& pen, const std::vector<float>& parts, std::size_t column) {
  return pen.column(parts, column, kCellGap).width() - 2 * kCellAcross;
}

/// Every word whole, every text in two lines.
bool cells_fit(const Pen& pen, std::span<const Choice> choices, const std::vector<float>& parts) {
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const float room = cell_room(pen, parts, i % parts.size());
    if (longest_word(TextStyle::SmallButton, choices[i].text) > room) return false;
    if (wrapped_height(room, TextStyle::SmallButton, choices[i].text) > 2 * line_height(TextStyle::SmallButton) + 1)
      return false;
  }
  return true;
}

/// Of a row: the height that its fullest cell needs.
float cells_height(const Pen& pen, std::span<const Choice> row, const std::vector<float>& parts) {
  float height = size::kTouch;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const float room = cell_room(pen, parts, i);
    const float second = row[i].second.empty() ? 0 : wrapped_height(room, TextStyle::Label, row[i].second) + 6;
    height = std::max(height, wrapped_height(room, TextStyle::SmallButton, row[i].text) + 8 + second);
  }
  return height;
}

void draw_cell(const Box& box, const Choice& c, bool filled) {
  const Tokens& t = colors();
  const Color edge = !c.enabled ? t.rule : filled ? t.ink : t.line;
  panel(box, filled ? t.ink : t.surface, edge, size::kEdgePress, size::kRadiusButton);
  const Color color = filled ? t.surface : c.enabled ? t.ink : t.ink2;
  const float left = box.left + kCellAcross, right = box.right - kCellAcross, room = right - left;
  const float words = wrapped_height(room, TextStyle::SmallButton, c.text);
  const float second = c.second.empty() ? 0 : wrapped_height(room, TextStyle::Label, c.second);
  const float top = box.center().y - (words + second) / 2;
  draw_wrapped({left, top, right, top + words}, TextStyle::SmallButton, color, c.text, Align::Center);
  if (second > 0)
    draw_wrapped({left, top + words, right, box.bottom}, TextStyle::Label, color, c.second, Align::Center);
}

}  // namespace

int choice_cells(Pen& pen, std::string_view id, std::string_view name, std::span<const Choice> choices, int chosen,
                 int per_row, std::span<const float> shares) {
  const IdScope scope(id);
  std::vector<float> parts = cell_parts(static_cast<std::size_t>(per_row), shares);
  while (parts.size() > 1 && !cells_fit(pen, choices, parts)) parts = cell_parts(parts.size() - 1, shares);
  int pressed = -1;
  for (std::size_t first = 0; first < choices.size(); first += parts.size()) {
    if (first > 0) pen.space(kCellGap);
    const auto row = choices.subspan(first, std::min(parts.size(), choices.size() - first));
    const float height = cells_height(pen, row, parts);
    for (std::size_t k = 0; k < row.size(); ++k) {
      const Choice& c = row[k];
      const int i = static_cast<int>(first + k);
      const Box box = pen.column(parts, k, kCellGap).here(height);
      const Press hit = press({.id = choice_id(c.text, first + k),
                               .role = Role::Choice,
                               .name = choice_name(name, c),
                               .enabled = c.enabled,
                               .on = i == chosen},
                              box);
      if (hit.pressed && i != chosen) pressed = i;
      if (!is_visible(box)) continue;
      draw_cell(box, c, (i == chosen) != hit.down);
      if (hit.focused) focus_ring(box, size::kRadiusButton);
    }
    pen.space(height);
  }
  return pressed;
}

int chips(Pen& pen, std::string_view id, std::span<const Chip> list) {
  const Tokens& t = colors();
  const IdScope scope(id);
  const float high = std::max(32.0f, line_height(TextStyle::Label) + 12), pitch = std::max(size::kTouch, high + 8);
  float x = pen.left, y = pen.y;
  int pressed = -1;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const Chip& c = list[i];
    const float width = text_width(TextStyle::LabelStrong, c.text) + 24;
    if (x + width > pen.right && x > pen.left) {
      x = pen.left;
      y += pitch;
    }
    const Box target = box_at(x, y, width, pitch), box = centered(target, width, high);
    const Press hit = press(
        {.id = choice_id(c.text, i), .role = Role::Choice, .name = spoken_or(c.spoken, {c.text}), .on = c.on}, target);
    if (hit.pressed) pressed = static_cast<int>(i);
    const bool filled = c.on != hit.down;
    panel(box, filled ? t.ink : t.surface, t.line, size::kEdgePress, size::kRadiusChip);
    const Color color = filled ? t.surface : t.ink;
    draw_text({box.left + 12, box.top, box.right, box.bottom}, TextStyle::LabelStrong, color, c.text);
    if (hit.focused) focus_ring(box, size::kRadiusChip);
    x += width + size::kTouchGap;
  }
  pen.y = list.empty() ? y : y + pitch;
  return pressed;
}

int choice_list(Pen& pen, std::string_view id, std::string_view name, std::span<const Choice> choices, int chosen) {
  const Tokens& t = colors();
  const IdScope scope(id);
  int pressed = -1;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const Choice& c = choices[i];
    const bool on = static_cast<int>(i) == chosen;
    const float left = 40 + (c.icon != Icon::None ? 34 : 0), room = pen.width() - left - 4;
    const float first = wrapped_height(room, TextStyle::Strong, c.text);
    const float second = c.second.empty() ? 0 : wrapped_height(room, TextStyle::Label, c.second);
    const Box row = pen.take(std::max(56.0f, first + second + 14));
    const std::string spoken_name = choice_name(name, c);
    const Press hit = press(
        {.id = choice_id(c.text, i), .role = Role::Choice, .name = spoken_name, .enabled = c.enabled, .on = on}, row);
    if (hit.pressed) pressed = static_cast<int>(i);
    if (!is_visible(row)) continue;
    if (hit.down) fill_box(row.inset(-4, 0), t.well, 6);
    if (i > 0) line({row.left, row.top}, {row.right, row.top}, t.rule, size::kEdgeTable);
    const Color color = c.enabled ? t.ink : t.ink2;
    draw_icon({row.left + 14, row.center().y}, 24, on ? Icon::RadioOn : Icon::RadioOff, c.enabled ? t.line : t.rule);
    if (c.icon != Icon::None) draw_icon({row.left + 52, row.center().y}, 24, c.icon, color);
    const float top = row.center().y - (first + second) / 2;
    draw_wrapped({row.left + left, top, row.left + left + room, top + first}, TextStyle::Strong, color, c.text);
    if (second > 0)
      draw_wrapped({row.left + left, top + first, row.left + left + room, row.bottom}, TextStyle::Label, t.ink2,
                   c.second);
    if (hit.focused) focus_ring(row.inset(2), 4);
  }
  return pressed;
}

bool check_row(Pen& pen, std::string_view id, std::string_view text, bool& on, std::string_view second) {
  const Tokens& t = colors();
  const float left = 40, room = pen.width() - left;
  const float first = wrapped_height(room, TextStyle::Strong, text),
              below = second.empty() ? 0 : wrapped_height(room, TextStyle::Label, second);
  const Box row = pen.take(std::max(size::kTouch, first + below + 10));
  const Press hit = press({.id = item_id(id), .role = Role::Check, .name = spoken({text, second}), .on = on}, row);
  if (hit.pressed) on = !on;
  const Point c{row.left + 14, row.center().y};
  if (on)
    draw_icon(c, 26, Icon::SavedTick, t.ink);
  else
    panel(box_at(c.x - 13, c.y - 13, 26, 26), hit.down ? t.well : t.surface, t.line, size::kEdgePress,
          size::kRadiusChip);
  const float top = row.center().y - (first + below) / 2;
  draw_wrapped({row.left + left, top, row.right, top + first}, TextStyle::Strong, t.ink, text);
  if (below > 0) draw_wrapped({row.left + left, top + first, row.right, row.bottom}, TextStyle::Label, t.ink2, second);
  if (hit.focused) focus_ring(row.inset(2), 4);
  return hit.pressed;
}

}  // namespace steep
