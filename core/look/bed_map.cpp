#include "look/bed_map.h"

#include <algorithm>
#include <array>

#include "look/button.h"
#include "look/draw.h"
#include "look/frame_state.h"
#include "look/icons.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kStripWide = 20, kPitch = 25, kStakeHigh = 22, kHeadHigh = 26, kBlockGap = 30, kRowGap = 14,
                kMostZoom = 6;

/// How the blocks lie at zoom 1: in rows, left to right, each in the first row that has room for it.
struct Spot {
  Box box;
  float strip_area = 0;     ///< Height of one row of strips.
  std::size_t per_row = 1;  ///< Beds side by side; a long block stands in several rows on a phone.
  float row_pitch = 0;
};
struct MapRow {
  float right = 0;  ///< Of its blocks.
  float high = 0;
};
struct Plan {
  std::vector<Spot> spots;
  float width = 0, height = 0, dp_per_m = 1, pitch = kPitch;
};

float longest(const MapBlock& block) {
  float most = 0;
  for (const MapBed& bed : block.beds) most = std::max(most, bed.length_m);
  return most;
}

Plan plan_of(float width, std::span<const MapBlock> blocks) {
  Plan plan;
  float most = 1;
  for (const MapBlock& b : blocks) most = std::max(most, longest(b));
  plan.dp_per_m = 100 / most;  // The longest bed stands 100 high.
  plan.pitch = kPitch;
  std::vector<MapRow> rows_of_blocks;
  std::vector<std::size_t> row_of_spot;
  for (const MapBlock& b : blocks) {
    const float area = std::max(40.0f, longest(b) * plan.dp_per_m);
    const float pad = b.covered ? 16 : 0;
    const auto room = static_cast<std::size_t>(std::max(1.0f, (width - 2 * pad) / kPitch));
    const std::size_t beds = std::max<std::size_t>(1, b.beds.size()), rows = (beds + room - 1) / room;
    const std::size_t per_row = (beds + rows - 1) / rows;
    const float row_pitch = area + kStakeHigh + 10;
    const float head = text_width(TextStyle::LabelStrong, b.name) + 10 + text_width(TextStyle::Tick, b.note);
    const float wide = std::max(plan.pitch * static_cast<float>(per_row), std::min(head, width - 2 * pad)) + 2 * pad;
    const float high =
        kHeadHigh + row_pitch * static_cast<float>(rows) - 6 + (b.covered ? 22 : 0) + (b.zero_end.empty() ? 0 : 16);
    auto row = std::find_if(rows_of_blocks.begin(), rows_of_blocks.end(),
                            [&](const MapRow& r) { return r.right + kBlockGap + wide <= width; });
    if (row == rows_of_blocks.end()) row = rows_of_blocks.insert(row, MapRow{-kBlockGap, 0});
    row_of_spot.push_back(static_cast<std::size_t>(row - rows_of_blocks.begin()));
    plan.spots.push_back({box_at(row->right + kBlockGap, 0, wide, high), area, per_row, row_pitch});
    row->right += kBlockGap + wide;
    row->high = std::max(row->high, high);
    plan.width = std::max(plan.width, row->right);
  }
  float y = 0;
  for (std::size_t i = 0; i < rows_of_blocks.size(); ++i) {
    for (std::size_t spot = 0; spot < plan.spots.size(); ++spot)
      if (row_of_spot[spot] == i) plan.spots[spot].box = plan.spots[spot].box.moved(0, y);
    y += rows_of_blocks[i].high + kRowGap;
  }
  plan.height = std::max(0.0f, y - kRowGap) + 12;
  // Room for the buttons where they would lie on beds.
  if (!rows_of_blocks.empty() && rows_of_blocks.back().right > width - 2 * size::kTouch - size::kTouchGap - 16)
    plan.height += size::kTouch + 4;
  return plan;
}

StripHold worst(const MapBed& bed) {
  StripHold hold = bed.hold;
  for (const StripStretch& s : bed.stretches) hold = std::max(hold, s.hold);
  return hold;
}

void small_stake(const Box& box, std::string_view number) {
  const Tokens& t = colors();
  const float point = std::min(5.0f, box.height() * 0.25f), middle = box.center().x;
  const std::array<Point, 5> shape = {{{box.left, box.top + point},
                                       {middle, box.top},
                                       {box.right, box.top + point},
                                       {box.right, box.bottom},
                                       {box.left, box.bottom}}};
  polygon(shape, t.stake);
  const TextStyle style =
      text_width(TextStyle::TickStrong, number) <= box.width() ? TextStyle::TickStrong : TextStyle::Tick;
  if (text_width(style, number) <= box.width() + 2)
    draw_text({box.left, box.top + point * 0.6f, box.right, box.bottom}, style, t.onstake, number, Align::Center);
}

}  // namespace

