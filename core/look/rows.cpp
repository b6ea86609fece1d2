#include "look/rows.h"

#include <algorithm>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kIcon = 24, kIconGap = 12, kStake = 56, kDown = 4;

struct RowParts {
  float left;       ///< Room of icon or stake.
  float right;      ///< Room of the chevron.
  float value;      ///< Room of the value beside the first line, 0 when it goes below.
  float value2;     ///< The same beside the second line.
  TextStyle style;  ///< Of the value.
  float first, second, height;
};

RowParts parts_of(float width, const ListRow& row) {
  RowParts p{};
  p.left = !row.stake.empty() ? kStake + 10 : row.icon != Icon::None ? kIcon + kIconGap : 0;
  p.right = row.opens ? 26 : 0;
  const bool two = !row.value2.empty();
  p.style = row.value_plain ? TextStyle::Label : two ? TextStyle::LabelStrong : TextStyle::Strong;
  const float value = text_width(p.style, row.value), value2 = text_width(TextStyle::Label, row.value2);
  const float all = width - p.left - p.right;
  const float warn = row.warn != Icon::None ? 22 : 0;
  const bool beside = value > 0 && text_width(TextStyle::Strong, row.first) + 6 + value <= all &&
                      (two ? warn + text_width(TextStyle::Label, row.second) + 6 + value2 <= all
                           : std::min(text_width(TextStyle::Label, row.second), all * 0.5f) + 6 + value <= all);
  p.value = beside ? value + 6 : 0;
  // With two values each line has its own; a single one stands in the middle of the row.
  p.value2 = beside ? (two ? value2 : value) + 6 : 0;
  p.first = wrapped_height(all - p.value, TextStyle::Strong, row.first);
  p.second = row.second.empty() ? 0 : wrapped_height(all - p.value2 - warn, TextStyle::Label, row.second);
  const float below = value > 0 && p.value == 0
                          ? line_height(TextStyle::Strong) + (row.value2.empty() ? 0 : line_height(TextStyle::Label))
                          : 0;
  p.height = std::max(row.opens ? size::kTouch : 40.0f, p.first + p.second + below + 2 * kDown);
  return p;
}

/// Values that find no room at the right stand below the words.
bool value_is_below(const RowParts& p, const ListRow& row) { return p.value == 0 && !row.value.empty(); }

float value2_height(const ListRow& row) { return row.value2.empty() ? 0 : line_height(TextStyle::Label); }

void draw_row_sign(const Box& box, const ListRow& row) {
  const float middle = box.center().y;
  if (!row.stake.empty()) {
    const float high = std::min(32.0f, box.height() - 8);
    stake_tag(box_at(box.left, middle - high / 2, kStake, high), row.stake, TextStyle::Strong);
  } else if (row.icon != Icon::None) {
    draw_icon({box.left + kIcon / 2, middle}, kIcon, row.icon, colors().ink);
  }
}

/// Both lines of words, from `y` on.
void draw_row_words(const Box& box, const ListRow& row, const RowParts& p, float y) {
  const Tokens& t = colors();
  const float x = box.left + p.left, all = box.width() - p.left - p.right;
  const Box first{x, y, x + all - p.value, y + p.first};
  if (row.struck)
    draw_struck(first, TextStyle::Strong, row.first);
  else
    draw_wrapped(first, TextStyle::Strong, t.ink, row.first);
  if (row.second.empty()) return;
  y += p.first;
  const float indent = row.warn == Icon::None ? 0 : 22;
  if (row.warn != Icon::None) draw_icon({x + 8, y + line_height(TextStyle::Label) / 2}, 16, row.warn, t.ink);
  draw_wrapped({x + indent, y, x + all - p.value2, y + p.second}, TextStyle::Label,
               row.second_color != 0 ? row.second_color : t.ink2, row.second);
}

