#include "look/hold.h"

#include <algorithm>

#include "look/card.h"
#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

RuleEvent hold_card(Pen& pen, const HoldCard& hold) {
  const Tokens& t = colors();
  const IdScope scope(hold.id);
  const float across = 15, sign = 48, left = across + sign + 14, top = pen.y;
  const float remaining =
      std::max(text_width(TextStyle::Title, hold.left), text_width(TextStyle::Label, hold.left_words));
  const float what = line_height(TextStyle::Strong), until_width = text_width(TextStyle::M, hold.until);
  const bool beside = left + until_width + 12 + remaining + across <= pen.width();
  const TextStyle until_style = left + until_width + across <= pen.width() ? TextStyle::M : TextStyle::Title;
  const float below = beside || hold.left.empty() ? 0 : line_height(TextStyle::Strong);
  Underlay under;
  const Box head = pen.take(std::max(74.0f, what + line_height(until_style) + below + 22));
  draw_icon({head.left + across + sign / 2, head.center().y}, sign, hold_icon(hold.kind), t.ink);
  const float words = what + line_height(until_style) + below, y = head.center().y - words / 2;
  draw_text({head.left + left, y, head.right, y + what}, TextStyle::Strong, t.beet, hold.what);
  draw_text({head.left + left, y + what, head.right, y + what + line_height(until_style)}, until_style, t.ink,
            hold.until);
  if (beside) {
    const float high = line_height(TextStyle::Title) + line_height(TextStyle::Label);
    const float at = head.center().y - high / 2;
    draw_text({head.left, at, head.right - across, at + line_height(TextStyle::Title)}, TextStyle::Title, t.ink,
              hold.left, Align::Right);
    draw_text({head.left, at + line_height(TextStyle::Title), head.right - across, at + high}, TextStyle::Label, t.ink2,
              hold.left_words, Align::Right);
  } else if (below > 0) {
    const std::string both = std::string(hold.left) + " " + std::string(hold.left_words);
    draw_text({head.left + left, y + words - below, head.right, y + words}, TextStyle::Label, t.ink2, both);
  }
  const std::string remaining_words =
      std::string(hold.left) + (hold.left_words.empty() ? "" : " ") + std::string(hold.left_words);
  add_text_item(item_id("hold"), Role::Text,
                spoken({std::string(hold.what) + " " + std::string(hold.until), remaining_words}), head);
  RuleEvent event = RuleEvent::None;
  if (!hold.rule.empty()) {
    Pen inner(pen.left + 2, pen.right - 2, pen.y);
    event = rule_line(inner, {.id = "rule", .text = hold.rule, .button = hold.rule_button, .square = true});
    pen.y = inner.y + 1;
  }
  const Box whole{head.left, top, head.right, pen.y};
  // The rule's ground reaches into the lower corners: they are covered again.
  frame_end(whole, size::kRadiusCard, behind(), t.beet, size::kEdgePress);
  under.below();
  fill_box(whole.inset(1), t.surface, size::kRadiusCard);
  pen.space(size::kCardGap);
  return event;
}

void hold_note(Pen& pen, const HoldNote& note) {
  const Tokens& t = colors();
  const float sign = note.card ? 38 : 30, left = sign + 12;
  const auto write = [&](Pen& inner) {
    const float room = inner.width() - left;
    const float head = note.head.empty() ? 0 : wrapped_height(room, TextStyle::Strong, note.head);
    const float text = rich_height(room, TextStyle::Label, note.text);
    const Box row = inner.take(std::max(sign, head + text));
    draw_icon({row.left + sign / 2, row.center().y}, sign, hold_icon(note.kind), t.ink);
    const float top = row.center().y - (head + text) / 2;
    if (head > 0) draw_wrapped({row.left + left, top, row.right, top + head}, TextStyle::Strong, t.beet, note.head);
    draw_rich({row.left + left, top + head, row.right, row.bottom}, TextStyle::Label, t.ink, note.text);
    add_text_item(Role::Text, spoken({note.head, note.text}), row);
  };
  if (!note.card) return write(pen);
  Card card(pen, {.id = note.text, .edge = CardEdge::Beet, .across = 14, .down = 9});
  write(card.pen);
}

}  // namespace steep
