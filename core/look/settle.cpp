#include "look/settle.h"

#include <algorithm>

#include "look/card.h"
#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

/// A version of the fact: ring or tick, whose copy, the fact, a detail.
bool version_cell(const Box& box, const SettleVersion& v, std::string_view fact, bool on, std::size_t index) {
  const Tokens& t = colors();
  const IdScope scope("version", static_cast<std::int64_t>(index));
  const Press hit = press(
      {.id = item_id("cell"), .role = Role::Choice, .name = spoken({fact, v.value, v.whose, v.detail}), .on = on}, box);
  const bool filled = on != hit.down;
  panel(box, filled ? t.ink : t.surface, filled ? t.ink : t.line, size::kEdgePress, size::kRadiusButton);
  const Color color = filled ? t.surface : t.ink;
  draw_icon({box.left + 27, box.top + 24}, 22, on ? Icon::RadioOn : Icon::RadioOff, color, filled ? t.ink : t.surface);
  const float left = box.left + 51, right = box.right - 12;
  float y = box.top + 11;
  y += draw_wrapped({left, y, right, y}, TextStyle::Label, color, v.whose);
  y += draw_wrapped({left, y, right, y}, TextStyle::Button, color, v.value);
  if (!v.detail.empty()) draw_wrapped({left, y, right, y}, TextStyle::Label, color, v.detail);
  if (hit.focused) focus_ring(box, size::kRadiusButton);
  return hit.pressed && !on;
}

float version_height(float width, const SettleVersion& v) {
  const float room = width - 51 - 12;
  return wrapped_height(room, TextStyle::Label, v.whose) + wrapped_height(room, TextStyle::Button, v.value) +
         (v.detail.empty() ? 0 : wrapped_height(room, TextStyle::Label, v.detail)) + 22;
}

bool other_cell(const Box& box, const SettleCard& c, bool on) {
  const Tokens& t = colors();
  const Press hit =
      press({.id = item_id("other"), .role = Role::Choice, .name = spoken({c.fact, c.other}), .on = on}, box);
  const bool filled = on != hit.down;
  panel(box, filled ? t.ink : t.surface, filled ? t.ink : t.line, size::kEdgePress, size::kRadiusButton);
  const float high = wrapped_height(box.width() - 24, TextStyle::SmallButton, c.other);
  draw_wrapped({box.left + 12, box.center().y - high / 2, box.right - 12, box.bottom}, TextStyle::SmallButton,
               filled ? t.surface : t.ink, c.other, Align::Center);
  if (hit.focused) focus_ring(box, size::kRadiusButton);
  return hit.pressed;
}

}  // namespace

int settle_card(Pen& pen, const SettleCard& c) {
  const Tokens& t = colors();
  Card card(pen, {.id = c.id, .gap_below = 14});
  Pen& in = card.pen;
  const float hangs = c.hangs.empty() ? 0 : rich_width(TextStyle::Label, c.hangs) + 16;
  const bool beside = 36 + text_width(TextStyle::Strong, c.fact) + hangs <= in.width();
  const Box head = in.take(30);
  draw_icon({head.left + 13, head.center().y}, 26, Icon::Differs, t.ink);
  draw_text({head.left + 38, head.top, head.right, head.bottom}, TextStyle::Strong, t.ink, c.fact);
  add_text_item(Role::Heading, c.fact, head);
  if (!c.hangs.empty()) {
    const float high = line_height(TextStyle::Label);
    const Box where = beside ? Box{head.left, head.center().y - high / 2, head.right, head.bottom}
                             : in.take(rich_height(in.width(), TextStyle::Label, c.hangs));
    draw_rich(where, TextStyle::Label, t.ink, c.hangs, 0, beside ? Align::Right : Align::Left);
    add_text_item(Role::Text, c.hangs, where);
  }
  in.space(8);
  const std::size_t count = c.versions.size();
  int pressed = -1;
  const float gap = 12, other = c.other.empty() ? 0 : 124;
  const float cell = (in.width() - (other > 0 ? other + gap : 0) - gap * static_cast<float>(count - 1)) /
                     static_cast<float>(std::max<std::size_t>(1, count));
  if (cell >= 240) {
    float height = 0;
    for (const SettleVersion& v : c.versions) height = std::max(height, version_height(cell, v));
    const Box row = in.take(height);
    for (std::size_t i = 0; i < count; ++i)
      if (version_cell(box_at(row.left + (cell + gap) * static_cast<float>(i), row.top, cell, height), c.versions[i],
                       c.fact, c.chosen == static_cast<int>(i), i))
        pressed = static_cast<int>(i);
    if (other > 0 &&
        other_cell({row.right - other, row.top, row.right, row.bottom}, c, c.chosen == static_cast<int>(count)))
      pressed = static_cast<int>(count);
    return pressed;
  }
  for (std::size_t i = 0; i < count; ++i) {
    if (version_cell(in.take(version_height(in.width(), c.versions[i])), c.versions[i], c.fact,
                     c.chosen == static_cast<int>(i), i))
      pressed = static_cast<int>(i);
    in.space(size::kTouchGap);
  }
  if (other > 0 && other_cell(in.take(std::max(size::kTouch, line_height(TextStyle::SmallButton) + 24)), c,
                              c.chosen == static_cast<int>(count)))
    pressed = static_cast<int>(count);
  return pressed;
}

