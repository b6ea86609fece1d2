#include "look/bed_strip.h"

#include <algorithm>
#include <vector>

#include "look/button.h"
#include "look/draw.h"
#include "look/frame_state.h"
#include "look/icons.h"
#include "look/motion.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kStake = 60, kPoint = 10, kGap = 3, kEnd = 112, kTapeOne = 8, kTapeBoth = 7, kNotch = 10;

/// The strictest hold of the whole bed: it decides the tape where no stretch says otherwise.
StripHold worst(const BedStrip& strip) {
  StripHold hold = strip.hold;
  for (const StripStretch& s : strip.stretches) hold = std::max(hold, s.hold);
  return hold;
}

struct Layout {
  Box strip;  ///< Outline.
  Box body;   ///< Between stake and end cell, without tape.
  Box end;    ///< Empty when there is none or it lies below.
  float stake_right;
  bool end_below;
};

Layout layout_of(const Box& box, const BedStrip& strip) {
  Layout l{};
  const bool has_end = strip.end != StripEnd::None;
  l.end_below = has_end && look().end_cell_below();
  l.strip = snap(box);
  if (l.end_below) l.strip.bottom = snap(box.top + box.height() * 0.58f);
  const float stake = stake_width(strip.number, TextStyle::Button, kStake, l.strip.width() * 0.36f);
  l.stake_right = snap(l.strip.left + stake);
  const StripHold hold = worst(strip);
  const float above = hold == StripHold::NoEntry ? kTapeBoth + 2 : 0;
  const float below = hold == StripHold::NoEntry ? kTapeBoth + 2 : hold == StripHold::NoHarvest ? kTapeOne + 2 : 0;
  // The end cell takes what its words need, at least 112 (less on a very narrow strip).
  const float words =
      std::max(text_width(TextStyle::Strong, strip.end_first), text_width(TextStyle::Label, strip.end_second)) + 14;
  const float sign = strip.end == StripEnd::Hold   ? 38
                     : strip.end == StripEnd::Late ? 42
                     : strip.end == StripEnd::Due  ? 22
                                                   : 12;
  const float end = has_end && !l.end_below ? std::min(std::max(std::min(kEnd, l.strip.width() * 0.31f), words + sign),
                                                       l.strip.width() * 0.5f)
                                            : 0;
  l.body = {l.stake_right - kPoint, l.strip.top + above, snap(l.strip.right - end), l.strip.bottom - below};
  if (l.end_below)
    l.end = {l.strip.left, l.strip.bottom, l.strip.right, box.bottom};
  else if (has_end)
    l.end = {l.body.right, l.body.top, l.strip.right, l.body.bottom};
  return l;
}

/// Stretches to draw: the given ones, or the whole bed as one.
std::span<const StripStretch> stretches_of(const BedStrip& strip, StripStretch& whole) {
  if (!strip.stretches.empty()) return strip.stretches;
  whole = {0, 1, strip.fill, strip.hold};
  return {&whole, 1};
}

float place(const Box& track, float share) { return track.left + track.width() * share; }

/// Fill of one stretch, from its left end.
Box fill_of(const Box& track, const StripStretch& s, float fill) {
  const float left = place(track, s.from), width = track.width() * (s.to - s.from) * std::clamp(fill, 0.0f, 1.0f);
  return {s.from <= 0 ? track.left - kStake : left, track.top, left + width, track.bottom};
}

void draw_notches(const Box& track, int days, std::span<const StripStretch> stretches, float edge) {
  const Tokens& t = colors();
  if (days <= 0) return;
  const int marks = days <= 21 ? days : days / 7;
  const float step = days <= 21 ? 1.0f / static_cast<float>(days) : 7.0f / static_cast<float>(days);
  for (int i = 1; i < marks + (days <= 21 ? 0 : 1); ++i) {
    const float share = step * static_cast<float>(i), x = snap(place(track, share));
    if (share >= 0.995f) continue;
    bool on_fill = false;
    for (const StripStretch& s : stretches) {
      const Box fill = fill_of(track, s, s.fill);
      on_fill = on_fill || (s.fill > 0 && x >= fill.left && x < fill.right);
    }
    fill_box({x - 1, track.bottom - edge - 5, x + 1, track.bottom - edge}, on_fill ? t.onleaf : t.rule);
  }
}

void draw_tapes(const Layout& l, StripHold hold) {
  const Tokens& t = colors();
  if (hold == StripHold::None) return;
  const Box inner = l.strip.inset(1);
  if (hold == StripHold::NoEntry) {
    tape({inner.left, inner.top, inner.right, l.body.top - 2});
    line({inner.left, l.body.top - 1}, {inner.right, l.body.top - 1}, t.line, 2);
  }
  tape({inner.left, l.body.bottom + 2, inner.right, inner.bottom});
  line({inner.left, l.body.bottom + 1}, {inner.right, l.body.bottom + 1}, t.line, 2);
}

