#include "look/overlap.h"

#include <algorithm>
#include <cmath>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

/// Each how manyth tick has its text, so that all texts have room and the same distance.
std::size_t labels_every(const Overlap& f, float dp_per_h) {
  float widest = 0, step = 0;
  for (std::size_t i = 0; i < f.ticks.size(); ++i) {
    widest = std::max(widest, text_width(TextStyle::Label, f.ticks[i].text));
    if (i == 1) step = dp_per_h * static_cast<float>(f.ticks[1].at - f.ticks[0].at);
  }
  // Those at the ends stand wholly inside, so they reach half a text nearer to the next.
  return step > 0 ? static_cast<std::size_t>(std::max(1.0f, std::ceil((1.5f * widest + 6) / step))) : 1;
}

}  // namespace

void overlap(Pen& pen, const Overlap& f) {
  const Tokens& t = colors();
  const float bar = 36, gap = 18, edge = 11;
  const Box plot =
      pen.take(2 * edge + bar * static_cast<float>(f.bars.size()) + gap * static_cast<float>(f.bars.size() - 1));
  const double span = std::max(1e-9, f.to_h - f.from_h);
  const auto x_of = [&](double at) { return plot.left + plot.width() * static_cast<float>((at - f.from_h) / span); };
  double from = f.from_h, to = f.to_h;
  for (const Overlap::Bar& b : f.bars) {
    from = std::max(from, b.start);
    to = std::min(to, b.finish);
  }
  if (to > from) {
    fill_box({x_of(from), plot.top, x_of(to), plot.bottom}, t.due);
    for (const double at : {from, to}) dashes({x_of(at), plot.top - 2}, {x_of(at), plot.bottom}, t.line, 2, 5, 4);
  }
  float y = plot.top + edge;
  for (const Overlap::Bar& b : f.bars) {
    const Box box{x_of(b.start), y, std::max(x_of(b.finish), x_of(b.start) + 6), y + bar};
    panel(box, t.leaf, t.line, size::kEdgePress, 4);
    const float width = text_width(TextStyle::Strong, b.text);
    if (width + 8 <= box.width())
      draw_text(box, TextStyle::Strong, t.onleaf, b.text, Align::Center);
    else if (box.right + 6 + width <= plot.right) {
      const Box label{box.right + 4, box.center().y - 11, box.right + 8 + width, box.center().y + 11};
      fill_box(label, behind());
      draw_text({box.right + 6, y, plot.right, y + bar}, TextStyle::Strong, t.ink, b.text);
    } else {
      const Box label{box.left - 8 - width, box.center().y - 11, box.left - 4, box.center().y + 11};
      fill_box(label, behind());
      draw_text({plot.left, y, box.left - 6, y + bar}, TextStyle::Strong, t.ink, b.text, Align::Right);
    }
    y += bar + gap;
  }
  pen.space(6);
  const Box axis = pen.take(line_height(TextStyle::Label) + 8);
  const std::size_t every = labels_every(f, axis.width() / static_cast<float>(span));
  for (std::size_t i = 0; i < f.ticks.size(); ++i) {
    const float x = x_of(f.ticks[i].at), width = text_width(TextStyle::Label, f.ticks[i].text);
    line({x, axis.top}, {x, axis.top + 6}, t.line, 2);
    if (i % every != 0) continue;
    const float left = std::clamp(x - width / 2, axis.left, axis.right - width);
    draw_text({left, axis.top + 8, axis.right, axis.bottom}, TextStyle::Label, t.ink2, f.ticks[i].text);
  }
  std::string name(f.spoken);
  if (name.empty())
    for (const Overlap::Bar& b : f.bars) name = spoken({name, b.text});
  add_text_item(Role::Text, name, {plot.left, plot.top, plot.right, axis.bottom});
  pen.space(8);
}

}  // namespace steep
