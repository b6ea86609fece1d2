#include "look/draw.h"

#include <array>
#include <cmath>

#include "look/frame_state.h"

namespace steep {

using namespace look_state;

void fill_box(const Box& box, Color color, float radius) {
  const Box b = snap(box);
  if (b.empty()) return;
  draw_list()->AddRectFilled(top_left(b), bottom_right(b), color, radius);
}

void edge_box(const Box& box, Color color, float width, float radius) {
  const float w = snap_width(width);
  const Box b = snap(box).inset(w / 2);
  if (b.empty()) return;
  ImDrawList* list = draw_list();
  if (radius <= 0) {  // Four plain bars: sharp corners.
    const Box o = snap(box);
    fill_box({o.left, o.top, o.right, o.top + w}, color);
    fill_box({o.left, o.bottom - w, o.right, o.bottom}, color);
    fill_box({o.left, o.top + w, o.left + w, o.bottom - w}, color);
    fill_box({o.right - w, o.top + w, o.right, o.bottom - w}, color);
    return;
  }
  list->PathRect(top_left(b), bottom_right(b), std::max(0.0f, radius - w / 2));
  list->PathStroke(color, ImDrawFlags_Closed, w);
}

void panel(const Box& box, Color fill, Color edge, float edge_width, float radius) {
  const float w = snap_width(edge_width);
  // The fill ends in the middle of the edge, so that it never shows outside of it.
  draw_list()->AddRectFilled(top_left(snap(box).inset(w / 2)), bottom_right(snap(box).inset(w / 2)), fill,
                             std::max(0.0f, radius - w / 2));
  edge_box(box, edge, edge_width, radius);
}

void line(Point from, Point to, Color color, float width) {
  const float w = snap_width(width);
  if (std::abs(from.y - to.y) < 0.01f) {  // Level and upright lines lie on device pixels.
    const float y = snap(from.y - w / 2);
    fill_box({std::min(from.x, to.x), y, std::max(from.x, to.x), y + w}, color);
  } else if (std::abs(from.x - to.x) < 0.01f) {
    const float x = snap(from.x - w / 2);
    fill_box({x, std::min(from.y, to.y), x + w, std::max(from.y, to.y)}, color);
  } else {
    draw_list()->PathLineTo(vec(from));
    draw_list()->PathLineTo(vec(to));
    draw_list()->PathStroke(color, 0, width);
  }
}

void polyline(std::span<const Point> points, Color color, float width, bool closed) {
  for (const Point& p : points) draw_list()->PathLineTo(vec(p));
  draw_list()->PathStroke(color, closed ? ImDrawFlags_Closed : 0, width);
}

void polygon(std::span<const Point> points, Color color) {
  for (const Point& p : points) draw_list()->PathLineTo(vec(p));
  draw_list()->PathFillConvex(color);
}

void disc(Point center, float radius, Color color) { draw_list()->AddCircleFilled(vec(center), radius, color); }
void ring(Point center, float radius, Color color, float width) {
  draw_list()->AddCircle(vec(center), radius - width / 2, color, 0, width);
}

void gradient_down(const Box& box, Color top, Color foot) {
  const Box b = snap(box);
  if (!b.empty()) draw_list()->AddRectFilledMultiColor(top_left(b), bottom_right(b), top, top, foot, foot);
}
void gradient_across(const Box& box, Color left, Color right) {
  const Box b = snap(box);
  if (!b.empty()) draw_list()->AddRectFilledMultiColor(top_left(b), bottom_right(b), left, right, right, left);
}

void frame_end(const Box& box, float radius, Color behind, Color edge, float edge_width) {
  const Box b = snap(box);
  ImDrawList* list = draw_list();
  constexpr int kArc = 6;
  // Each corner: a fan from the very corner over an arc of points, in the color behind.
  const std::array<Point, 4> corners = {{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}}};
  const std::array<Point, 4> centers = {{{b.left + radius, b.top + radius},
                                         {b.right - radius, b.top + radius},
                                         {b.right - radius, b.bottom - radius},
                                         {b.left + radius, b.bottom - radius}}};
  constexpr float kQuarter = 1.5707963f;
  for (std::size_t c = 0; c < 4; ++c) {
    const float start = kQuarter * (static_cast<float>(c) + 2);
    Point before;
    for (int i = 0; i <= kArc; ++i) {
      const float angle = start + kQuarter * static_cast<float>(i) / kArc;
      const Point here{centers[c].x + radius * std::cos(angle), centers[c].y + radius * std::sin(angle)};
      if (i > 0) list->AddTriangleFilled(vec(corners[c]), vec(before), vec(here), behind);
      before = here;
    }
  }
  edge_box(b, edge, edge_width, radius);
}

void tape(const Box& box, bool upright) {
  constexpr float kStripe = 12;
  const Tokens& t = colors();
  const Clip clip(box);
  fill_box(box, t.tapegap);
  ImDrawList* list = draw_list();
  // Quads without soft edges in one go: their borders lie inside the band.
  if (upright) {
    const float w = box.width();
    for (float y = box.top - w; y < box.bottom + w; y += kStripe * 1.0f) {
      const float half = kStripe / 2;
      list->AddQuadFilled({box.left, y + w}, {box.right, y}, {box.right, y + half}, {box.left, y + w + half}, t.beet);
    }
    return;
  }
  const float h = box.height();
  for (float x = box.left - h - kStripe; x < box.right + h; x += kStripe * 1.5f) {
    const float stripe = kStripe * 0.75f;
    list->AddQuadFilled({x + h, box.top}, {x + h + stripe, box.top}, {x + stripe, box.bottom}, {x, box.bottom}, t.beet);
  }
}

