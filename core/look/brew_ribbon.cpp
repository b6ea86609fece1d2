#include "look/brew_ribbon.h"

#include <algorithm>
#include <array>

#include "base/sorting.h"
#include "look/draw.h"
#include "look/frame_state.h"
#include "look/icons.h"

namespace steep {

using namespace look_state;

namespace {

constexpr double kTwilight_h = 1.4;  // The sky changes over this long around sunrise and sunset.

float x_of(const Box& box, const RibbonAxis& axis, double hour) {
  const double span = std::max(1e-9, axis.to_h - axis.from_h);
  return box.left + box.width() * static_cast<float>((hour - axis.from_h) / span);
}

/// The moments at which the sky changes, ascending: true = becomes day.
struct Change {
  double at_h;
  bool to_day;
};
std::vector<Change> changes_of(const RibbonAxis& axis) {
  std::vector<Change> out;
  for (const RibbonAxis::Sun& sun : axis.days) {
    out.push_back({sun.rise_h, true});
    out.push_back({sun.set_h, false});
  }
  sort_list(out, [](const Change& a, const Change& b) { return a.at_h < b.at_h; });
  return out;
}

void sign_in(const Box& box, float left, float right, float y, bool day) {
  left = std::max(left, box.left);
  right = std::min(right, box.right);
  if (right - left < 44) return;
  const Tokens& t = colors();
  const Color color = day ? (look().theme == Theme::Day ? t.tea : t.ink) : t.onnight;
  draw_icon({(left + right) / 2, y}, 14, day ? Icon::Sunny : Icon::Night, color);
}

void draw_sky(const Box& box, const RibbonAxis& axis, bool signs, float signs_y) {
  const Tokens& t = colors();
  const Clip clip(box);
  const std::vector<Change> changes = changes_of(axis);
  bool day = changes.empty() ? !axis.night_at_start : !changes.front().to_day;
  float from = box.left;
  float band_start = box.left;
  for (const Change& change : changes) {
    const float a = x_of(box, axis, change.at_h - kTwilight_h / 2), b = x_of(box, axis, change.at_h + kTwilight_h / 2);
    if (a > from) fill_box({from, box.top, std::min(a, box.right), box.bottom}, day ? t.sky : t.night);
    if (b > box.left && a < box.right)
      gradient_across({std::max(a, from), box.top, b, box.bottom}, day ? t.sky : t.night,
                      change.to_day ? t.sky : t.night);
    const float middle = (a + b) / 2;
    if (signs) sign_in(box, band_start, middle, signs_y, day);
    band_start = middle;
    from = std::max(from, b);
    day = change.to_day;
  }
  if (from < box.right) fill_box({from, box.top, box.right, box.bottom}, day ? t.sky : t.night);
  if (signs) sign_in(box, band_start, box.right, signs_y, day);
}

/// A ribbon as it lies on its band.
struct Ribbon {
  const Box& band;
  const RibbonAxis& axis;
  const BrewRibbon& of;
  Box box;
  bool has_window, has_end;
  float ready = 0, over = 0;  ///< Where the window opens and closes.
  Color strong;

