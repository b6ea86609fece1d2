#include "look/numbers.h"

#include <algorithm>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

void big_number(Pen& pen, const BigNumber& n) {
  const Tokens& t = colors();
  const TextStyle style = n.xl ? TextStyle::Xl : TextStyle::L, unit_style = TextStyle::Title;
  const float before = n.before.empty() ? 0 : text_width(TextStyle::Body, n.before) + 8;
  const float number = number_width(style, n.number, unit_style, n.unit);
  const float used = before + number + 8;
  const TextStyle detail_style =
      used + text_width(TextStyle::Label, n.detail) <= pen.width() ? TextStyle::Label : TextStyle::Tick;
  const float words = std::max(text_width(n.words_at_right ? TextStyle::LabelStrong : TextStyle::Body, n.words),
                               text_width(detail_style, n.detail));
  const bool beside = !look().stacks() && used + words <= pen.width();
  const float start = pen.y;
  const Box row = pen.take(line_height(style));
  const float baseline = baseline_in(row, style);
  if (before > 0) draw_text_on(row.left, baseline, TextStyle::Body, t.ink, n.before);
  draw_number(row.left + before, baseline, style, n.number, unit_style, n.unit, t.ink);
  if (beside && n.words_at_right) {
    const float line = line_height(TextStyle::Label);
    const float lines = (n.words.empty() ? 0 : line) + (n.detail.empty() ? 0 : line);
    float y = std::min(row.center().y - lines / 2 + 3, baseline + 4 - lines);
    if (!n.words.empty()) {
      draw_text({row.left, y, row.right, y + line}, TextStyle::LabelStrong, t.ink, n.words, Align::Right);
      y += line;
    }
    draw_text({row.left, y, row.right, y + line}, detail_style, t.ink2, n.detail, Align::Right);
  } else if (beside) {
    draw_text_on(row.left + used - 4, baseline, TextStyle::Body, t.ink, n.words);
    if (!n.detail.empty()) draw_text_on(row.right, baseline, TextStyle::LabelStrong, t.ink, n.detail, Align::Right);
  } else {
    const float room = pen.width();
    if (!n.words.empty())
      draw_wrapped(pen.take(wrapped_height(room, TextStyle::LabelStrong, n.words)), TextStyle::LabelStrong, t.ink,
                   n.words);
    if (!n.detail.empty())
      draw_wrapped(pen.take(wrapped_height(room, TextStyle::Label, n.detail)), TextStyle::Label, t.ink2, n.detail);
  }
  std::string name = spoken_or(n.spoken, {});
  if (name.empty()) {
    for (const std::string_view part : {n.before, n.number, n.unit, n.words})
      if (!part.empty()) name += (name.empty() ? "" : " ") + std::string(part);
    name = spoken({name, n.detail});
  }
  add_text_item(Role::Text, name, {pen.left, start, pen.right, pen.y});
}

namespace {

float group_width(const NumberGroup& g, bool stacked) {
  float width = stacked ? std::max(text_width(TextStyle::M, g.number), text_width(TextStyle::Label, g.unit))
                        : number_width(TextStyle::M, g.number, TextStyle::Label, g.unit);
  return std::max({width, text_width(TextStyle::Label, g.label), text_width(TextStyle::Label, g.detail)});
}

/// Draws at the pen's left edge; the pen goes below.
void draw_group(Pen& pen, const NumberGroup& g, bool stacked, TextStyle unit_style) {
  const Tokens& t = colors();
  const float start = pen.y;
  if (!g.label.empty())
    draw_wrapped(pen.take(wrapped_height(pen.width(), TextStyle::Label, g.label)), TextStyle::Label, t.ink2, g.label);
  const Box row = pen.take(line_height(TextStyle::M) + 2);
  const float baseline = baseline_in(row, TextStyle::M);
  const bool fits = number_width(TextStyle::M, g.number, unit_style, g.unit) <= pen.width() + 1;
  if (stacked || !fits) {
    draw_text_on(row.left, baseline, TextStyle::M, t.ink, g.number);
    if (!g.unit.empty())
      draw_wrapped(pen.take(wrapped_height(pen.width(), unit_style, g.unit)), unit_style, t.ink, g.unit);
  } else {
    draw_number(row.left, baseline, TextStyle::M, g.number, unit_style, g.unit, t.ink);
  }
  if (!g.detail.empty())
    draw_wrapped(pen.take(wrapped_height(pen.width(), TextStyle::Label, g.detail)), TextStyle::Label, t.ink, g.detail);
  std::string name = std::string(g.number) + (g.unit.empty() ? "" : " ") + std::string(g.unit);
  add_text_item(Role::Text, spoken({g.label, name, g.detail}), {pen.left, start, pen.right, pen.y});
}

}  // namespace

