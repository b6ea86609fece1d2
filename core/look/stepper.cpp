#include "look/stepper.h"

#include <algorithm>
#include <cmath>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

void sign_of(Point c, bool plus, Color color) {
  const float arm = 7.5f, width = 2;
  line({c.x - arm, c.y}, {c.x + arm, c.y}, color, width);
  if (plus) line({c.x, c.y - arm}, {c.x, c.y + arm}, color, width);
}

/// The pressed end, filled; its outer corners follow the frame's.
void fill_end(const Box& part, bool left) {
  const Clip clip(part);
  const Box whole = left ? Box{part.left, part.top, part.right + 20, part.bottom}
                         : Box{part.left - 20, part.top, part.right, part.bottom};
  fill_box(whole, colors().ink, size::kRadiusButton);
}

/// Number and unit on one line, smaller where that helps, else the number over its unit.
void draw_value(const Box& box, const Box& cell, const Stepper& spec) {
  const Color color = spec.due ? colors().ink2 : colors().ink;
  const bool large = number_width(TextStyle::Button, spec.value, TextStyle::Body, spec.unit) <= cell.width();
  const TextStyle number_style = large ? TextStyle::Button : TextStyle::Strong;
  const TextStyle unit_style = large ? TextStyle::Body : TextStyle::Label;
  const float width = number_width(number_style, spec.value, unit_style, spec.unit);
  if (width <= cell.width() + 8) {
    draw_number(box.center().x - width / 2, baseline_in(box, number_style), number_style, spec.value, unit_style,
                spec.unit, color);
    return;
  }
  const float half = box.height() / 2;
  draw_text(cell.with_height(half + 4), TextStyle::Strong, color, spec.value, Align::Center);
  draw_text({cell.left, cell.top + half - 2, cell.right, cell.bottom}, TextStyle::Tick, color, spec.unit,
            Align::Center);
}

}  // namespace

Stepped stepper(const Box& box, const Stepper& spec) {
  const Tokens& t = colors();
  const IdScope scope(spec.id);
  // The value may need more than the middle third: the ends are 44 to 64 wide.
  const float end = std::clamp(box.width() * 0.29f, 44.0f, 64.0f);
  const Box less_box = box.with_width(end), more_box{box.right - end, box.top, box.right, box.bottom};
  const Box value_box{less_box.right, box.top, more_box.left, box.bottom};
  const std::string name(spec.spoken.empty() ? spoken({spec.label, spec.value, spec.unit}) : spec.spoken);
  const Words& words = look_words();
  const Press less =
      press({.id = item_id("less"), .name = words("look.less"_w, {name}), .enabled = spec.can_less, .repeats = true},
            less_box);
  Press open;
  if (spec.can_type)
    open = press({.id = item_id("value"), .name = words("look.type_value"_w, {name})}, value_box);
  else
    add_text_item(item_id("value"), Role::Text, name, value_box);
  const Press more =
      press({.id = item_id("more"), .name = words("look.more"_w, {name}), .enabled = spec.can_more, .repeats = true},
            more_box);

  Stepped out;
  out.steps = more.steps - less.steps;
  out.round = std::abs(out.steps) >= 10;
  out.open = open.pressed;
  if (!is_visible(box)) return out;

  panel(box, t.surface, t.line, size::kEdgePress, size::kRadiusButton);
  if (less.down) fill_end(less_box, true);
  if (more.down) fill_end(more_box, false);
  if (open.down) fill_box(value_box.inset(0, 2), t.well);
  sign_of(less_box.center(), false, less.down ? t.surface : spec.can_less ? t.ink : t.rule);
  sign_of(more_box.center(), true, more.down ? t.surface : spec.can_more ? t.ink : t.rule);
  draw_value(box, value_box, spec);
  if (less.focused) focus_ring(less_box.inset(4), 6);
  if (open.focused) focus_ring(value_box.inset(4), 4);
  if (more.focused) focus_ring(more_box.inset(4), 6);
  return out;
}

Stepped stepper(Pen& pen, const Stepper& spec) {
  if (!spec.label.empty()) {
    draw_text(pen.take(line_height(TextStyle::Label) + 2), TextStyle::Label, colors().ink, spec.label);
    pen.space(2);
  }
  return stepper(pen.take(std::max(spec.height, line_height(TextStyle::Button) + 16)), spec);
}

Stepped steppers(Pen& pen, std::span<const Stepper> specs, int& which) {
  which = -1;
  Stepped out;
  const float gap = size::kCardGap;
  const float cell = (pen.width() - gap * static_cast<float>(specs.size() - 1)) /
                     static_cast<float>(std::max<std::size_t>(1, specs.size()));
  bool beside = cell >= 2 * 44 + 8;
  for (const Stepper& s : specs)
    beside = beside && number_width(TextStyle::Strong, s.value, TextStyle::Label, s.unit) + 2 * 44 <= cell;
  const std::vector<float> parts(specs.size(), -1);
  const Pen start = pen;
  for (std::size_t i = 0; i < specs.size(); ++i) {
    if (!beside && i > 0) pen.space(size::kTouchGap);
    Pen column = beside ? start.column(parts, i, gap) : pen;
    const Stepped stepped = stepper(column, specs[i]);
    if (stepped || stepped.open) {
      which = static_cast<int>(i);
      out = stepped;
    }
    pen.below(column);
  }
  return out;
}

double step_value(double value, double step, const Stepped& by, double least, double most) {
  if (by.steps == 0) return std::clamp(value, least, most);
  double next = value + step * by.steps;
  if (by.round) {
    const double coarse = step * 10;
    next = std::round(next / coarse) * coarse;
  } else {
    next = std::round(next / step) * step;  // Steps end on the step's own grid.
    if (by.steps > 0 && next <= value) next += step;
    if (by.steps < 0 && next >= value) next -= step;
  }
  return std::clamp(next, least, most);
}

}  // namespace steep
