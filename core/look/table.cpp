#include "look/table.h"

#include <algorithm>
#include <vector>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kHead = 36, kRow = 40, kAcross = 14, kStrip = 120;

float row_height() { return std::max(kRow, line_height(TextStyle::Label) + 18); }
float head_height() { return std::max(kHead, line_height(TextStyle::TickStrong) + 16); }

/// A text in its column: smaller before it would run into the next one.
void cell_text(const Box& cell, TextStyle style, Color color, std::string_view text, bool right, bool struck) {
  TextStyle fitting = style;
  if (text_width(style, text) > cell.width()) fitting = is_bold(style) ? TextStyle::TickStrong : TextStyle::Tick;
  const Clip clip({cell.left - 1, cell.top, cell.right + 1, cell.bottom});
  if (struck)
    draw_struck(cell, fitting, text);
  else
    draw_text(cell, fitting, color, text, right ? Align::Right : Align::Left);
}

void draw_cell(const Box& box, const GridColumn& column, const GridCell& c, Color ground) {
  const Tokens& t = colors();
  Box cell{box.left, box.top, box.right - 10, box.bottom};
  if (!c.stake.empty()) {
    const float high = 26, width = stake_width(c.stake, TextStyle::LabelStrong, 52, cell.width() - 8);
    stake_tag(box_at(cell.left, cell.center().y - high / 2, width, high), c.stake, TextStyle::LabelStrong);
    cell.left += width + 8;
  }
  if (c.strip) {
    const float width = std::min(kStrip, cell.width());
    draw_mini_strip(box_at(cell.left, cell.center().y - 12, width, 24), *c.strip, ground);
    cell.left += width + 8;
  }
  if (c.sign != Icon::None) {
    draw_icon({cell.left + 10, cell.center().y}, 20, c.sign, t.ink);
    cell.left += 28;
  }
  const float strong = text_width(TextStyle::LabelStrong, c.strong), plain = text_width(TextStyle::Label, c.plain);
  const Color grey = c.grey ? t.ink2 : t.ink;
  if (c.plain.empty() || c.strong.empty()) {
    const bool bold = c.plain.empty();
    return cell_text(cell, bold ? TextStyle::LabelStrong : TextStyle::Label, bold ? t.ink : grey,
                     bold ? c.strong : c.plain, column.right, c.struck);
  }
  // Number and unit, or name and length, beside each other.
  const float all = strong + 5 + plain;
  const float x = column.right ? std::max(cell.left, cell.right - all) : cell.left;
  if (all <= cell.width()) {
    cell_text({x, cell.top, x + strong + 1, cell.bottom}, TextStyle::LabelStrong, t.ink, c.strong, false, c.struck);
    cell_text({x + strong + 5, cell.top, x + all + 1, cell.bottom}, TextStyle::Label, t.ink2, c.plain, false, false);
  } else {
    const float half = cell.height() / 2 - 2;
    cell_text({cell.left, cell.top + 2, cell.right, cell.top + 2 + half}, TextStyle::TickStrong, t.ink, c.strong,
              column.right, c.struck);
    cell_text({cell.left, cell.bottom - 2 - half, cell.right, cell.bottom - 2}, TextStyle::Tick, t.ink2, c.plain,
              column.right, false);
  }
}

std::vector<Box> cells_of(const Box& row, std::span<const GridColumn> list) {
  static std::vector<float> parts;
  parts.clear();
  // A column of its own width still holds its head, in whatever language.
  for (const GridColumn& c : list)
    parts.push_back(c.width < 0 ? c.width
                                : std::max(c.width, text_width(TextStyle::TickStrong, c.head) + (c.sorts ? 34 : 14)));
  return columns(row.inset(kAcross, 0), parts, 0);
}

