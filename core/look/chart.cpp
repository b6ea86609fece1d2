#include "look/chart.h"

#include <algorithm>
#include <array>

#include "base/sorting.h"
#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

constexpr double kGap_h = 12;   ///< No line between readings further apart.
constexpr float kHeight = 120;  ///< Of the plot.

struct Plot {
  Box box;
  const Chart& f;
  float x(double hour) const {
    return box.left +
           box.width() * static_cast<float>((hour - f.axis.from_h) / std::max(1e-9, f.axis.to_h - f.axis.from_h));
  }
  float y(double value) const {
    return box.bottom - box.height() * static_cast<float>((value - f.low) / std::max(1e-9, f.high - f.low));
  }
};

/// Nights as `well`.
void nights(const Plot& p) {
  struct Change {
    double at;
    bool to_day;
  };
  std::vector<Change> changes;
  for (const RibbonAxis::Sun& sun : p.f.axis.days) {
    changes.push_back({sun.rise_h, true});
    changes.push_back({sun.set_h, false});
  }
  sort_list(changes, [](const Change& a, const Change& b) { return a.at < b.at; });
  bool night = changes.empty() ? p.f.axis.night_at_start : changes.front().to_day;
  double from = p.f.axis.from_h;
  const auto shade = [&](double a, double b) {
    const float left = std::max(p.box.left, p.x(a)), right = std::min(p.box.right, p.x(b));
    if (right > left) fill_box({left, p.box.top, right, p.box.bottom}, colors().well);
  };
  for (const Change& c : changes) {
    if (night) shade(from, c.at);
    from = c.at;
    night = !c.to_day;
  }
  if (night) shade(from, p.f.axis.to_h);
}

void mark(Point at) {
  constexpr float r = 5.5f;
  disc(at, r, colors().surface);
  ring(at, r + 0.5f, colors().water, 2);
}

/// First, lowest and last carry their numbers, over or under the line, whichever side is free.
void labels(const Plot& p) {
  const auto readings = p.f.readings;
  if (readings.empty()) return;
  std::size_t lowest = 0;
  for (std::size_t i = 1; i < readings.size(); ++i)
    if (readings[i].value < readings[lowest].value) lowest = i;
  const std::size_t last = readings.size() - 1;
  std::array<std::size_t, 3> which = {0, lowest, last};
  for (std::size_t k = 0; k < 3; ++k) {
    const std::size_t i = which[k];
    if ((k == 1 && (i == 0 || i == last)) || (k == 2 && i == 0)) continue;
    const Chart::Reading& r = readings[i];
    const float width = text_width(TextStyle::LabelStrong, r.text), high = line_height(TextStyle::LabelStrong);
    const float x = std::clamp(p.x(r.at_h) - width / 2, p.box.left + 3, p.box.right - width - 3);
    float top = p.y(r.value) - 9 - high;
    // A falling line leaves the first point's lower side free; near the top edge there is no room above.
    const bool falls = k == 0 && readings.size() > 1 && readings[1].value < r.value;
    if (falls || top < p.box.top + 1) top = p.y(r.value) + 8;
    if (top + high > p.box.bottom - 1) top = p.y(r.value) - 9 - high;
    draw_text({x, top, x + width, top + high}, TextStyle::LabelStrong, colors().ink, r.text);
  }
}

/// The figure that readings are held against: its line, the side below hatched, its name on a chip.
void draw_figure(const Plot& p) {
  const Tokens& t = colors();
  const Chart& f = p.f;
  const float y = p.y(f.figure);
  hatch({p.box.left, y, p.box.right, p.box.bottom}, t.ink2);
  dashes({p.box.left, y}, {p.box.right, y}, t.line, 2, 5, 3);
  const float width = text_width(TextStyle::TickStrong, f.figure_text) + 10,
              high = line_height(TextStyle::TickStrong) + 4;
  const float top = std::clamp(y + 6, p.box.top + 2, p.box.bottom - high - 2);
  const Box chip = box_at(p.box.left + 6, top, width, high);
  fill_box(chip, t.surface, 3);
  draw_text(chip, TextStyle::TickStrong, t.ink, f.figure_text, Align::Center);
}

/// From reading to reading; nothing where none was taken for long.
void draw_course(const Plot& p) {
  for (std::size_t i = 1; i < p.f.readings.size(); ++i) {
    const Chart::Reading &a = p.f.readings[i - 1], &b = p.f.readings[i];
    if (b.at_h - a.at_h >= kGap_h) continue;
    const std::array<Point, 2> ends = {{{p.x(a.at_h), p.y(a.value)}, {p.x(b.at_h), p.y(b.value)}}};
    polyline(ends, colors().water, 2.2f);
  }
}

/// What lies within the plot's edge.
void draw_inside(const Plot& p) {
  const Tokens& t = colors();
  const Chart& f = p.f;
  const Clip clip(p.box);
  nights(p);
  for (const Chart::Grid& g : f.grid)
    line({p.box.left, p.y(g.value)}, {p.box.right, p.y(g.value)}, t.rule, size::kEdgeTable);
  if (f.has_figure) draw_figure(p);
  draw_course(p);
  if (f.axis.now_h > f.axis.from_h && f.axis.now_h < f.axis.to_h)
    line({p.x(f.axis.now_h), p.box.top}, {p.x(f.axis.now_h), p.box.bottom}, t.ink, 2);
  labels(p);
}

void draw_marks(const Plot& p) {
  const Chart& f = p.f;
  for (const Chart::Reading& r : f.readings) {
    const bool on_axis = r.at_h >= f.axis.from_h && r.at_h <= f.axis.to_h;
    if (on_axis && r.value >= f.low && r.value <= f.high) mark({p.x(r.at_h), p.y(r.value)});
  }
}

std::string spoken_chart(const Chart& f) {
  if (!f.spoken.empty()) return std::string(f.spoken);
  if (f.readings.empty()) return spoken({f.title, f.figure_text});
  return spoken({f.title, f.readings.front().text, f.readings.back().text, f.figure_text});
}

}  // namespace

void chart(Pen& pen, const Chart& f) {
  const Tokens& t = colors();
  const float start = pen.y;
  if (!f.title.empty()) {
    draw_text(pen.take(line_height(TextStyle::LabelStrong) + 2), TextStyle::LabelStrong, t.ink, f.title);
    pen.space(4);
  }
  const float half_tick = line_height(TextStyle::Tick) / 2;
  float axis_words = 0;
  for (const Chart::Grid& g : f.grid) axis_words = std::max(axis_words, text_width(TextStyle::Tick, g.text));
  pen.space(half_tick - 4);
  const Box whole = pen.take(kHeight);
  const Plot p{snap(Box{whole.left + axis_words + 8, whole.top, whole.right - 2, whole.bottom}), f};
  fill_box(p.box, t.surface);
  draw_inside(p);
  edge_box(p.box, t.line, 1.5f);
  draw_marks(p);
  for (const Chart::Grid& g : f.grid) {
    const float y = p.y(g.value);
    draw_text({whole.left, y - half_tick, p.box.left - 7, y + half_tick}, TextStyle::Tick, t.ink, g.text, Align::Right);
  }
  pen.space(half_tick);
  add_text_item(Role::Text, spoken_chart(f), {pen.left, start, pen.right, pen.y});
  pen.space(6);
}

}  // namespace steep
