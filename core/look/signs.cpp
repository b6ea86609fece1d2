/// Icons of the font, and the signs drawn by us.

#include <array>
#include <cfloat>
#include <cmath>

#include "look/draw.h"
#include "look/fonts.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

void font_icon(Point center, float size, Icon icon, Color color) {
  const auto code = static_cast<std::uint32_t>(icon);
  const char text[3] = {static_cast<char>(0xE0 | code >> 12), static_cast<char>(0x80 | (code >> 6 & 0x3F)),
                        static_cast<char>(0x80 | (code & 0x3F))};
  ImFont* font = icon_font();
  const float whole = std::round(size);
  const float width = font->CalcTextSizeA(whole, FLT_MAX, 0, text, text + 3).x;
  // The em square of the icon font reaches .875 over and .125 under the baseline.
  const float top = center.y - whole / 2 + 0.875f * whole - font->GetFontBaked(whole)->Ascent;
  const Point wanted{snap(center.x - width / 2), snap(top)};
  const Point floor{std::floor(wanted.x), std::floor(wanted.y)};
  ImDrawList* list = draw_list();
  const int first = list->VtxBuffer.Size;
  list->AddText(font, whole, vec(floor), color, text, text + 3);
  for (int i = first; i < list->VtxBuffer.Size; ++i) {
    list->VtxBuffer[i].pos.x += wanted.x - floor.x;
    list->VtxBuffer[i].pos.y += wanted.y - floor.y;
  }
}

/// A letter or sign of the text font, centered.
void letter(Point center, float size, Color color, std::string_view text) {
  ImFont* font = font_of(true);
  const float whole = std::max(8.0f, std::round(size));
  const float width = font->CalcTextSizeA(whole, FLT_MAX, 0, text.data(), text.data() + text.size()).x;
  const float top = center.y + 0.38f * whole - font->GetFontBaked(whole)->Ascent;
  draw_list()->AddText(font, whole, {snap(center.x - width / 2), snap(top)}, color, text.data(),
                       text.data() + text.size());
}

Point at(Point center, float size, float x, float y) { return {center.x + x * size, center.y + y * size}; }

/// A thick tick with round ends.
void tick(Point c, float size, Color color, float weight = 0.13f) {
  const std::array<Point, 3> points = {
      {at(c, size, -0.34f, 0.03f), at(c, size, -0.1f, 0.27f), at(c, size, 0.36f, -0.25f)}};
  const float width = std::max(2.0f, size * weight);
  polyline(points, color, width);
  for (const Point& p : points) disc(p, width / 2, color);
}

Box square(Point c, float size) { return box_at(c.x - size / 2, c.y - size / 2, size, size); }

void exclamation(Point c, float size, Color color) {
  const float w = std::max(2.0f, size * 0.13f);
  fill_box({c.x - w / 2, c.y - size * 0.3f, c.x + w / 2, c.y + size * 0.08f}, color, w * 0.3f);
  fill_box({c.x - w / 2, c.y + size * 0.17f, c.x + w / 2, c.y + size * 0.17f + w}, color, w * 0.3f);
}

std::array<Point, 3> triangle(Point c, float size) {
  return {{at(c, size, 0, -0.42f), at(c, size, 0.48f, 0.4f), at(c, size, -0.48f, 0.4f)}};
}

void caution(Point c, float size, Color color) {
  const float width = std::max(2.0f, size * 0.1f);
  auto points = triangle(c, size - width);
  polyline(points, color, width, true);
  for (const Point& p : points) disc(p, width / 2, color);
  exclamation(at(c, size, 0, 0.14f), size * 0.62f, color);
}

void caution_filled(Point c, float size, Color fill, Color edge, Color sign) {
  auto points = triangle(c, size * 0.92f);
  polygon(points, fill);
  const float width = std::max(1.5f, size * 0.08f);
  polyline(points, edge, width, true);
  for (const Point& p : points) disc(p, width / 2, edge);
  exclamation(at(c, size, 0, 0.13f), size * 0.58f, sign);
}

void no_entry(Point c, float size) {
  const Tokens& t = colors();
  disc(c, size / 2, t.beet);
  fill_box(centered(square(c, size), size * 0.6f, size * 0.19f), t.onbeet, size * 0.05f);
}

void no_harvest(Point c, float size) {
  const Tokens& t = colors();
  fill_box(square(c, size), t.beet, size * 0.16f);
  font_icon(at(c, size, 0, 0.02f), size * 0.78f, Icon::Basket, t.onbeet);
  // The slash has the block's color around it, so that it parts the basket also when small.
  const Point from = at(c, size, -0.36f, 0.36f), to = at(c, size, 0.36f, -0.36f);
  line(from, to, t.beet, std::max(3.0f, size * 0.2f));
  line(from, to, t.onbeet, std::max(1.5f, size * 0.085f));
}