void end_words(const Box& cell, const BedStrip& strip, Color color, Color strong) {
  const float one = line_height(TextStyle::Strong) - 2, right = cell.right - 11;
  const bool two = !strip.end_second.empty() && !strip.end_first.empty();
  const float top = cell.center().y - (two ? one : one / 2);
  if (!strip.end_first.empty())
    draw_text({cell.left, top, right, top + one}, TextStyle::Strong, strong, strip.end_first, Align::Right);
  if (!strip.end_second.empty()) {
    const float y = strip.end_first.empty() ? top : top + one;
    draw_text({cell.left, y, right, y + one}, TextStyle::Label, color, strip.end_second, Align::Right);
  }
}

void draw_end(const Layout& l, const BedStrip& strip) {
  const Tokens& t = colors();
  if (l.end.empty()) return;
  const Box cell = l.end;
  const float y = cell.center().y;
  switch (strip.end) {
    case StripEnd::None: return;
    case StripEnd::Plain:
      if (!l.end_below) line({cell.left, cell.top}, {cell.left, cell.bottom}, t.line, 2);
      return end_words(cell, strip, t.ink, t.ink);
    case StripEnd::Due:
    case StripEnd::Late:
      if (l.end_below)
        fill_box(cell, t.due);
      else
        flag({cell.left - 2, cell.top, cell.right, cell.bottom}, kNotch);
      if (strip.end == StripEnd::Late) {
        const int count = std::clamp(strip.late_days, 1, 3);
        chevrons({cell.left + (l.end_below ? 12.0f : kNotch + 6), y}, count, std::min(22.0f, cell.height() * 0.42f),
                 t.ondue);
      }
      return end_words(cell, strip, t.ondue, t.ondue);
    case StripEnd::Hold: {
      if (!l.end_below) line({cell.left, cell.top}, {cell.left, cell.bottom}, t.line, 2);
      const float size = std::min(22.0f, cell.height() - 6);
      draw_icon({cell.left + 10 + size / 2, y}, size,
                worst(strip) == StripHold::NoEntry ? Icon::NoEntry : Icon::NoHarvest, t.ink);
      return end_words(cell, strip, t.ink, t.beet);
    }
  }
}

/// Words of one line that fit: smaller where that helps; else facts are left out from the end, which the bed's page has.
struct Fitted {
  std::string_view text;
  TextStyle style;
};
Fitted fitting_words(std::string_view text, TextStyle style, float room) {
  if (text_width(style, text) <= room) return {text, style};
  style = style == TextStyle::Strong ? TextStyle::LabelStrong : TextStyle::Tick;
  for (const std::string_view between : {" · ", ", "})
    while (text_width(style, text) > room && text.rfind(between) != std::string_view::npos)
      text = text.substr(0, text.rfind(between));
  return {text, style};
}

/// Numbers of stretches that differ part the bed by dashed cut lines.
void draw_cuts(const Box& track, std::span<const StripStretch> stretches, Color on, Color off) {
  for (std::size_t i = 1; i < stretches.size(); ++i) {
    const float x = place(track, stretches[i].from);
    const bool filled = stretches[i - 1].fill >= 0.999f && stretches[i].fill > 0;
    dashes({x, track.top + 1}, {x, track.bottom - 1}, filled ? on : off, 2, 4, 3);
  }
}

/// What is filled, in `leaf`; `motion_id` 0: at once, else its ends glide to where they belong.
std::vector<Box> draw_fills(const Box& track, std::span<const StripStretch> parts, std::uint32_t motion_id) {
  std::vector<Box> fills;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    float fill = std::max(0.0f, parts[i].fill);
    if (motion_id != 0) fill = moving(motion_id + static_cast<std::uint32_t>(i), fill);
    if (fill <= 0) continue;
    fills.push_back(fill_of(track, parts[i], fill));
    fill_box(fills.back(), colors().leaf);
  }
  return fills;
}

/// In ink everywhere, then in the fill's own color through the fill.
void draw_through(const Box& row, const Fitted& words, std::span<const Box> fills) {
  draw_text(row, words.style, colors().ink, words.text);
  for (const Box& fill : fills) {
    const Clip through(fill);
    if (!clip_box().empty()) draw_text(row, words.style, colors().onleaf, words.text);
  }
}

/// One or two lines on the track. `tight`: on strips that are not high.
void draw_words(const Layout& l, const BedStrip& strip, float left, bool tight, std::span<const Box> fills) {
  const StripHold hold = worst(strip);
  const bool two = !strip.second.empty();
  const float one = line_height(TextStyle::Strong) - (tight ? 3.0f : 1.0f);
  // Notches and the tape below lift them.
  const float lift = hold == StripHold::NoEntry || strip.interval_days == 0 ? 0 : hold == StripHold::NoHarvest ? 3 : 2;
  const float top = l.body.center().y - lift - (two ? one : one / 2);
  const float room = l.body.right - left - (strip.question ? 28 : 4);
  draw_through({left, top, l.body.right, top + one}, fitting_words(strip.first, TextStyle::Strong, room), fills);
  if (two)
    draw_through({left, top + one, l.body.right, top + 2 * one}, fitting_words(strip.second, TextStyle::Label, room),
                 fills);
}