  Ribbon(const Box& on, const RibbonAxis& at, const BrewRibbon& r, float height)
      : band(on), axis(at), of(r), has_window(r.ready_to_h > r.ready_from_h), has_end(r.use_by_h > r.start_h) {
    const float y = band.center().y;
    const float end = has_end ? x_of(band, axis, r.use_by_h) : band.right - 6;
    box = {snap(x_of(band, axis, r.start_h)), snap(y - height / 2), snap(end), snap(y + height / 2)};
    if (box.width() < 2) return;  // Nothing of it is on the band.
    const Box in = inner();
    ready = has_window ? std::clamp(x_of(band, axis, r.ready_from_h), in.left, in.right) : in.right;
    over = has_window ? std::clamp(x_of(band, axis, r.ready_to_h), ready, in.right) : in.right;
    strong = look().theme == Theme::Dusk ? colors().ink : colors().line;
  }
  Box inner() const { return box.inset(2); }
};

/// Steeping: four stops on the way to ready; without a prediction it stays as pale as it began.
void draw_steeping(const Ribbon& r) {
  const Tokens& t = colors();
  const Box inner = r.inner();
  if (r.of.planned) {
    if (r.has_window) fill_box({r.ready, inner.top, r.over, inner.bottom}, t.steep[1]);
    dashed_box(r.box, t.ink, 2, 6, 4);
    return;
  }
  if (r.has_window) {
    const std::array<float, 4> stops = {0, 0.35f, 0.75f, 1};
    const float way = r.ready - inner.left;
    for (std::size_t i = 0; i < 3; ++i)
      gradient_across({inner.left + way * stops[i], inner.top, inner.left + way * stops[i + 1], inner.bottom},
                      t.steep[i], t.steep[i + 1]);
    fill_box({r.ready, inner.top, r.over, inner.bottom}, t.steep[3]);
    if (r.over < inner.right) stripes({r.over, inner.top, inner.right, inner.bottom}, t.steep[3], t.surface, 5);
  } else {
    gradient_across(inner, t.steep[0], t.steep[1]);
  }
  edge_box(r.box, look().theme == Theme::Dusk ? t.line : t.ink, 2);
}

/// The window as an open bracket, 9 above; the end as a post.
void draw_window(const Ribbon& r) {
  if (r.has_window) {
    const float top = r.box.top - 9, a = snap(r.ready), b = snap(r.over);
    line({a, top}, {a, r.box.bottom}, r.strong, 3);
    line({b, top}, {b, r.box.bottom}, r.strong, 3);
    line({a - 1.5f, top}, {b + 1.5f, top}, r.strong, 3);
  }
  if (r.has_end) fill_box({r.box.right - 3, r.box.top - 7, r.box.right + 2, r.box.bottom + 7}, r.strong);
}

void draw_reading(const Ribbon& r, const RibbonReading& reading) {
  const Tokens& t = colors();
  const Point at{x_of(r.band, r.axis, reading.at_h), r.band.center().y};
  const Box dash = centered({at.x, at.y, at.x, at.y}, 12, 6);
  switch (reading.kind) {
    case RibbonPoint::Reading: disc(at, 6, t.surface); return ring(at, 6.5f, r.strong, 2);
    case RibbonPoint::UnderFloor: return draw_icon(at, 22, Icon::CautionDue, t.ink);
    case RibbonPoint::NotTaken: fill_box(dash, t.surface); return edge_box(dash, r.strong, 1.5f);
  }
}

void draw_event(const Ribbon& r, const RibbonEvent& event) {
  const Tokens& t = colors();
  const float x = x_of(r.band, r.axis, event.at_h), top = r.box.bottom + 5;
  const std::array<Point, 3> shape = {{{x, top}, {x + 4.5f, top + 8}, {x - 4.5f, top + 8}}};
  polygon(shape, t.surface);
  if (event.hollow)
    polyline(shape, t.ink, 1.2f, true);
  else
    polygon(shape, r.strong);
}

void draw_verdict(const Ribbon& r) {
  const Tokens& t = colors();
  const float width = text_width(TextStyle::TickStrong, r.of.verdict) + 14;
  const float middle = r.has_window ? (r.ready + r.over) / 2 : r.box.center().x;
  const float first = r.band.left + 2, last = std::max(first, r.band.right - width - 2);
  const Box chip = box_at(std::clamp(middle - width / 2, first, last), r.band.center().y - 11, width, 22);
  panel(chip, t.surface, r.of.verdict_bad ? t.beet : t.line, 2, size::kRadiusChip);
  draw_text(chip, TextStyle::TickStrong, r.of.verdict_bad ? t.beet : t.ink, r.of.verdict, Align::Center);
}

void draw_ribbon(const Box& band, const RibbonAxis& axis, const BrewRibbon& ribbon, float height) {
  const Clip clip(band.inset(-2, -14));
  const Ribbon r(band, axis, ribbon, height);
  if (r.box.width() < 2) return;
  // A halo, so that it stands off the sky.
  fill_box({r.box.left - 3, r.box.top - 3, r.has_end ? r.box.right - 1 : r.box.right + 3, r.box.bottom + 3},
           colors().surface);
  draw_steeping(r);
  draw_window(r);
  for (const RibbonReading& reading : ribbon.readings) draw_reading(r, reading);
  for (const RibbonEvent& event : ribbon.events) draw_event(r, event);
  if (!ribbon.verdict.empty()) draw_verdict(r);
}

/// Line with a triangle on top and a halo.
void now_line(const Box& band, float x) {
  const Tokens& t = colors();
  constexpr float kAbove = 1;
  const float at = snap(x);
  fill_box({at - 3.5f, band.top - kAbove, at + 3.5f, band.bottom}, t.surface);
  fill_box({at - 1.5f, band.top - kAbove, at + 1.5f, band.bottom}, t.ink);
  const std::array<Point, 3> halo = {
      {{at - 10, band.top - kAbove - 5}, {at + 10, band.top - kAbove - 5}, {at, band.top - kAbove + 9}}};
  polygon(halo, behind());
  const std::array<Point, 3> mark = {
      {{at - 7.5f, band.top - kAbove - 4}, {at + 7.5f, band.top - kAbove - 4}, {at, band.top - kAbove + 6}}};
  polygon(mark, t.ink);
}

/// Ticks below an axis; those that would touch are left out, weak ones first.
void ticks_below(const Box& band, const RibbonAxis& axis, float y, float right_limit, int most) {
  const Tokens& t = colors();
  float taken = band.left - 20;
  int count = 0;
  for (const RibbonAxis::TickMark& tick : axis.ticks) {
    const TextStyle style = tick.strong ? TextStyle::TickStrong : TextStyle::Tick;
    const float x = x_of(band, axis, tick.at_h), width = text_width(style, tick.text);
    if (x < band.left || x > band.right) continue;
    const float left = std::clamp(x - width / 2, band.left, band.right - width);
    if (left < taken + 6 || left + width > right_limit - 6 || count >= most) continue;
    line({x, band.bottom}, {x, band.bottom + 4}, t.line, 2);
    draw_text({left, y, left + width, y + line_height(TextStyle::Label)}, style, tick.strong ? t.ink : t.ink2,
              tick.text);
    taken = left + width;
    ++count;
  }
}

}  // namespace

void ribbon_figure(Pen& pen, const RibbonFigure& f) {
  const Tokens& t = colors();
  const float start = pen.y, line_high = line_height(TextStyle::Label);
  const bool has_now = f.axis.now_h >= f.axis.from_h && f.axis.now_h <= f.axis.to_h;
  const bool words_above = !f.above_left.empty() || !f.above_right.empty() || !f.now.empty();
  if (words_above) {
    const Box row = pen.take(line_high + 6);
    const float right = row.right - text_width(TextStyle::LabelStrong, f.above_right);
    float left_end = row.left;
    if (!f.above_left.empty()) {
      draw_text(row, TextStyle::Label, t.ink, f.above_left);
      left_end += text_width(TextStyle::Label, f.above_left);
    }
    draw_text(row, TextStyle::LabelStrong, t.ink, f.above_right, Align::Right);
    if (!f.now.empty() && has_now) {
      const float x = x_of(pen.here(0), f.axis, f.axis.now_h), width = text_width(TextStyle::LabelStrong, f.now);
      const float left = std::clamp(x - width - 10, left_end + 10, std::max(left_end + 10, right - width - 10));
      draw_text({left, row.top, row.right, row.bottom}, TextStyle::LabelStrong, t.ink, f.now);
    }
    pen.space(2);
  } else if (has_now) {
    pen.space(8);
  }
  const Box band = snap(pen.take(f.band));
  const float ribbon = std::clamp(f.band * 0.48f, 22.0f, 34.0f);
  draw_sky(band, f.axis, f.band >= 40, band.top + 8.5f);
  frame_end(band, size::kRadiusStrip, behind(), t.line, size::kEdgePress);
  const Box lower = f.band >= 40 ? band.moved(0, 4) : band;
  draw_ribbon(lower, f.axis, f.ribbon, ribbon);
  if (has_now) now_line(band, x_of(band, f.axis, f.axis.now_h));
  pen.space(4);
  const Box below = pen.take(line_high + 2);
  const float right = below.right - text_width(TextStyle::LabelStrong, f.below_right);
  draw_text(below, TextStyle::LabelStrong, t.ink, f.below_right, Align::Right);
  ticks_below(band, f.axis, below.top, f.below_right.empty() ? band.right + 20 : right, look().stacks() ? 2 : 9);
  add_text_item(Role::Text, f.spoken.empty() ? f.above_right : f.spoken, {pen.left, start, pen.right, pen.y});
}

}  // namespace steep