int draw_head(const Box& head, const Grid& g) {
  const Tokens& t = colors();
  const auto cells = cells_of(head, g.columns);
  int sorted = -1;
  for (std::size_t i = 0; i < g.columns.size(); ++i) {
    const GridColumn& c = g.columns[i];
    const bool by = static_cast<int>(i) == g.sorted_by;
    const Box cell{cells[i].left, head.top, cells[i].right - 10, head.bottom};
    if (c.sorts) {
      const Words& words = look_words();
      const std::string name =
          words(by ? (g.sorted_down ? "look.sorted_down"_w : "look.sorted_up"_w) : "look.sort_by"_w, {c.head});
      const IdScope scope("head", static_cast<std::int64_t>(i));
      const Press hit = press({.id = item_id("sort"), .name = name, .on = by},
                              {cells[i].left - 6, head.top, cells[i].right - 6, head.bottom});
      if (hit.pressed) sorted = static_cast<int>(i);
      if (hit.down || hit.hovered)
        fill_box({cells[i].left - 6, head.top + 2, cells[i].right - 6, head.bottom - 2}, t.well, 4);
      if (hit.focused) focus_ring({cells[i].left, head.top + 6, cells[i].right - 8, head.bottom - 6}, 3);
    }
    draw_text(cell, TextStyle::TickStrong, t.ink, c.head, c.right ? Align::Right : Align::Left);
    if (by) {
      const float x = c.right ? cell.right - text_width(TextStyle::TickStrong, c.head) - 10
                              : cell.left + text_width(TextStyle::TickStrong, c.head) + 11;
      draw_icon({x, head.center().y}, 11, g.sorted_down ? Icon::SortedDown : Icon::SortedUp, t.ink);
    }
  }
  line({head.left, head.bottom}, {head.right, head.bottom}, t.ink, size::kEdgeTotal);
  return sorted;
}

bool draw_row(const Box& row, const Grid& g, std::size_t index, std::vector<GridCell>& cells, bool last) {
  const Tokens& t = colors();
  const IdScope scope("row", static_cast<std::int64_t>(g.key(index)));
  const bool chosen = static_cast<std::int64_t>(index) == g.chosen;
  if (!is_visible(row)) {
    Item item;
    item.id = item_id("open");
    item.role = Role::Row;
    item.name = g.spoken(index);
    item.on = chosen;
    item.drawn = false;
    item.enabled = !is_behind_modal(state().layer);
    if (item_tree().take_reveal(item.id)) reveal_here(row);
    add_item(std::move(item));
    return false;
  }
  const std::string name = g.spoken(index);
  const Press hit = press({.id = item_id("open"), .role = Role::Row, .name = name, .on = chosen}, row);
  const Color ground = chosen || hit.down || hit.hovered ? t.well : t.surface;
  fill_box({row.left + 1, row.top, row.right - 1, row.bottom}, ground);
  if (chosen) fill_box({row.left, row.top, row.left + 5, row.bottom}, t.ink);
  // At the row's own foot, inside: the next row's ground must not cover it.
  if (!last) fill_box({row.left, row.bottom - 1, row.right, row.bottom}, chosen ? t.line : t.rule);
  cells.assign(g.columns.size(), GridCell{});
  g.fill(index, cells);
  const auto boxes = cells_of(row, g.columns);
  for (std::size_t i = 0; i < g.columns.size(); ++i) draw_cell(boxes[i], g.columns[i], cells[i], ground);
  if (hit.focused) focus_ring(row.inset(5), 2);
  return hit.pressed;
}

}  // namespace

GridEvent grid(Pen& pen, const Grid& g) {
  const Tokens& t = colors();
  const IdScope scope(g.id);
  static std::vector<GridCell> cells;
  GridEvent event;
  const float start = pen.y;
  Underlay under;
  event.sort_column = draw_head(pen.take(head_height()), g);
  const float high = row_height();
  const bool pinned = g.pin_chosen && g.chosen >= 0 && g.chosen < static_cast<std::int64_t>(g.rows);
  if (pinned && draw_row(pen.take(high), g, static_cast<std::size_t>(g.chosen), cells, g.rows == 1))
    event.pressed = g.chosen;
  for (std::size_t i = 0; i < g.rows; ++i) {
    if (pinned && static_cast<std::int64_t>(i) == g.chosen) continue;
    if (draw_row(pen.take(high), g, i, cells, i + 1 == g.rows)) event.pressed = static_cast<std::int64_t>(i);
  }
  const Box whole{pen.left, start, pen.right, pen.y};
  edge_box(whole, t.rule, size::kEdgeGroup, size::kRadiusCard);
  under.below();
  fill_box(whole.inset(1), t.surface, size::kRadiusCard);
  pen.space(size::kCardGap);
  return event;
}

}  // namespace steep