/// With its gap of surface.
void draw_stake(const Layout& l, std::string_view number) {
  const Tokens& t = colors();
  const Clip body(Box{l.strip.left, l.body.top, l.strip.right, l.body.bottom});
  stake({l.strip.left, l.body.top, l.stake_right + kGap, l.body.bottom}, kPoint, t.surface);
  stake({l.strip.left, l.body.top, l.stake_right, l.body.bottom}, kPoint, t.stake);
  stake_name({l.strip.left, l.body.top, l.stake_right - kPoint * 0.6f, l.body.bottom}, TextStyle::Button, t.onstake,
             number);
}

}  // namespace

float bed_strip_height(float, const BedStrip& strip, bool tall) {
  const float body = tall              ? std::max(kStripTall, 2 * line_height(TextStyle::Strong) + 26)
                     : look().stacks() ? std::max(74.0f, 2 * line_height(TextStyle::Strong) + 14)
                                       : kStripHeight;
  return look().end_cell_below() && strip.end != StripEnd::None ? body / 0.58f : body;
}

void draw_bed_strip(const Box& box, const BedStrip& strip, Color behind, std::uint32_t motion_id) {
  const Tokens& t = colors();
  if (!is_visible(box)) return;
  const Layout l = layout_of(box, strip);
  const StripHold hold = worst(strip);
  StripStretch whole;
  const std::span<const StripStretch> parts = stretches_of(strip, whole);
  const Clip clip(box);
  fill_box(box, t.surface);
  // The track is the bed's length: from the stake's point to the end cell.
  const Box track{l.stake_right + kGap, l.body.top, l.body.right, l.body.bottom};
  {
    const Clip body(Box{l.strip.left, l.body.top, l.body.right, l.body.bottom});
    const std::vector<Box> fills = draw_fills(track, parts, motion_id);
    if (hold != StripHold::NoEntry)
      draw_notches(track, strip.interval_days, parts, hold == StripHold::None ? 2.0f : 0.0f);
    draw_cuts(track, parts, t.onleaf, t.ink);
    draw_words(l, strip, track.left + 8, box.height() < 70, fills);
    if (strip.question) draw_icon({l.body.right - 16, l.body.center().y}, 20, Icon::Question, t.ink);
  }
  draw_stake(l, strip.number);
  draw_tapes(l, hold);
  draw_end(l, strip);
  if (l.end_below) line({box.left, l.strip.bottom}, {box.right, l.strip.bottom}, t.line, 2);
  frame_end(box, size::kRadiusStrip, behind, t.line, size::kEdgePress);
}

bool bed_strip(Pen& pen, std::string_view id, const BedStrip& strip, std::string_view name) {
  const Box box = pen.take(bed_strip_height(pen.width(), strip));
  const Box pitch{box.left, box.top - size::kTouchGap / 2, box.right, box.bottom + size::kTouchGap / 2};
  pen.space(size::kTouchGap);
  const std::uint32_t own = item_id(id);
  const Press hit = press({.id = own, .role = Role::Row, .name = name}, pitch);
  draw_bed_strip(box, strip, behind(), own ^ 0xF111u);
  if (hit.down) edge_box(box, colors().ink, 4, size::kRadiusStrip);
  if (hit.focused) focus_ring(box, size::kRadiusStrip);
  return hit.pressed;
}

void draw_mini_strip(const Box& box, const BedStrip& strip, Color behind) {
  const Tokens& t = colors();
  const Box b = snap(box);
  const StripHold hold = worst(strip);
  StripStretch whole;
  const std::span<const StripStretch> parts = stretches_of(strip, whole);
  const float tape_height = 6;
  Box body = b;
  fill_box(b, t.surface);
  if (hold == StripHold::NoEntry) body.top += tape_height + 1;
  if (hold != StripHold::None) body.bottom -= tape_height + 1;
  {
    const Clip clip(body);
    for (const StripStretch& s : parts)
      if (s.fill > 0)
        fill_box({place(b, s.from), body.top, place(b, s.from) + b.width() * (s.to - s.from) * std::min(1.0f, s.fill),
                  body.bottom},
                 t.leaf);
    for (std::size_t i = 1; i < parts.size(); ++i) {
      const float x = place(b, parts[i].from);
      dashes({x, body.top + 1}, {x, body.bottom - 1}, t.ink, 1.5f, 3, 2);
    }
    if (strip.end == StripEnd::Due || strip.end == StripEnd::Late)
      flag({b.right - 36, body.top, b.right, body.bottom}, 7);
  }
  if (hold == StripHold::NoEntry) {
    tape({b.left, b.top, b.right, body.top - 1});
    line({b.left, body.top - 0.5f}, {b.right, body.top - 0.5f}, t.line, 1);
  }
  if (hold != StripHold::None) {
    tape({b.left, body.bottom + 1, b.right, b.bottom});
    line({b.left, body.bottom + 0.5f}, {b.right, body.bottom + 0.5f}, t.line, 1);
  }
  frame_end(b, 3, behind, t.line, 1.5f);
}

int strip_offer(Pen& pen, const StripOffer& offer) {
  const IdScope scope(offer.id);
  return buttons(pen, {{.id = "other", .text = offer.other_half}, {.id = "feet", .text = offer.feet}});
}

}  // namespace steep
