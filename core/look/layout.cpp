#include "look/layout.h"

#include <cmath>

#include "look/draw.h"
#include "look/frame_state.h"
#include "look/rows.h"

namespace steep {
namespace {

/// Left edge and width of one of the columns.
struct Cut {
  float left, width;
};
Cut cut(float left, float whole, std::span<const float> parts, std::size_t which, float gap) {
  float fixed = gap * static_cast<float>(parts.empty() ? 0 : parts.size() - 1), shares = 0;
  for (const float part : parts) (part >= 0 ? fixed : shares) += std::abs(part);
  const float rest = std::max(0.0f, whole - fixed);
  float x = left, width = 0;
  for (std::size_t i = 0; i <= which && i < parts.size(); ++i) {
    if (i > 0) x += width + gap;
    width = parts[i] >= 0 ? parts[i] : rest * -parts[i] / shares;
  }
  return {x, width};
}

}  // namespace

Pen Pen::column(std::span<const float> parts, std::size_t which, float gap) const {
  const Cut c = cut(left, width(), parts, which, gap);
  return Pen(c.left, c.left + c.width, y);
}

std::vector<Box> columns(const Box& box, std::span<const float> parts, float gap) {
  std::vector<Box> out;
  out.reserve(parts.size());
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Cut c = cut(box.left, box.width(), parts, i, gap);
    out.push_back({c.left, box.top, c.left + c.width, box.bottom});
  }
  return out;
}

namespace {

void write_heading(const Box& box, std::string_view text, TextStyle style) {
  draw_wrapped(box, style, colors().ink, text);
  add_text_item(Role::Heading, text, box);
}

}  // namespace

void heading(Pen& pen, std::string_view text, TextStyle style) {
  write_heading(pen.take(wrapped_height(pen.width(), style, text)), text, style);
  if (style == TextStyle::Button) pen.space(4);  // Its descenders end where the card below would begin.
}

void heading_with_note(Pen& pen, std::string_view text, std::string_view note, TextStyle style) {
  const float note_width = text_width(TextStyle::Label, note);
  const bool beside = text_width(style, text) + 12 + note_width <= pen.width();
  const Box row = pen.take(line_height(style));
  if (beside) {
    write_heading(row, text, style);
    draw_text_on(row.right, baseline_in(row, style), TextStyle::Label, colors().ink2, note, Align::Right);
    add_text_item(Role::Text, note, {row.right - note_width, row.top, row.right, row.bottom});
    return;
  }
  pen.y = row.top;
  heading(pen, text, style);
  paragraph_in(pen, note, TextStyle::Label, colors().ink2);
}

bool heading_with_link(Pen& pen, std::string_view text, std::string_view id, std::string_view link, Icon link_icon,
                       TextStyle style) {
  // The link's target is 48 high; the line itself is lower: the target reaches over and under it.
  const float link_width = text_width(TextStyle::SmallButton, link) + 40;
  const Box row = pen.take(std::max(line_height(style), 36.0f));
  const bool beside = text_width(style, text) + 12 + link_width <= row.width();
  const Box words{row.left, row.top, beside ? row.right - link_width : row.right, row.bottom};
  draw_text(words, style, colors().ink, text);
  add_text_item(Role::Heading, text, words);
  const Box where = beside ? row : pen.take(size::kTouch);
  return small_link({where.right - link_width, where.top, where.right, where.bottom}, id, link,
                    link_icon == Icon::ChevronRight ? Icon::None : link_icon,
                    link_icon == Icon::ChevronRight ? link_icon : Icon::None);
}

void paragraph_in(Pen& pen, std::string_view text, TextStyle style, Color color, Align align) {
  if (text.empty()) return;
  const float height = rich_height(pen.width(), style, text);
  const Box box = pen.take(height);
  if (is_visible(box)) draw_rich(box, style, color, text, 0, align);
  add_text_item(Role::Text, text, box);
}

void paragraph(Pen& pen, std::string_view text, TextStyle style) { paragraph_in(pen, text, style, colors().ink); }

SurfaceSection::SurfaceSection(Pen& pen, float gap_below) {
  const Box& clip = clip_box();
  fill_box({clip.left, pen.y, clip.right, clip.bottom}, colors().surface);
  line({clip.left, pen.y}, {clip.right, pen.y}, colors().line, 2);
  pen.space(gap_below);
  look_state::state().grounds.push_back(colors().surface);
}
SurfaceSection::~SurfaceSection() { look_state::state().grounds.pop_back(); }

void divider(Pen& pen, float gap_above, float gap_below) {
  pen.space(gap_above);
  line({pen.left, pen.y}, {pen.right, pen.y}, colors().rule, size::kEdgeTable);
  pen.space(gap_below);
}

}  // namespace steep