bool settle_row(Pen& pen, const SettleRow& r) {
  const Tokens& t = colors();
  const float left = 36, room = pen.width() - left;
  const float first = wrapped_height(room, TextStyle::LabelStrong, r.first),
              second = r.second.empty() ? 0 : wrapped_height(room, TextStyle::Tick, r.second);
  const Box row = pen.take(std::max(57.0f, first + second + 16));
  const Box whole{row.left - look().margin(), row.top, row.right + look().margin(), row.bottom};
  const Press hit =
      press({.id = item_id(r.id), .role = Role::Row, .name = spoken({r.first, r.second}), .on = r.chosen}, row);
  if (!is_visible(row)) return hit.pressed;
  if (r.chosen || hit.down || hit.hovered) fill_box(whole, t.well);
  if (r.chosen) fill_box(whole.with_width(6), t.ink);
  line({whole.left, whole.bottom}, {whole.right, whole.bottom}, r.chosen ? t.line : t.rule, size::kEdgeTable);
  draw_icon({row.left + 13, row.center().y}, 26, r.sign, t.ink);
  const float top = row.center().y - (first + second) / 2;
  draw_wrapped({row.left + left, top, row.right, top + first}, TextStyle::LabelStrong, t.ink, r.first);
  if (second > 0)
    draw_wrapped({row.left + left, top + first, row.right, row.bottom}, TextStyle::Tick, t.ink2, r.second);
  if (hit.focused) focus_ring(row.inset(4), 4);
  return hit.pressed;
}

void settle_counts(Pen& pen, std::span<const SettleCount> counts) {
  if (counts.empty()) return;
  constexpr float kText = 36, kWidestGap = 22;
  const Tokens& t = colors();
  const auto gaps = static_cast<float>(counts.size() - 1);
  float natural = 0;
  for (const SettleCount& c : counts)
    natural += kText + std::max(text_width(TextStyle::Title, c.number), text_width(TextStyle::Tick, c.words));
  // In a narrow panel they stand closer, down to the gap between targets; then equally wide, with their words broken.
  const bool narrow = natural + gaps * size::kTouchGap > pen.width();
  const float gap = narrow || gaps == 0 ? size::kTouchGap : std::min((pen.width() - natural) / gaps, kWidestGap);
  const float share = (pen.width() - gaps * gap) / (gaps + 1);
  float words = line_height(TextStyle::Tick);
  if (narrow)
    for (const SettleCount& c : counts)
      words = std::max(words, wrapped_height(share - kText, TextStyle::Tick, c.words));
  const float number = line_height(TextStyle::Title);
  const Box row = pen.take(number + words);
  float x = row.left;
  for (const SettleCount& c : counts) {
    const float width =
        narrow ? share : kText + std::max(text_width(TextStyle::Title, c.number), text_width(TextStyle::Tick, c.words));
    draw_icon({x + 13, row.center().y}, 26, c.sign, t.ink);
    draw_text({x + kText, row.top, row.right, row.top + number}, TextStyle::Title, t.ink, c.number);
    const Box below{x + kText, row.top + number - 2, x + width, row.bottom};
    if (narrow)
      draw_wrapped(below, TextStyle::Tick, t.ink2, c.words);
    else
      draw_text(below, TextStyle::Tick, t.ink2, c.words);
    add_text_item(Role::Text, std::string(c.number) + " " + std::string(c.words), {x, row.top, x + width, row.bottom});
    x += width + gap;
  }
}

}  // namespace steep
