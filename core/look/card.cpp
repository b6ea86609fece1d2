#include "look/card.h"

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

struct Edge {
  Color color;
  float width;
};
Edge edge_of(CardEdge edge, bool whole) {
  const Tokens& t = colors();
  switch (edge) {
    case CardEdge::Grey: return whole ? Edge{t.line, size::kEdgePress} : Edge{t.rule, size::kEdgeGroup};
    case CardEdge::Ink: return {look().theme == Theme::Dusk ? t.ink : t.line, size::kEdgeHand};
    case CardEdge::Leaf: return {t.leaf, size::kEdgePress};
    case CardEdge::Beet: return {t.beet, size::kEdgePress};
    case CardEdge::Due: return {t.duetext, size::kEdgeHand};  // `due` itself is too pale for an edge.
    case CardEdge::Dashed: return {t.rule, size::kEdgeGroup};
  }
  return {};
}

}  // namespace

Card::Card(Pen& outer, const CardSpec& spec)
    : outer_(outer),
      id_(item_id(spec.id)),
      edge_(spec.edge),
      down_(spec.down),
      gap_below_(spec.gap_below),
      top_(outer.y),
      whole_(spec.press_whole) {
  const Tokens& t = colors();
  if (whole_) {
    const Press hit = press({.id = id_, .role = Role::Row, .name = spoken_or(spec.spoken, {spec.head, spec.note})},
                            outer.here(state().measured[id_]));
    pressed_ = hit.pressed;
    down_now_ = hit.down;
    focused_ = hit.focused;
  }
  underlay_ = std::make_unique<Underlay>();
  pen = Pen(outer.left + spec.across, outer.right - spec.across, outer.y + down_);
  state().ids.push_back(id_);
  state().grounds.push_back(colors().surface);
  if (spec.head.empty()) return;

  const float sign = spec.sign == Icon::None ? 0 : 20 + 8;
  const float note_icon = spec.note_icon == Icon::None ? 0 : 26;
  const TextStyle note_style = spec.note_strong ? TextStyle::LabelStrong : TextStyle::Label;
  const float note = spec.note.empty() ? 0 : text_width(note_style, spec.note) + note_icon + 12;
  const bool beside = sign + text_width(TextStyle::Strong, spec.head) + note <= pen.width();
  const float room = pen.width() - sign - (beside ? note : 0);
  const Box row = pen.take(wrapped_height(room, TextStyle::Strong, spec.head));
  if (spec.sign != Icon::None)
    draw_icon({row.left + 10, row.top + line_height(TextStyle::Strong) / 2}, 20, spec.sign, t.ink);
  const Box words{row.left + sign, row.top, row.left + sign + room, row.bottom};
  draw_wrapped(words, TextStyle::Strong, t.ink, spec.head);
  add_text_item(Role::Heading, spec.head, words);
  if (!spec.note.empty()) {
    const Box where = beside ? row : pen.take(line_height(TextStyle::Label) + 2);
    const float left = beside ? where.right - note + 12 : where.left;
    if (note_icon > 0) draw_icon({left + 10, where.center().y}, 20, spec.note_icon, t.ink2);
    draw_text({left + note_icon, where.top, where.right, where.bottom}, note_style, spec.note_strong ? t.ink : t.ink2,
              spec.note);
    add_text_item(Role::Text, spec.note, {left, where.top, where.right, where.bottom});
  }
  pen.space(4);
}

Card::~Card() {
  state().grounds.pop_back();
  state().ids.pop_back();
  const Box box{outer_.left, top_, outer_.right, pen.y + down_};
  const Edge edge = edge_of(edge_, whole_);
  underlay_->below();
  const Color fill = down_now_ ? colors().well : colors().surface;
  if (edge_ == CardEdge::Dashed) {
    fill_box(box, fill, size::kRadiusCard);
    dashed_box(box, edge.color, edge.width);
  } else {
    panel(box, fill, edge.color, edge.width, size::kRadiusCard);
  }
  underlay_.reset();
  if (focused_) focus_ring(box, size::kRadiusCard);
  state().measured[id_] = box.height();
  outer_.y = box.bottom + gap_below_;
}

}  // namespace steep
