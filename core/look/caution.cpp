#include "look/caution.h"

#include <algorithm>
#include <array>
#include <span>

#include "look/draw.h"
#include "look/field.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

int warn_block(Pen& pen, const Warn& warn) {
  const Tokens& t = colors();
  const IdScope scope(warn.id);
  const float across = 12, sign = 30, left = across + sign + 10;
  const float room = pen.width() - left - across;
  const float first = wrapped_height(room, TextStyle::Strong, warn.first);
  const float second = warn.second.empty() ? 0 : wrapped_height(room, TextStyle::Label, warn.second);
  const Box start = pen.here(0);
  const float head = std::max(54.0f, first + second + 16);
  Underlay under;
  const Box block = pen.take(head);
  pen.space(11);
  Pen inner(pen.left + 14, pen.right - 14, pen.y);
  const std::array<ButtonSpec, 2> answers = {{{.id = "left", .text = warn.left}, {.id = "right", .text = warn.right}}};
  const int pressed = buttons(inner, std::span(answers).first(warn.right.empty() ? 1 : 2));
  pen.y = inner.y + 11;
  const Box whole{start.left, start.top, start.right, pen.y};
  draw_icon({block.left + across + sign / 2, block.center().y}, sign, Icon::Caution, t.ondue);
  const float top = block.center().y - (first + second) / 2;
  draw_wrapped({block.left + left, top, block.left + left + room, block.bottom}, TextStyle::Strong, t.ondue,
               warn.first);
  if (second > 0)
    draw_wrapped({block.left + left, top + first, block.left + left + room, block.bottom}, TextStyle::Label, t.ondue,
                 warn.second);
  add_text_item(item_id("warning"), Role::Alert, spoken({warn.first, warn.second}), block);
  under.below();
  fill_box(whole.inset(1), t.surface, size::kRadiusCard);
  draw_list()->AddRectFilled(top_left(snap(block).inset(1)), {block.right - 1, block.bottom}, t.due,
                             size::kRadiusCard - 1, ImDrawFlags_RoundCornersTop);
  line({block.left, block.bottom}, {block.right, block.bottom}, t.line, 2);
  edge_box(whole, t.line, size::kEdgePress, size::kRadiusCard);
  pen.space(size::kCardGap);
  return pressed;
}

bool caution_line(Pen& pen, const CautionLine& c) {
  const Tokens& t = colors();
  const float left = 12 + 26 + 10, open = c.open.empty() ? 0 : text_width(TextStyle::SmallButton, c.open) + 34;
  const float room = pen.width() - left - 12 - open;
  const float words = rich_height(room, TextStyle::Body, c.text);
  const Box box = pen.take(std::max(44.0f, words + 16));
  Press hit;
  if (c.open.empty())
    add_text_item(item_id(c.id), Role::Alert, c.text, box);
  else
    hit = press({.id = item_id(c.id), .role = Role::Row, .name = spoken({c.text, c.open})}, box);
  panel(box, hit.down ? t.surface : t.due, t.line, size::kEdgePress, size::kRadiusCard);
  const Color color = hit.down ? t.ink : t.ondue;
  draw_icon({box.left + 12 + 13, box.center().y}, 26, Icon::Caution, color);
  draw_rich({box.left + left, box.center().y - words / 2, box.left + left + room, box.bottom}, TextStyle::Body, color,
            c.text);
  if (open > 0) {
    draw_text({box.left, box.top, box.right - 32, box.bottom}, TextStyle::SmallButton, color, c.open, Align::Right);
    draw_icon({box.right - 20, box.center().y}, 22, Icon::ChevronRight, color);
  }
  if (hit.focused) focus_ring(box, size::kRadiusCard);
  return hit.pressed;
}

RuleEvent rule_line(Pen& pen, const RuleLine& rule) {
  const Tokens& t = colors();
  const IdScope scope(rule.id);
  const float across = 10, sign = 22, left = across + sign + 8;
  const float chevron = rule.opens ? 26 : 0;
  const bool has_head = !rule.head.empty();
  const float room = pen.width() - left - across - chevron;
  float text = 0;
  std::string name(rule.head);
  const auto add_name = [&](std::string_view part) { name = spoken({name, part}); };
  if (!rule.text.empty()) {
    text += rich_height(room, TextStyle::Label, rule.text);
    add_name(rule.text);
  }
  for (const std::string& l : rule.lines) {
    text += rich_height(room, TextStyle::Label, l);
    add_name(l);
  }
  const float head = has_head ? line_height(TextStyle::LabelStrong) : 0;
  const float words = head + text;
  const float plain = std::max(rule.opens ? size::kTouch : 40.0f, words + 18);
  Underlay under;
  const float top = pen.y;
  const Box box = pen.take(plain);
  Press hit;
  if (rule.opens)
    hit = press({.id = item_id("rule"), .role = Role::Row, .name = look_words()("look.rule_opens"_w, {name})}, box);
  else
    add_text_item(item_id("rule"), Role::Text, name, box);
  float y = box.center().y - words / 2;
  draw_icon({box.left + across + sign / 2,
             has_head || text > 2 * line_height(TextStyle::Label) ? y + sign / 2 - 1 : box.center().y},
            sign, Icon::Scales, t.ink);
  if (has_head) {
    draw_text({box.left + left, y, box.right, y + head}, TextStyle::LabelStrong, t.ink, rule.head);
    y += head;
  }
  if (!rule.text.empty())
    y += draw_rich({box.left + left, y, box.left + left + room, y}, TextStyle::Label, t.ink, rule.text);
  for (const std::string& l : rule.lines)
    y += draw_rich({box.left + left, y, box.left + left + room, y}, TextStyle::Label, t.ink, l);
  if (rule.opens) {
    const float at = has_head ? box.center().y - words / 2 + head / 2 : box.center().y;
    draw_icon({box.right - across - 9, at}, 22, Icon::ChevronRight, t.ink);
  }
  RuleEvent event = hit.pressed ? RuleEvent::Open : RuleEvent::None;
  if (!rule.button.empty()) {
    Pen inner(pen.left + across, pen.right - across, pen.y);
    if (button(inner, {.id = "set", .text = rule.button})) event = RuleEvent::Button;
    pen.y = inner.y + across;
  }
  under.below();
  fill_box({box.left, top, box.right, pen.y}, hit.down ? t.surface : t.well, rule.square ? 0 : size::kRadiusChip);
  if (hit.focused) focus_ring(box.inset(4), 4);
  return event;
}

