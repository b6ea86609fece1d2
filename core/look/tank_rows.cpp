#include "look/tank_rows.h"

#include <algorithm>
#include <array>

#include "look/draw.h"
#include "look/frame_state.h"
#include "look/motion.h"

namespace steep {

using namespace look_state;

namespace {

bool is_lying() { return look().screen() == ScreenClass::Landscape; }

/// The first of these styles in which the text fits, else the last.
TextStyle fitting(std::initializer_list<TextStyle> styles, std::string_view text, float width) {
  for (const TextStyle style : styles)
    if (text_width(style, text) <= width) return style;
  return *(styles.end() - 1);
}

// ---- The loupe: texts one below the other, each answering where the next one begins ----

constexpr float kLoupeAcross = 15;

void walk_bar(const Box& box, float walked) {
  const Tokens& t = colors();
  const float share = moving(item_id("walked"), std::clamp(walked, 0.0f, 1.0f));
  fill_box(box, t.surface, 3);
  fill_box({box.left + 2, box.top + 2, box.left + 2 + (box.width() - 4) * share, box.bottom - 2}, t.leaf);
  edge_box(box, t.line, 2, 3);
}

/// Half done: how far along the bed.
void loupe_treated(const Box& box, const TankLoupe& l) {
  if (l.treated_to <= l.treated_from) return;
  const Box along{box.left + 4, box.bottom - 10, box.right - 4, box.bottom - 4};
  fill_box(
      {along.left + along.width() * l.treated_from, along.top, along.left + along.width() * l.treated_to, along.bottom},
      colors().leaf);
}

/// What stands beside the number, and in which size: the number gives way first, then the size goes below.
struct LoupeHead {
  TextStyle number, size;
  float name;        ///< Width of the number.
  bool size_beside;  ///< Else on a line of its own.
};
LoupeHead loupe_head_of(const TankLoupe& l, float room) {
  const float crop = text_width(TextStyle::Strong, l.crop);
  const auto beside = [&](TextStyle size) { return is_lying() ? crop : std::max(crop, text_width(size, l.size)); };
  LoupeHead head{TextStyle::Xl, TextStyle::Label, 0, true};
  const auto fits = [&] { return text_width(head.number, l.number) + 12 + beside(head.size) <= room; };
  if (!fits()) head.number = TextStyle::L;
  if (!fits()) head.size = TextStyle::Tick;
  head.size_beside = is_lying() || fits();
  if (!head.size_beside) head.size = TextStyle::Label;
  // A long name takes half of the width, in several lines where one is not enough.
  for (const TextStyle smaller : {TextStyle::M, TextStyle::Title, TextStyle::Strong, TextStyle::LabelStrong})
    if (text_width(head.number, l.number) > room * 0.55f) head.number = smaller;
  head.name = std::min(room * 0.55f, text_width(head.number, l.number));
  return head;
}

float loupe_head(const Box& room, const TankLoupe& l) {
  const Tokens& t = colors();
  const LoupeHead h = loupe_head_of(l, room.width());
  const Box head{room.left, room.top, room.right, room.top + line_height(TextStyle::Xl) * 0.9f};
  const float baseline = baseline_in(head, h.number), beside = room.left + h.name + 12, width = room.right - beside;
  if (text_width(h.number, l.number) <= h.name)
    draw_text_on(room.left - 2, baseline, h.number, t.ink, l.number);
  else
    draw_wrapped({room.left, room.top, room.left + h.name, head.bottom}, h.number, t.ink, l.number);
  const Box crop{beside, room.top - 1, room.right, room.top - 1 + line_height(TextStyle::Title)};
  draw_text(crop, fitting({TextStyle::Title, TextStyle::Strong, TextStyle::LabelStrong}, l.crop, width), t.ink, l.crop);
  if (is_lying()) {
    draw_text_on(beside + text_width(TextStyle::Title, l.crop) + 12, baseline_in(crop, TextStyle::Title),
                 TextStyle::Label, t.ink, l.size);
    const float below = crop.bottom + 1;
    draw_text({beside, below, room.right, below + line_height(TextStyle::Strong)}, TextStyle::Strong, t.ink, l.volume);
  } else if (h.size_beside) {
    draw_text_on(beside, baseline, fitting({TextStyle::Body, h.size}, l.size, width), t.ink, l.size);
  } else {
    const Box row{room.left, head.bottom, room.right, head.bottom + line_height(h.size)};
    draw_text(row, h.size, t.ink, l.size);
    return row.bottom + 2;
  }
  return head.bottom + 2;
}

TextStyle volume_style(const TankLoupe& l, float room) {
  return fitting({TextStyle::Strong, TextStyle::LabelStrong}, l.volume, room);
}
float volume_height(const TankLoupe& l, float room) {
  return std::max(line_height(TextStyle::Strong), wrapped_height(room, volume_style(l, room), l.volume));
}

float loupe_volume(const Box& room, const TankLoupe& l) {
  const TextStyle style = volume_style(l, room.width());
  const float high = volume_height(l, room.width());
  if (text_width(style, l.volume) <= room.width())
    draw_text(room.with_height(high), style, colors().ink, l.volume);
  else
    draw_wrapped(room.with_height(high), style, colors().ink, l.volume);
  return room.top + high + 2;
}

float loupe_walk(const Box& room, const TankLoupe& l) {
  const Tokens& t = colors();
  const float label = line_height(TextStyle::Label), middle = room.top + label / 2;
  const Box row = room.with_height(label);
  draw_text(row, TextStyle::Label, t.ink2, l.walk);
  const float from = room.left + text_width(TextStyle::Label, l.walk) + 8,
              to = room.right - text_width(TextStyle::LabelStrong, l.walk_text) - 13;
  walk_bar({from, middle - 7, to, middle + 7}, l.walked);
  draw_text(row, TextStyle::LabelStrong, t.ink, l.walk_text, Align::Right);
  return row.bottom + 6;
}

/// Lying, the walk stands at the right of the last line. Answers the room left of it.
Box loupe_walk_lying(const Box& room, const TankLoupe& l, float foot) {
  const float words = text_width(TextStyle::LabelStrong, l.walk_text), top = foot - 34;
  draw_text({room.left, top, room.right, top + 24}, TextStyle::LabelStrong, colors().ink, l.walk_text, Align::Right);
  walk_bar({room.right - words - 52, top + 5, room.right - words - 8, top + 19}, l.walked);
  return {room.left, top, room.right - words - 60, room.bottom};
}

void loupe_wait(const Box& room, const TankLoupe& l) {
  if (l.wait_text.empty()) return;
  const Tokens& t = colors();
  const float sign = 19, left = room.left + (l.wait == StripHold::None ? 0 : sign + 8);
  const float high = wrapped_height(room.right - left, TextStyle::Label, l.wait_text);
  const Box row = room.with_height(std::max(24.0f, high));
  if (l.wait != StripHold::None)
    draw_icon({room.left + sign / 2, row.center().y}, sign,
              l.wait == StripHold::NoEntry ? Icon::NoEntry : Icon::NoHarvest, t.ink);
  draw_wrapped({left, row.center().y - high / 2, row.right, row.bottom}, TextStyle::Label, t.ink, l.wait_text);
}

// ---- Rows ----

bool is_half(const TankRow& r) { return r.treated_to > r.treated_from; }

/// The stretch that is treated, within the row beside its stake.
Box treated_part(const Box& track, const TankRow& r) {
  return {track.left + track.width() * r.treated_from, track.top, track.left + track.width() * r.treated_to,
          track.bottom};
}

void draw_treated(const Box& box, const Box& track, const TankRow& r) {
  const Tokens& t = colors();
  const bool from_start = r.treated_from <= 0;
  Box part = treated_part(track, r);
  if (from_start) part.left = box.left;
  fill_box(part, t.leaf);
  const float cut = from_start ? part.right : part.left;
  dashes({cut, box.top + 2}, {cut, box.bottom - 2}, t.ink, 2.5f, 5, 4);
}

void draw_row_stake(const Box& tag, const TankRow& r) {
  const Tokens& t = colors();
  const bool done = r.state == TankRowState::Done;
  const float point = 8;
  if (done) {
    const std::array<Point, 3> edge = {
        {{tag.right - point + 1, tag.top}, {tag.right + 1, tag.center().y}, {tag.right - point + 1, tag.bottom}}};
    polyline(edge, t.surface, 3);
  } else {
    stake(tag, point, t.stake);
  }
  stake_name({tag.left, tag.top, tag.right - point * 0.5f, tag.bottom}, TextStyle::Strong, done ? t.onleaf : t.onstake,
             r.number);
}

/// The caution of a bed, seen beforehand. Answers where the crop's words have to end.
float draw_row_flag(const Box& box, const TankRow& r) {
  const float width = text_width(TextStyle::LabelStrong, r.flag) + 36;
  flag({box.right - width, box.top, box.right, box.bottom}, 9);
  draw_text({box.left, box.top, box.right - 12, box.bottom}, TextStyle::LabelStrong, colors().ondue, r.flag,
            Align::Right);
  return box.right - width;
}

/// The tank ends within this bed: the cut stands at the very place along it.
float draw_row_refill(const Box& box, const Box& track, float x, const TankRow& r) {
  const Tokens& t = colors();
  const float least = x + text_width(TextStyle::Strong, r.crop) + 14;
  const float words = 26 + 8 + text_width(TextStyle::Strong, r.refill) + 12;
  const float cut =
      std::clamp(track.left + track.width() * r.from_this_load, least, std::max(least, box.right - words - 12));
  dashes({cut, box.top + 3}, {cut, box.bottom - 3}, t.ink, 2.5f, 5, 4);
  draw_icon({cut + 22, box.center().y}, 26, Icon::WaterPump, t.ink);
  draw_text({cut + 40, box.top, box.right, box.bottom}, TextStyle::Strong, t.ink, r.refill);
  return cut;
}

float draw_row_right(const Box& box, float x, const TankRow& r) {
  const Tokens& t = colors();
  const bool done = r.state == TankRowState::Done;
  float end = box.right - 12;
  if (done) {
    draw_icon({box.right - 24, box.center().y}, 19, Icon::Tick, t.onleaf);
    end = box.right - 40;
  }
  const bool tight = text_width(TextStyle::LabelStrong, r.crop) + 8 + text_width(TextStyle::Label, r.right) > end - x;
  const TextStyle style = tight ? TextStyle::Tick : TextStyle::Label;
  const Color ink = r.state == TankRowState::Skipped ? t.ink2 : done ? t.onleaf : t.ink;
  draw_text({box.left, box.top, end, box.bottom}, style, ink, r.right, Align::Right);
  return end - text_width(style, r.right) - 6;
}

/// Between the stake and what stands at the right.
void draw_row_crop(const Box& words, const Box& track, const TankRow& r) {
  const Tokens& t = colors();
  const bool skipped = r.state == TankRowState::Skipped;
  const Color ink = r.state == TankRowState::Done ? t.onleaf : t.ink;
  const TextStyle style =
      skipped ? fitting({TextStyle::Body, TextStyle::Label, TextStyle::Tick}, r.crop, words.width())
              : fitting({TextStyle::Strong, TextStyle::LabelStrong, TextStyle::TickStrong}, r.crop, words.width());
  if (skipped) {
    draw_struck(words, style, r.crop);
  } else if (text_width(style, r.crop) > words.width()) {  // Two lines rather than a cut word.
    const float high = wrapped_height(words.width(), style, r.crop);
    draw_wrapped({words.left, words.center().y - high / 2, words.right, words.bottom}, style, ink, r.crop);
  } else if (is_half(r)) {
    draw_ink_through(words, style, ink, r.crop, treated_part(track, r), t.onleaf);
  } else {
    draw_text(words, style, ink, r.crop);
  }
}

}  // namespace

float tank_row_height() { return look().stacks() ? std::max(44.0f, line_height(TextStyle::Strong) + 18) : 44.0f; }

float tank_loupe_height(const TankLoupe& l, float width) {
  if (is_lying()) return std::max(108.0f, line_height(TextStyle::Xl) + 54);
  const bool size_below = !loupe_head_of(l, width - 2 * kLoupeAcross).size_beside;
  const float texts = volume_height(l, width - 2 * kLoupeAcross) + (size_below ? line_height(TextStyle::Label) : 0) +
                      (l.walked >= 0 ? line_height(TextStyle::Label) + 4 : 0) +
                      (l.wait_text.empty() ? 0 : wrapped_height(width - 60, TextStyle::Label, l.wait_text) + 10);
  return std::max(132.0f, line_height(TextStyle::Xl) * 0.9f + texts + 26);
}

void draw_tank_loupe(const Box& box, const TankLoupe& l) {
  panel(box, colors().surface, colors().ink, 4, size::kRadiusCard + 1);
  loupe_treated(box, l);
  Box room{box.left + kLoupeAcross, box.top + 10, box.right - kLoupeAcross, box.bottom};
  room.top = loupe_head(room, l);
  const bool walks = l.walked >= 0;
  if (is_lying()) {
    if (walks) room = loupe_walk_lying(room, l, box.bottom);
  } else {
    room.top = loupe_volume(room, l);
    if (walks) room.top = loupe_walk(room, l);
  }
  loupe_wait(room, l);
}

void draw_tank_row(const Box& box, const TankRow& r, bool down) {
  const Tokens& t = colors();
  const bool done = r.state == TankRowState::Done;
  {
    const Clip clip(box);
    fill_box(box, done ? t.leaf : down ? t.well : t.surface);
    const Box tag = box.with_width(stake_width(r.number, TextStyle::Strong, 48, box.width() * 0.4f, 18));
    const Box track{tag.right, box.top, box.right, box.bottom};
    if (is_half(r)) draw_treated(box, track, r);
    draw_row_stake(tag, r);
    const float x = tag.right + 12;
    float end = box.right - 12;
    if (!r.flag.empty())
      end = draw_row_flag(box, r);
    else if (r.from_this_load < 1 && r.from_this_load > 0 && !r.refill.empty())
      end = draw_row_refill(box, track, x, r);
    else if (!r.right.empty())
      end = draw_row_right(box, x, r);
    draw_row_crop({x, box.top, end, box.bottom}, track, r);
  }
  frame_end(box, size::kRadiusStrip, behind(), t.line, size::kEdgePress);
}

}  // namespace steep