void draw_upright_strip(const Box& box, const MapBed& bed, Color ground) {
  const Tokens& t = colors();
  const Box b = snap(box);
  const StripHold hold = worst(bed);
  const float tape_wide = std::clamp(b.width() * 0.32f, 3.0f, 7.0f);
  Box body = b;
  if (hold == StripHold::NoEntry) body.left += tape_wide + 1;
  if (hold != StripHold::None) body.right -= tape_wide + 1;
  fill_box(b, t.surface);
  StripStretch whole{0, 1, bed.fill, bed.hold};
  const std::span<const StripStretch> parts =
      bed.stretches.empty() ? std::span<const StripStretch>(&whole, 1) : bed.stretches;
  const auto y_of = [&](float share) { return b.bottom - b.height() * share; };
  for (const StripStretch& s : parts)
    if (s.fill > 0)
      fill_box({body.left, y_of(s.from + (s.to - s.from) * std::min(1.0f, s.fill)), body.right, y_of(s.from)}, t.leaf);
  for (std::size_t i = 1; i < parts.size(); ++i)
    dashes({body.left, y_of(parts[i].from)}, {body.right, y_of(parts[i].from)}, t.ink, 1.5f, 2, 2);
  if (hold == StripHold::NoEntry) {
    tape({b.left, b.top, body.left - 1, b.bottom}, true);
    fill_box({body.left - 1, b.top, body.left, b.bottom}, t.line);
  }
  if (hold != StripHold::None) {
    tape({body.right + 1, b.top, b.right, b.bottom}, true);
    fill_box({body.right, b.top, body.right + 1, b.bottom}, t.line);
  }
  if (bed.due && hold == StripHold::None) {  // The flag hangs from the top, its foot pointed.
    const float high = std::min(b.height() * 0.4f, b.width() * 1.7f), point = b.width() * 0.4f;
    const std::array<Point, 5> shape = {{{b.left, b.top},
                                         {b.right, b.top},
                                         {b.right, b.top + high - point},
                                         {b.center().x, b.top + high},
                                         {b.left, b.top + high - point}}};
    polygon(shape, t.due);
    const std::array<Point, 3> edge = {{shape[2], shape[3], shape[4]}};
    polyline(edge, t.line, 1.5f);
    for (int i = 0; i < std::min(bed.late_days, 3); ++i) {
      const float y = b.top + 5 + static_cast<float>(i) * b.width() * 0.3f, arm = b.width() * 0.22f;
      const std::array<Point, 3> mark = {{{b.center().x - arm, y}, {b.center().x, y + arm}, {b.center().x + arm, y}}};
      polyline(mark, t.ondue, 1.8f);
    }
  }
  frame_end(b, 3, ground, t.line, b.width() < 14 ? 1.0f : 1.5f);
  if (bed.question) draw_icon({b.center().x, b.top + b.width() * 0.75f}, b.width() * 0.95f, Icon::Question, t.ink);
}

float bed_map_height(float width, std::span<const MapBlock> blocks) { return plan_of(width, blocks).height; }

namespace {

/// The map as it lies in its box now.
struct MapView {
  Box box;
  const Plan& plan;
  MapPlace& place;
  float fit = 1;  ///< Zoom 1 to dp: the whole map is seen then.
  Color ground;

