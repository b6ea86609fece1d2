#include "look/load_figures.h"

#include <algorithm>
#include <array>

#include "look/draw.h"
#include "look/frame_state.h"
#include "look/motion.h"

namespace steep {

using namespace look_state;

void load_bar(Pen& pen, const LoadBar& bar) {
  const Tokens& t = colors();
  const float start = pen.y;
  const Box head = pen.take(line_height(TextStyle::Label) + 4);
  draw_text(head, TextStyle::Label, t.ink, bar.label);
  draw_text(head, TextStyle::LabelStrong, t.ink, bar.right, Align::Right);
  const Box box = snap(pen.take(42));
  const Box inner = box.inset(3);
  float all = bar.sump_share;
  for (const LoadBar::Slab& s : bar.slabs) all += s.share;
  all = std::max(all, 1e-6f);
  const float sump = inner.width() * bar.sump_share / all;
  {
    const Clip clip(inner);
    gradient_across({inner.left, inner.top, inner.right - sump, inner.bottom}, t.tank_top, t.tank_foot);
    float x = inner.left;
    for (std::size_t i = 0; i < bar.slabs.size(); ++i) {
      const float width = inner.width() * bar.slabs[i].share / all;
      if (i > 0) line({x, inner.top}, {x, inner.bottom}, t.surface, 2.5f);
      const TextStyle style =
          text_width(TextStyle::Strong, bar.slabs[i].text) <= width - 4 ? TextStyle::Strong : TextStyle::TickStrong;
      if (text_width(style, bar.slabs[i].text) <= width - 6)  // A gap between two numbers, or they read as one.
        draw_text({x, inner.top, x + width, inner.bottom}, style, t.ontank, bar.slabs[i].text, Align::Center);
      x += width;
    }
    if (sump > 0) {
      stripes({inner.right - sump, inner.top, inner.right, inner.bottom}, t.tea, t.surface, 4);
      line({inner.right - sump, inner.top}, {inner.right - sump, inner.bottom}, t.surface, 2.5f);
    }
  }
  frame_end(box, size::kRadiusStrip, behind(), t.ink, 3);
  if (!bar.below_right.empty())
    draw_text(pen.take(line_height(TextStyle::Label)), TextStyle::Label, t.ink2, bar.below_right, Align::Right);
  add_text_item(Role::Text, spoken_or(bar.spoken, {bar.label, bar.right, bar.below_right}),
                {pen.left, start, pen.right, pen.y});
}

void run_dry(Pen& pen, const RunDry& f) {
  const Tokens& t = colors();
  const float start = pen.y, tag_width = stake_width(f.number, TextStyle::Strong, 54, pen.width() * 0.4f);
  pen.space(14);
  const Box row = snap(pen.take(46));
  const Box tag = row.with_width(tag_width).inset(0, 1);
  stake(tag, 8, t.stake);
  stake_name({tag.left, tag.top, tag.right - 6, tag.bottom}, TextStyle::Strong, t.onstake, f.number);
  const Box bed{tag.right + 3, row.top, row.right, row.bottom};
  const float at = std::clamp(f.at, 0.0f, 1.0f), cut = snap(bed.left + bed.width() * moving(item_id("run-dry"), at));
  fill_box(bed, t.surface);
  const Box treated =
      f.from_far_end ? Box{cut, bed.top, bed.right, bed.bottom} : Box{bed.left, bed.top, cut, bed.bottom};
  const Box rest = f.from_far_end ? Box{bed.left, bed.top, cut, bed.bottom} : Box{cut, bed.top, bed.right, bed.bottom};
  fill_box(treated, t.leaf);
  const auto words = [&](const Box& part, std::string_view text, Color color) {
    if (text_width(TextStyle::Strong, text) + 20 <= part.width())
      draw_text(part.inset(12, 0), TextStyle::Strong, color, text);
    else if (text_width(TextStyle::LabelStrong, text) + 10 <= part.width())
      draw_text(part.inset(5, 0), TextStyle::LabelStrong, color, text);
  };
  words(treated, f.left_text, t.onleaf);
  words(rest, f.right_text, t.ink);
  frame_end(bed, size::kRadiusStrip, behind(), t.line, size::kEdgePress);
  fill_box({cut - 1.5f, bed.top - 8, cut + 1.5f, bed.bottom + 5}, t.ink);
  const std::array<Point, 3> mark = {{{cut - 9, bed.top - 15}, {cut + 9, bed.top - 15}, {cut, bed.top - 4}}};
  polygon(mark, t.ink);
  pen.space(5);
  const Box below = pen.take(line_height(TextStyle::Label));
  const float here = text_width(TextStyle::LabelStrong, f.here);
  const float here_left = std::clamp(cut - here / 2, bed.left, bed.right - here);
  if (bed.left + text_width(TextStyle::Label, f.zero) + 8 <= here_left)
    draw_text({bed.left, below.top, below.right, below.bottom}, TextStyle::Label, t.ink2, f.zero);
  if (bed.right - text_width(TextStyle::Label, f.end) - 8 >= here_left + here)
    draw_text(below, TextStyle::Label, t.ink2, f.end, Align::Right);
  draw_text({here_left, below.top, below.right, below.bottom}, TextStyle::LabelStrong, t.ink, f.here);
  add_text_item(Role::Text, spoken_or(f.spoken, {f.number, f.here, f.left_text, f.right_text}),
                {pen.left, start, pen.right, pen.y});
}

}  // namespace steep