void half_bed(Point c, float size, Color color) {
  const Box bed = centered(square(c, size), size, size * 0.66f);
  const float width = std::max(2.0f, size * 0.1f);
  edge_box(bed, color, width, size * 0.14f);
  fill_box({bed.left + width / 2, bed.top + width / 2, c.x, bed.bottom - width / 2}, color);
}

void block(Point c, float size, Color fill, Color edge, Color sign, std::string_view text) {
  panel(square(c, size), fill, edge, std::max(1.5f, size * 0.085f), size * 0.2f);
  letter(c, size * 0.68f, sign, text);
}

/// Drawn, since the font's sign is small and hangs low.
void differs(Point c, float size) {
  const Tokens& t = colors();
  panel(square(c, size), t.due, t.line, std::max(1.5f, size * 0.085f), size * 0.2f);
  const float w = std::max(2.0f, size * 0.09f), arm = size * 0.23f;
  for (const float y : {-0.1f, 0.1f}) line({c.x - arm, c.y + y * size}, {c.x + arm, c.y + y * size}, t.ondue, w);
  line(at(c, size, -0.13f, 0.25f), at(c, size, 0.13f, -0.25f), t.ondue, w);
}

void plus_block(Point c, float size) {
  const Tokens& t = colors();
  panel(square(c, size), t.surface, t.line, std::max(1.5f, size * 0.07f), size * 0.2f);
  const float w = std::max(2.0f, size * 0.1f), arm = size * 0.24f;
  line({c.x - arm, c.y}, {c.x + arm, c.y}, t.ink, w);
  line({c.x, c.y - arm}, {c.x, c.y + arm}, t.ink, w);
}

void mark(Point c, float size) {
  const Tokens& t = colors();
  fill_box(square(c, size), t.stake, size * 0.2f);
  constexpr float kShares[3] = {1, 0.62f, 0.28f};
  const float width = size * 0.62f, height = size * 0.14f, pitch = size * 0.21f;
  for (int i = 0; i < 3; ++i) {
    const Box strip = box_at(c.x - width / 2, c.y - pitch - height / 2 + pitch * static_cast<float>(i), width, height);
    const float edge = std::max(1.0f, size * 0.025f);
    edge_box(strip, t.onstake, edge);
    fill_box(strip.with_width(width * kShares[i]), t.onstake);
  }
}

void radio(Point c, float size, bool on, Color color, Color inner) {
  if (!on) return ring(c, size / 2, color, std::max(1.5f, size * 0.09f));
  disc(c, size / 2, color);
  tick(c, size * 0.72f, inner, 0.17f);
}

}  // namespace

void draw_icon(Point center, float size, Icon icon, Color color, Color inner) {
  if (icon == Icon::None) return;
  if (static_cast<std::uint32_t>(icon) < 0x10000) return font_icon(center, size, icon, color);
  const Tokens& t = colors();
  const Color page = inner != 0 ? inner : t.surface;
  const Box box = square(center, size);
  switch (icon) {
    case Icon::Tick: return tick(center, size, color, 0.15f);
    case Icon::SavedTick: fill_box(box, t.leaf, size * 0.22f); return tick(center, size * 0.72f, t.onleaf, 0.15f);
    case Icon::DraftTick:
      panel(box, t.surface, t.leaf, std::max(2.0f, size * 0.1f), size * 0.24f);
      return tick(center, size * 0.62f, t.leaf, 0.17f);
    case Icon::SavingDots:
      panel(box, t.surface, t.line, std::max(2.0f, size * 0.1f), size * 0.24f);
      for (int i = -1; i <= 1; ++i)
        disc({center.x + static_cast<float>(i) * size * 0.2f, center.y}, size * 0.07f, t.ink);
      return;
    case Icon::NotSaved: fill_box(box, t.beet, size * 0.2f); return exclamation(center, size * 0.9f, t.onbeet);
    case Icon::NoEntry: return no_entry(center, size);
    case Icon::NoHarvest: return no_harvest(center, size);
    case Icon::HalfBed: return half_bed(center, size, color);
    case Icon::Caution: return caution(center, size, color);
    case Icon::CautionSolid: return caution_filled(center, size, color, color, page);
    case Icon::CautionDue: return caution_filled(center, size, t.due, t.line, t.ondue);
    case Icon::Question: return block(center, size, t.due, t.line, t.ondue, "?");
    case Icon::Differs: return differs(center, size);
    case Icon::New: return plus_block(center, size);
    case Icon::RadioOff: return radio(center, size, false, color, page);
    case Icon::RadioOn: return radio(center, size, true, color, page);
    case Icon::Mark: return mark(center, size);
    case Icon::SortedUp: return small_triangle({center.x, center.y - size * 0.35f}, size * 0.8f, true, color);
    case Icon::SortedDown: return small_triangle({center.x, center.y + size * 0.35f}, size * 0.8f, false, color);
    default: return;
  }
}

}  // namespace steep