void number_groups(Pen& pen, std::span<const NumberGroup> groups, bool stacked) {
  const float gap = 20;
  const auto total = [&](bool s) {
    float sum = -gap;
    for (const NumberGroup& g : groups) sum += group_width(g, s) + gap;
    return sum;
  };
  stacked = stacked || look().stacks() || total(false) > pen.width();
  const float spare = pen.width() - total(stacked);
  float x = pen.left, deepest = pen.y, top = pen.y;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    float width = group_width(groups[i], stacked);
    if (spare < 0)
      width = std::min(width,
                       (pen.width() - gap * static_cast<float>(groups.size() - 1)) / static_cast<float>(groups.size()));
    // Two on a line stand at both edges; more keep their distance.
    if (!stacked && groups.size() == 2 && i == 1) x = pen.right - width;
    if (x + width > pen.right + 1 && i > 0) {
      x = pen.left;
      top = deepest + 4;
    }
    Pen cell(x, std::min(x + width + 1, pen.right), top);
    draw_group(cell, groups[i], stacked, TextStyle::Label);
    deepest = std::max(deepest, cell.y);
    x += width + gap;
  }
  pen.y = deepest;
}

void number_cards(Pen& pen, std::span<const NumberGroup> groups) {
  const Tokens& t = colors();
  const float across = 13, down = 10, gap = size::kCardGap;
  float needed = -gap;
  std::vector<float> parts;
  for (const NumberGroup& g : groups) {
    const float width = std::max({number_width(TextStyle::M, g.number, TextStyle::Button, g.unit),
                                  text_width(TextStyle::Label, g.label), text_width(TextStyle::Label, g.detail)}) +
                        2 * across;
    parts.push_back(-width);
    needed += width + gap;
  }
  const bool beside = needed <= pen.width();
  const float top = pen.y;
  float deepest = top;
  const auto in_card = [&](Pen column, const NumberGroup& g, float height) {
    Pen inner(column.left + across, column.right - across, column.y + down);
    const float start = column.y;
    Underlay under;
    draw_group(inner, g, false, TextStyle::Button);
    const float end = std::max(inner.y + down, start + height);
    under.below();
    panel({column.left, start, column.right, end}, t.surface, t.rule, size::kEdgeGroup, size::kRadiusCard);
    return end;
  };
  // All as high as the highest of the last frame.
  const std::uint32_t id = item_id(groups.empty() ? "number-cards" : groups.front().label);
  float& height = state().measured[id];
  if (beside) {
    for (std::size_t i = 0; i < groups.size(); ++i)
      deepest = std::max(deepest, in_card(pen.column(parts, i, gap), groups[i], height));
    if (deepest - top != height) want_frame();
    height = deepest - top;
    pen.y = deepest + gap;
  } else {
    for (const NumberGroup& g : groups) pen.y = in_card(Pen(pen.left, pen.right, pen.y), g, 0) + gap;
  }
}

namespace {

/// Where the decimal mark stands, in bytes; the whole text when there is none.
std::size_t whole_part(std::string_view number) {
  // The last mark with digits after it; a thousands mark is always followed by three digits and
  // another mark or the end, which a value with three decimals may be too: those align alike.
  const std::size_t at = number.find_last_of(".,");
  if (at == std::string_view::npos) return number.size();
  const bool thousands = number.size() - at == 4 && number.find_first_of(".,") == at && at <= 3 && number[0] != '0';
  return thousands ? number.size() : at;
}

TextStyle number_style(const LedgerLine& l) { return l.large ? TextStyle::L : TextStyle::Strong; }
TextStyle unit_style(const LedgerLine& l) { return l.large ? TextStyle::Strong : TextStyle::Label; }
TextStyle words_style(const LedgerLine& l) {
  return l.large ? TextStyle::Button : l.strong || l.total ? TextStyle::Strong : TextStyle::Body;
}

/// Where digits before the mark end, digits after it end, and units begin. Digits are tabular, so widths align them.
struct LedgerColumns {
  float mark_x = 0, number_edge = 0, unit_x = 0;
  bool narrow = false;  ///< Below each other: the words would have room for a few letters a line only.
};
LedgerColumns columns_of(const Pen& pen, std::span<const LedgerLine> lines) {
  float after = 0, unit = 0, before = 0;
  for (const LedgerLine& l : lines) {
    const std::size_t mark = whole_part(l.number);
    // A large total has its own line end.
    after = std::max(after, text_width(TextStyle::Strong, l.number.substr(mark)));
    before = std::max(before, text_width(TextStyle::Strong, l.number.substr(0, mark)));
    unit = std::max(unit, text_width(unit_style(l), l.unit));
  }
  constexpr float kGap = 8;
  const float unit_x = pen.right - unit, number_edge = unit_x - kGap;
  const bool narrow = before + after + kGap + unit + std::max(90.0f, 6 * text_size(TextStyle::Body)) > pen.width();
  return {number_edge - after, number_edge, unit_x, narrow};
}

/// A line's parts and how high they are.
struct LedgerRow {
  const LedgerLine& of;
  const LedgerColumns& at;
  float room = 0, words = 0, detail = 0;
  float one;  ///< Of the number.