void draw_row_values(const Box& box, const ListRow& row, const RowParts& p, float below_words) {
  if (row.value.empty() && row.value2.empty()) return;
  const Tokens& t = colors();
  const bool below = value_is_below(p, row);
  const float one = line_height(TextStyle::Strong), two = value2_height(row);
  const float top = below ? below_words : box.center().y - (one + two) / 2;
  const float edge = below ? box.left + p.left : box.right - p.right;
  const Align align = below ? Align::Left : Align::Right;
  draw_text_on(edge, baseline_in({0, top, 0, top + one}, p.style), p.style, row.value_plain ? t.ink2 : t.ink, row.value,
               align);
  draw_text_on(edge, baseline_in({0, top + one, 0, top + one + two}, TextStyle::Label), TextStyle::Label, t.ink,
               row.value2, align);
}

}  // namespace

float list_row_height(float width, const ListRow& row) { return parts_of(width, row).height; }

bool list_row(const Box& box, const ListRow& row) {
  const Tokens& t = colors();
  const RowParts p = parts_of(box.width(), row);
  const std::string name = spoken_or(row.spoken, {row.stake, row.first, row.second, row.value, row.value2});
  const Box whole = box.inset(-row.bleed, 0);
  Press hit;
  if (row.opens)
    hit = press({.id = item_id(row.id), .role = Role::Row, .name = name, .on = row.chosen}, whole);
  else
    add_text_item(row.id.empty() ? item_id(name) : item_id(row.id), Role::Text, name, box);
  if (!is_visible(box)) return hit.pressed;
  if (row.chosen || hit.down) fill_box(whole, t.well);
  if (row.chosen) fill_box({whole.left, whole.top, whole.left + 6, whole.bottom}, t.ink);
  if (row.line_above) line({box.left, box.top}, {box.right, box.top}, row.chosen ? t.line : t.rule, size::kEdgeTable);

  const float below = value_is_below(p, row) ? line_height(TextStyle::Strong) + value2_height(row) : 0;
  const float words = p.first + p.second, top = box.center().y - (words + below) / 2;
  draw_row_sign(box, row);
  draw_row_words(box, row, p, top);
  draw_row_values(box, row, p, top + words);
  if (row.opens) draw_icon({box.right - 11, box.center().y}, 24, Icon::ChevronRight, t.ink);
  if (hit.focused) focus_ring(box.inset(3), 4);
  return hit.pressed;
}

bool list_row(Pen& pen, const ListRow& row) { return list_row(pen.take(list_row_height(pen.width(), row)), row); }

void count_row(Pen& pen, const CountRow& row) {
  const Tokens& t = colors();
  const float column = std::max(44.0f, text_width(TextStyle::Title, "0000") - 8), left = column + 11;
  const bool beside =
      left + text_width(TextStyle::Strong, row.words) + 11 + text_width(TextStyle::Label, row.note) <= pen.width();
  const float words = wrapped_height(pen.width() - left, TextStyle::Strong, row.words),
              first_height = std::max(34.0f, words + 8);
  const float note = beside ? 0 : wrapped_height(pen.width() - left, TextStyle::Label, row.note);
  const Box box = pen.take(row.note.empty() ? first_height : first_height + note);
  const Box first = box.with_height(34);
  if (row.sign != Icon::None)
    draw_icon({box.left + column - 11, first.center().y}, 22, row.sign, t.ink);
  else
    draw_text_on(box.left + column, baseline_in(first, TextStyle::Title), TextStyle::Title, t.ink, row.number,
                 Align::Right);
  draw_wrapped({box.left + left, box.top + (first_height - words) / 2, box.right, box.bottom}, TextStyle::Strong, t.ink,
               row.words);
  if (beside)
    draw_text(first, TextStyle::Label, t.ink2, row.note, Align::Right);
  else
    draw_wrapped({box.left + left, box.top + first_height - 4, box.right, box.bottom}, TextStyle::Label, t.ink2,
                 row.note);
  add_text_item(Role::Text, spoken({row.number, row.words, row.note}), box);
}