namespace {
void slanted(const Box& box, Color color, float step, float width) {
  const float h = box.height();
  for (float x = box.left - h; x < box.right; x += step) {
    draw_list()->PathLineTo({x, box.bottom});
    draw_list()->PathLineTo({x + h, box.top});
    draw_list()->PathStroke(color, 0, width);
  }
}
}  // namespace

void hatch(const Box& box, Color color, float step, float width) {
  const Clip clip(box);
  slanted(box, color, step, width);
}

void stripes(const Box& box, Color color, Color gap, float width) {
  const Clip clip(box);
  fill_box(box, gap);
  slanted(box, color, width * 1.9f, width * 0.9f);
}

void dashes(Point from, Point to, Color color, float width, float on, float off) {
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (length <= 0) return;
  const Point way{(to.x - from.x) / length, (to.y - from.y) / length};
  for (float at = 0; at < length; at += on + off) {
    const float end = std::min(at + on, length);
    line({from.x + way.x * at, from.y + way.y * at}, {from.x + way.x * end, from.y + way.y * end}, color, width);
  }
}

void dashed_box(const Box& box, Color color, float width, float on, float off) {
  const Box b = box.inset(width / 2);
  dashes({b.left, b.top}, {b.right, b.top}, color, width, on, off);
  dashes({b.left, b.bottom}, {b.right, b.bottom}, color, width, on, off);
  dashes({b.left, b.top}, {b.left, b.bottom}, color, width, on, off);
  dashes({b.right, b.top}, {b.right, b.bottom}, color, width, on, off);
}

void stake(const Box& box, float point, Color color, float radius) {
  const Box b = snap(box);
  const std::array<Point, 5> shape = {{{b.left, b.top},
                                       {b.right - point, b.top},
                                       {b.right, b.center().y},
                                       {b.right - point, b.bottom},
                                       {b.left, b.bottom}}};
  if (radius <= 0) return polygon(shape, color);
  ImDrawList* list = draw_list();
  list->PathArcToFast({b.left + radius, b.top + radius}, radius, 6, 9);
  list->PathLineTo({b.right - point, b.top});
  list->PathLineTo({b.right, b.center().y});
  list->PathLineTo({b.right - point, b.bottom});
  list->PathArcToFast({b.left + radius, b.bottom - radius}, radius, 3, 6);
  list->PathFillConvex(color);
}

float stake_width(std::string_view name, TextStyle style, float least, float most, float around) {
  return std::max(least, std::min(most, text_width(style, name) + around));
}

void stake_name(const Box& box, TextStyle style, Color color, std::string_view name) {
  for (const TextStyle fitting : {style, TextStyle::LabelStrong, TextStyle::TickStrong})
    if (text_width(fitting, name) <= box.width() - 4) return draw_text(box, fitting, color, name, Align::Center);
  const Box room = box.inset(4, 0);
  const float high = wrapped_height(room.width(), TextStyle::TickStrong, name);
  const Clip clip(box);
  draw_wrapped({room.left, std::max(box.top, box.center().y - high / 2), room.right, box.bottom}, TextStyle::TickStrong,
               color, name, Align::Center);
}

float stake_tag(const Box& box, std::string_view number, TextStyle style) {
  const float point = std::min(8.0f, box.height() * 0.25f);
  const float width = box.width() > 0 ? box.width() : text_width(style, number) + 16 + point;
  const Box tag = box.with_width(width);
  stake(tag, point, colors().stake, 3);
  stake_name({tag.left, tag.top, tag.right - point * 0.6f, tag.bottom}, style, colors().onstake, number);
  return width;
}

void flag(const Box& box, float notch) {
  const Tokens& t = colors();
  const Box b = snap(box);
  const float y = b.center().y;
  const std::array<Point, 4> upper = {{{b.left, b.top}, {b.right, b.top}, {b.right, y}, {b.left + notch, y}}};
  const std::array<Point, 4> lower = {{{b.left + notch, y}, {b.right, y}, {b.right, b.bottom}, {b.left, b.bottom}}};
  // Two halves without soft edges between them: a notched shape is not convex.
  ImDrawList* list = draw_list();
  const ImDrawListFlags flags = list->Flags;
  list->Flags &= ~ImDrawListFlags_AntiAliasedFill;
  polygon(upper, t.due);
  polygon(lower, t.due);
  list->Flags = flags;
  const std::array<Point, 3> edge = {{{b.left, b.top}, {b.left + notch, y}, {b.left, b.bottom}}};
  polyline(edge, t.line, 2);
}

void chevrons(Point at, int count, float height, Color color) {
  const float deep = height * 0.5f;
  for (int i = 0; i < std::min(count, 3); ++i) {
    const float x = at.x + static_cast<float>(i) * height * 0.5f;
    const std::array<Point, 3> shape = {{{x, at.y - height / 2}, {x + deep, at.y}, {x, at.y + height / 2}}};
    polyline(shape, color, std::max(2.0f, height * 0.17f));
  }
}

void small_triangle(Point tip, float size, bool up, Color color) {
  const float y = up ? tip.y + size * 0.8f : tip.y - size * 0.8f;
  const std::array<Point, 3> shape = {{tip, {tip.x + size / 2, y}, {tip.x - size / 2, y}}};
  polygon(shape, color);
}

}  // namespace steep