int ask(Pen& pen, std::string_view id, std::string_view question, std::span<const Choice> readings) {
  const IdScope scope(id);
  paragraph(pen, question);
  pen.space(8);
  return choice_cells(pen, "readings", question, readings, -1, 1);
}

int confirm(Pen& pen, const Confirm& spec, std::string& reason) {
  const IdScope scope(spec.id);
  paragraph(pen, spec.text);
  pen.space(10);
  if (!spec.reason_label.empty()) {
    if (!spec.reasons.empty()) {
      static std::vector<Chip> list;
      list.clear();
      for (const Choice& c : spec.reasons) list.push_back({.text = c.text, .on = reason == c.text, .spoken = c.spoken});
      const int chosen = chips(pen, "reasons", list);
      if (chosen >= 0) reason = std::string(spec.reasons[static_cast<std::size_t>(chosen)].text);
    }
    text_field(
        pen,
        {.id = "reason", .label = spec.reason_label, .error = spec.error, .kind = FieldKind::Text, .max_length = 200},
        reason);
    pen.space(12);
  }
  // The safe answer lies where the thumb rests: at the bottom.
  int pressed = -1;
  if (button(pen, {.id = "go", .text = spec.go, .enabled = spec.can_go, .why_not = spec.why_not})) pressed = 1;
  pen.space(size::kCardGap);
  if (button(pen, {.id = "safe", .text = spec.safe, .kind = ButtonKind::Primary})) pressed = 0;
  return pressed;
}

void problem_line(Pen& pen, std::string_view sentence) {
  if (sentence.empty()) return;
  const float height = std::max(24.0f, wrapped_height(pen.width() - 32, TextStyle::Body, sentence));
  const Box box = pen.take(height + 8);
  draw_icon({box.left + 11, box.top + 12}, 22, Icon::NotSaved, colors().beet);
  draw_wrapped({box.left + 32, box.top, box.right, box.bottom}, TextStyle::Body, colors().beet, sentence);
  add_text_item(Role::Alert, sentence, box);
}

void caution_note(Pen& pen, std::string_view text) {
  const Tokens& t = colors();
  const float left = 34, room = pen.width() - left;
  const Box box = pen.take(std::max(24.0f, rich_height(room, TextStyle::Label, text)));
  draw_icon({box.left + 13, box.center().y}, 22, Icon::CautionSolid, t.ink, behind());
  const float high = rich_height(room, TextStyle::Label, text);
  draw_rich({box.left + left, box.center().y - high / 2, box.right, box.bottom}, TextStyle::Label, t.ink, text);
  add_text_item(Role::Text, text, box);
}

void missing_line(Pen& pen, std::string_view text) {
  if (text.empty()) return;
  const Box box = pen.take(wrapped_height(pen.width(), TextStyle::LabelStrong, text));
  draw_wrapped(box, TextStyle::LabelStrong, colors().duetext, text, Align::Center);
  add_text_item(item_id("missing"), Role::Status, text, box);
  pen.space(4);
}

bool empty_state(Pen& pen, const EmptyState& state) {
  const IdScope scope(state.id);
  pen.space(24);
  heading(pen, state.first, TextStyle::Button);
  pen.space(2);
  paragraph(pen, state.why);
  pen.space(16);
  if (state.button.empty()) return false;
  return button(pen, {.id = "do", .text = state.button, .icon = state.icon, .kind = ButtonKind::Primary});
}

void toast(std::string_view text, double until_s) {
  State& s = state();
  s.toast_text = text;
  s.toast_until = until_s;
}

void draw_toast() {
  State& s = state();
  if (s.toast_text.empty()) return;
  if (s.now >= s.toast_until) {
    s.toast_text.clear();
    return;
  }
  want_frame(s.toast_until - s.now);
  const Tokens& t = colors();
  const float margin = look().margin(), width = std::min(look().width - 2 * margin, 520.0f);
  const float high = wrapped_height(width - 32, TextStyle::Strong, s.toast_text) + 24;
  const float bottom = look().height - look().safe.bottom - (look().wide_rail() ? 24 : size::kBottomBar + 12);
  const float left = look().wide_rail() ? look().width - margin - width : margin;
  const Box box{left, bottom - high, left + width, bottom};
  s.overlays.push_back({2, box, false});
  fill_box(box, t.ink, size::kRadiusCard);
  draw_wrapped(box.inset(16, 12), TextStyle::Strong, t.surface, s.toast_text);
  add_text_item(item_id("toast"), Role::Status, s.toast_text, box);
}

}  // namespace steep