  float scale() const { return place.zoom * fit; }
  Box put(const Box& b) const {
    const Point at{box.left + place.shift.x, box.top + place.shift.y};
    return {at.x + b.left * scale(), at.y + b.top * scale(), at.x + b.right * scale(), at.y + b.bottom * scale()};
  }
  void zoom_around(float factor, Point at) {
    const float before = place.zoom;
    place.zoom = std::clamp(place.zoom * factor, 1.0f, kMostZoom);
    const float real = place.zoom / before;
    place.shift.x = at.x - box.left - (at.x - box.left - place.shift.x) * real;
    place.shift.y = at.y - box.top - (at.y - box.top - place.shift.y) * real;
  }
  void follow_finger() {
    const Drag drag = take_drags(item_id("map"), box);
    if (drag.pinch != 1) zoom_around(drag.pinch, drag.pinch_at);
    if (drag.active) place.shift = place.shift + drag.by;
    place.shift.x = std::clamp(place.shift.x, std::min(0.0f, box.width() - plan.width * scale()), 0.0f);
    place.shift.y = std::clamp(place.shift.y, std::min(0.0f, box.height() - plan.height * scale()), 0.0f);
  }
};

/// Where a bed's strip and stake stand, and what a finger may hit for it.
struct BedBoxes {
  Box strip, tag, target;
};

BedBoxes boxes_of(const MapView& map, const Spot& spot, const MapBlock& block, std::size_t bed) {
  const float scale = map.scale(), wide = kStripWide * scale;
  const Box area = map.put(spot.box);
  const float first_foot = area.top + (block.covered ? 6 * scale : 0) + (kHeadHigh + spot.strip_area) * scale;
  const float foot = first_foot + spot.row_pitch * scale * static_cast<float>(bed / spot.per_row);
  const float x =
      area.left + (block.covered ? 16 * scale : 0) + map.plan.pitch * scale * static_cast<float>(bed % spot.per_row);
  BedBoxes at;
  at.strip = {x, foot - block.beds[bed].length_m * map.plan.dp_per_m * scale, x + wide, foot};
  at.tag = {x, foot + 2, x + wide, foot + kStakeHigh * std::min(1.3f, scale)};
  // A finger gets the whole pitch and the stake; where beds lie closer than 48 it zooms in first.
  at.target = {x - 1, at.strip.top, x + map.plan.pitch * scale - 1, at.tag.bottom};
  return at;
}

/// Ground, name and note of a block, its zero end and the water below it.
void draw_block_ground(const MapView& map, const Spot& spot, const MapBlock& block) {
  const Tokens& t = colors();
  const float scale = map.scale();
  const Box area = map.put(spot.box);
  if (block.covered) {
    fill_box(area, map.ground, 14);
    dashed_box(area, t.rule, 1.5f, 6, 4);
  }
  const float head_top = area.top + (block.covered ? 6 * scale : 0);
  const Box head{area.left + (block.covered ? 16 * scale : 0), head_top, area.right,
                 head_top + kHeadHigh * std::clamp(scale, 0.7f, 1.2f)};
  draw_text(head, TextStyle::LabelStrong, t.ink, block.name);
  const float after_name = head.left + text_width(TextStyle::LabelStrong, block.name) + 10;
  draw_text({after_name, head.top, head.right, head.bottom}, TextStyle::Tick, t.ink2, block.note);
  add_text_item(Role::Heading, spoken({block.name, block.note}), head);
  if (!block.zero_end.empty()) {
    const float y = area.bottom - (block.covered ? 24 : 16) * scale;
    draw_text({head.left, y, area.right, y + 14}, TextStyle::Tick, t.ink2, block.zero_end);
  }
}

/// Closer, farther, whole: only where zooming shows more, or to come back from it.
void zoom_buttons(MapView& map, Point around) {
  const bool close_set = map.plan.pitch * map.fit < 40;
  const bool zoomed = map.place.zoom > 1;
  if (!close_set && !zoomed) return;
  const Words& words = look_words();
  const Box& box = map.box;
  const bool left_handed = look().left_handed;
  const float side = size::kTouch, gap = size::kTouchGap, top = box.bottom - side - 8;
  const float right = left_handed ? box.left + 3 * side + 2 * gap + 8 : box.right - 8;
  if (icon_button(box_at(right - side, top, side, side), "closer", Icon::Plus, words("look.zoom_in"_w), true,
                  map.place.zoom < kMostZoom))
    map.zoom_around(1.6f, around);
  if (icon_button(box_at(right - 2 * side - gap, top, side, side), "farther", Icon::Minus, words("look.zoom_out"_w),
                  true, zoomed))
    map.zoom_around(1 / 1.6f, box.center());
  if (!zoomed) return;
  const std::string whole = words("look.whole"_w);
  const float wide = text_width(TextStyle::SmallButton, whole) + 28;
  const float left = left_handed ? right + gap : right - 2 * side - 2 * gap - wide;
  if (button(box_at(left, top, wide, side), {.id = "whole", .text = whole})) map.place = {};
}

}  // namespace

MapPick bed_map(const Box& box, std::string_view id, std::span<const MapBlock> blocks, MapPick picked,
                MapPlace& place) {
  const IdScope scope(id);
  const Plan plan = plan_of(box.width(), blocks);
  MapView map{box, plan, place, std::min(1.0f, box.height() / std::max(1.0f, plan.height)), behind()};
  map.follow_finger();

  MapPick out;
  Box ring_at;
  {
    const Clip clip(box);
    for (std::size_t bi = 0; bi < blocks.size(); ++bi) {
      const MapBlock& block = blocks[bi];
      draw_block_ground(map, plan.spots[bi], block);
      for (std::size_t i = 0; i < block.beds.size(); ++i) {
        const MapBed& bed = block.beds[i];
        const BedBoxes at = boxes_of(map, plan.spots[bi], block, i);
        const MapPick this_bed{static_cast<int>(bi), static_cast<int>(i)};
        const bool is_picked = picked.block == this_bed.block && picked.bed == this_bed.bed;
        const IdScope bed_scope(block.name, static_cast<std::int64_t>(i));
        const std::string name = spoken_or(bed.spoken, {block.name, bed.number});
        const Press hit = press({.id = item_id("bed"), .role = Role::Row, .name = name, .on = is_picked}, at.target);
        if (hit.pressed) out = this_bed;
        if (!is_visible({at.strip.left, at.strip.top, at.strip.right, at.tag.bottom})) continue;
        draw_upright_strip(at.strip, bed, map.ground);
        small_stake(at.tag, bed.number);
        if (is_picked) ring_at = at.strip;
        if (hit.focused) focus_ring(at.strip, 3);
      }
    }
  }
  if (!ring_at.empty()) {
    const Clip clip(box.inset(-8));  // Around a bed at the map's very edge, too.
    edge_box(ring_at.inset(-3), map.ground, 2, 5);
    edge_box(ring_at.inset(-6), colors().ink, 3, 7);
  }
  zoom_buttons(map, ring_at.empty() ? box.center() : ring_at.center());
  return out;
}

}  // namespace steep
