#include <algorithm>

#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/frame.h"
#include "screens/work_form.h"
#include "screens/work_page.h"

namespace steep {
namespace {

using Cell = WorkPageView::Cell;
using FieldGroup = WorkPageView::Group;

constexpr float kBeside = 150;  ///< A field that stands beside another needs so much.

void choose_word(Pen& pen, const Cell& cell, WorkPageInput& input) {
  std::vector<Choice> choices;
  float widest = 0;
  for (const WorkPageView::Word& word : cell.words) {
    choices.push_back({.text = word.text});
    widest = std::max(widest, text_width(TextStyle::SmallButton, word.text));
  }
  const bool fits = choices.size() <= 4 && (widest + 20) * static_cast<float>(choices.size()) <= pen.width();
  const int i = fits ? segmented(pen, "choice", cell.label, choices, cell.chosen)
                     : choice_cells(pen, "choice", cell.label, choices, cell.chosen, 2);
  if (i >= 0) input.form[cell.key] = cell.words[static_cast<std::size_t>(i)].key;
}

/// Field, and beside it what saves typing: the number pad, or now.
void type_value(Pen& pen, const Cell& cell, WorkPageInput& input) {
  const float now = cell.now.empty() ? 0 : text_width(TextStyle::SmallButton, cell.now) + 32;
  const Box row = pen.take(text_field_height(pen.width(), {.id = "field", .label = cell.label, .label_hidden = true}));
  std::vector<float> parts{-1};
  if (!cell.pad.empty()) parts.push_back(size::kTouch);
  if (now > 0) parts.push_back(now);
  const auto boxes = columns(row, parts);
  std::string text = cell.value;
  const FieldEvent event = text_field(boxes[0],
                                      {.id = "field",
                                       .label = cell.label,
                                       .hint = cell.hint,
                                       .error = cell.error,
                                       .unit = cell.unit,
                                       .kind = cell.kind,
                                       .max_length = cell.max_length},
                                      text);
  if (event.changed) input.form[cell.key] = text;
  if (event.focused && !event.done)
    input.editing = cell.key;
  else if (input.editing == cell.key)
    input.editing.clear();
  if (!cell.pad.empty() && icon_button(boxes[1], "pad", Icon::Dialpad, cell.pad, true)) {
    const auto value = read_value(*cell.spec, cell.value, {}, cell.units.front());
    open_amount(input.typing, cell.key, value ? value->written : std::nullopt, *cell.units.front());
  }
  if (now > 0 && button(boxes.back(), {.id = "now", .text = cell.now, .spoken = cell.label + ": " + cell.now}))
    input.form[cell.key] = cell.now_text;
}

void draw_cell(Pen& pen, const Cell& cell, WorkPageInput& input) {
  const IdScope scope(cell.key);
  const Box label = pen.take(wrapped_height(pen.width(), TextStyle::LabelStrong, cell.label) + 4);
  draw_wrapped(label, TextStyle::LabelStrong, colors().ink, cell.label);
  if (!cell.words.empty()) {
    choose_word(pen, cell, input);
    return;
  }
  type_value(pen, cell, input);
  if (!cell.in_own_units.empty()) {
    pen.space(2);
    paragraph_in(pen, cell.in_own_units, TextStyle::Label, colors().ink2);
  }
  if (!cell.error.empty()) {
    pen.space(4);
    problem_line(pen, cell.error);
  }
  if (!cell.readings.empty()) {
    std::vector<Choice> choices;
    for (const WorkPageView::Word& reading : cell.readings) choices.push_back({.text = reading.text});
    if (const int i = choice_cells(pen, "which", cell.which, choices, -1, 2); i >= 0) {
      input.form[cell.key] = cell.readings[static_cast<std::size_t>(i)].key;
      input.editing.clear();
    }
  }
}

/// Cells two and two where all their labels fit on one line at that width, else below each other.
void draw_cells(Pen& pen, const std::vector<const Cell*>& cells, WorkPageInput& input, float least) {
  const float half = (pen.width() - size::kGroupGap) / 2;
  const auto takes_row = [&](const Cell& cell) {
    return half < least || text_width(TextStyle::LabelStrong, cell.label) > half || !cell.words.empty() ||
           !cell.now.empty() || !cell.readings.empty();
  };
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) pen.space(12);
    if (i + 1 < cells.size() && !takes_row(*cells[i]) && !takes_row(*cells[i + 1])) {
      Pen left = pen.column({-1, -1}, 0, size::kGroupGap), right = pen.column({-1, -1}, 1, size::kGroupGap);
      draw_cell(left, *cells[i], input);
      draw_cell(right, *cells[i + 1], input);
      pen.below(left);
      pen.below(right);
      ++i;
    } else {
      draw_cell(pen, *cells[i], input);
    }
  }
}

/// What may be given more than once, and rows: a card of its own with its items, one more, one less.
void draw_many(Pen& pen, const FieldGroup& group, WorkPageInput& input) {
  const IdScope scope(group.spec->name);
  Card card(pen, {.id = "many", .head = group.label});
  card.pen.space(4);
  for (std::size_t i = 0; i < group.items.size(); ++i) {
    const IdScope item_scope("item", static_cast<std::int64_t>(i));
    if (i > 0) divider(card.pen, 10, 10);
    std::vector<const Cell*> cells;
    for (const Cell& cell : group.items[i].cells) cells.push_back(&cell);
    Pen body = card.pen;
    if (!group.remove.empty()) body.right -= size::kTouch + size::kTouchGap;
    const float top = body.y;
    draw_cells(body, cells, input, kBeside);
    card.pen.below(body);
    if (group.remove.empty()) continue;
    const std::string spoken = group.remove + " " + std::to_string(i + 1);
    const float drop = line_height(TextStyle::LabelStrong) + 4;
    if (icon_button({card.pen.right - size::kTouch, top + drop, card.pen.right, top + drop + size::kTouch}, "remove",
                    Icon::Close, spoken))
      remove_item(input.form, *group.spec, i);
  }
  card.pen.space(10);
  if (button(card.pen, {.id = "add", .text = group.add, .icon = Icon::Plus})) add_item(input.form, *group.spec);
}

}  // namespace

void draw_work_fields(Pen& pen, const WorkPageView& view, WorkPageInput& input) {
  std::vector<const Cell*> single;
  for (const FieldGroup& group : view.groups)
    if (group.add.empty() && group.spec->kind != InputKind::Row) single.push_back(&group.items.front().cells.front());
  const auto draw_single = [&] {
    if (single.empty()) return;
    Card card(pen, {.id = "given", .head = view.given_head, .edge = CardEdge::Ink});
    card.pen.space(4);
    draw_cells(card.pen, single, input, 220);
  };
  // What is asked for first stands first.
  const bool many_first = !view.groups.empty() && !view.groups.front().add.empty();
  if (!many_first) draw_single();
  for (const FieldGroup& group : view.groups)
    if (!group.add.empty() || group.spec->kind == InputKind::Row) draw_many(pen, group, input);
  if (many_first) draw_single();
}

}  // namespace steep