Box setting_line(Pen& pen, Icon icon, std::string_view word, float control_width, bool line_above) {
  const Tokens& t = colors();
  const float left = kIcon + 14;
  const bool beside = left + text_width(TextStyle::Strong, word) + 12 + control_width <= pen.width();
  if (line_above) divider(pen, 4, 4);
  const Box row = pen.take(beside ? size::kTouch : line_height(TextStyle::Strong) + 8);
  draw_icon({row.left + kIcon / 2, row.center().y}, kIcon, icon, t.ink);
  draw_text({row.left + left, row.top, row.right, row.bottom}, TextStyle::Strong, t.ink, word);
  if (beside) return {row.right - control_width, row.top + 2, row.right, row.bottom - 2};
  return pen.take(size::kTouch);
}

void pair_line(Pen& pen, std::string_view word, std::string_view value) {
  const Tokens& t = colors();
  const float width = text_width(TextStyle::Strong, value);
  const bool beside = text_width(TextStyle::Body, word) + 12 + width <= pen.width();
  const Box row = pen.take(line_height(TextStyle::Body));
  draw_text(row, TextStyle::Body, t.ink, word);
  Box all = row;
  if (beside)
    draw_text(row, TextStyle::Strong, t.ink, value, Align::Right);
  else {
    const Box below = pen.take(line_height(TextStyle::Body));
    draw_text(below, TextStyle::Strong, t.ink, value, Align::Right);
    all.bottom = below.bottom;
  }
  add_text_item(Role::Text, spoken({word, value}), all);
}

void fact_line(Pen& pen, std::string_view head, std::span<const Fact> facts) {
  const Tokens& t = colors();
  const float start = pen.y, line = line_height(TextStyle::Label) + 2;
  std::string name(head);
  float x = pen.left, y = pen.y;
  draw_text({x, y, pen.right, y + line}, TextStyle::LabelStrong, t.ink, head);
  x += text_width(TextStyle::LabelStrong, head) + 24;
  for (const Fact& fact : facts) {
    const float word = fact.word.empty() ? 0 : text_width(TextStyle::Label, fact.word) + 5;
    const float width = word + text_width(TextStyle::LabelStrong, fact.value);
    if (x + width > pen.right && x > pen.left) {
      x = pen.left;
      y += line;
    }
    draw_text({x, y, pen.right, y + line}, TextStyle::Label, t.ink2, fact.word);
    draw_text({x + word, y, pen.right, y + line}, TextStyle::LabelStrong, t.ink2, fact.value);
    x += width + 24;
    name += "; " + spoken({fact.word}) + " " + spoken({fact.value});
  }
  pen.y = y + line;
  add_text_item(Role::Text, name, {pen.left, start, pen.right, pen.y});
}

bool small_link(const Box& box, std::string_view id, std::string_view text, Icon before, Icon after) {
  const Tokens& t = colors();
  const float width =
      text_width(TextStyle::SmallButton, text) + (before != Icon::None ? 30 : 0) + (after != Icon::None ? 26 : 0);
  const Box area{box.right - width - 4, box.top, box.right, box.bottom};
  const Press hit = press({.id = item_id(id), .name = text}, area);
  if (hit.down) fill_box(area.inset(-4, 4), t.well, size::kRadiusChip);
  float x = box.right - width;
  if (before != Icon::None) {
    draw_icon({x + 11, box.center().y}, 22, before, t.ink);
    x += 30;
  }
  draw_text({x, box.top, box.right, box.bottom}, TextStyle::SmallButton, t.ink, text);
  if (after != Icon::None) draw_icon({box.right - 10, box.center().y}, 22, after, t.ink);
  if (hit.focused) focus_ring(area.inset(0, 6), 4);
  return hit.pressed;
}

}  // namespace steep