  LedgerRow(const LedgerLine& l, const LedgerColumns& columns, const Pen& pen)
      : of(l), at(columns), one(l.large ? line_height(TextStyle::L) : 28.0f) {
    const float number = text_width(number_style(l), l.number);
    room = at.narrow ? pen.width() : at.number_edge - number - 10 - pen.left - (l.icon != Icon::None ? 24 : 0);
    words = wrapped_height(room, words_style(l), l.words);
    detail = l.detail.empty() ? 0 : wrapped_height(room, TextStyle::Label, l.detail);
  }
  float height() const {
    // What can be pressed is as high as a finger needs it.
    const float least = of.id.empty() ? one : std::max(one, size::kTouch);
    return std::max(least, at.narrow ? words + detail + one : words + detail + 4);
  }
};

Press ledger_press(const LedgerLine& l, const Box& row) {
  const std::string number = std::string(l.number) + (l.unit.empty() ? "" : " ") + std::string(l.unit);
  const std::string name = spoken({l.words, l.detail, number});
  if (!l.id.empty())
    return press({.id = item_id(l.id), .role = Role::Row, .name = look_words()("look.formula"_w, {name})}, row);
  add_text_item(Role::Text, name, row);
  return {};
}

void draw_ledger_number(const LedgerRow& r, float baseline) {
  const Color ink = colors().ink;
  const LedgerLine& l = r.of;
  if (l.large) {
    draw_text_on(r.at.number_edge, baseline, TextStyle::L, ink, l.number, Align::Right);
  } else {
    const std::size_t mark = whole_part(l.number);
    draw_text_on(r.at.mark_x, baseline, TextStyle::Strong, ink, l.number.substr(0, mark), Align::Right);
    draw_text_on(r.at.mark_x, baseline, TextStyle::Strong, ink, l.number.substr(mark));
  }
  draw_text_on(r.at.unit_x, baseline, unit_style(l), ink, l.unit);
}

void draw_ledger_row(const LedgerRow& r, const Box& row) {
  const Tokens& t = colors();
  const LedgerLine& l = r.of;
  const TextStyle style = words_style(l);
  const Box number_row = r.at.narrow ? Box{row.left, row.bottom - r.one, row.right, row.bottom} : row;
  const float baseline = baseline_in(number_row, number_style(l));
  draw_ledger_number(r, baseline);
  const float top = r.at.narrow ? row.top
                    : l.large   ? baseline - 0.38f * text_size(style) - r.words / 2
                                : row.center().y - (r.words + r.detail) / 2;
  draw_wrapped({row.left, top, row.left + r.room, top + r.words}, style, t.ink, l.words);
  if (l.icon != Icon::None)
    draw_icon({row.left + std::min(r.room, text_width(style, l.words)) + 14, top + line_height(style) / 2}, 20, l.icon,
              t.ink);
  if (r.detail > 0)
    draw_wrapped({row.left, top + r.words, row.left + r.room, top + r.words + r.detail}, TextStyle::Label, t.ink2,
                 l.detail);
}

}  // namespace

int ledger(Pen& pen, std::span<const LedgerLine> lines) {
  const LedgerColumns columns = columns_of(pen, lines);
  int pressed = -1;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (lines[i].total) {
      pen.space(4);
      line({pen.left, pen.y}, {pen.right, pen.y}, colors().ink, size::kEdgeTotal);
      pen.space(2);
    }
    const LedgerRow parts(lines[i], columns, pen);
    const Box row = pen.take(parts.height());
    const Press hit = ledger_press(lines[i], row);
    if (hit.pressed) pressed = static_cast<int>(i);
    if (!is_visible(row)) continue;
    if (hit.down) fill_box(row.inset(-6, 0), colors().well, 4);
    draw_ledger_row(parts, row);
    if (hit.focused) focus_ring(row, 3);
  }
  return pressed;
}

}  // namespace steep
