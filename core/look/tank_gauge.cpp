#include "look/tank_gauge.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "look/draw.h"
#include "look/frame_state.h"
#include "look/motion.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kTank = 64, kToList = 14, kRowGap = 4, kWall = 3, kSump = 16;

float row_height() { return look().stacks() ? std::max(44.0f, line_height(TextStyle::Strong) + 18) : 44.0f; }
float loupe_height(const TankLoupe& l, float width) {
  const bool lying = look().screen() == ScreenClass::Landscape;
  const float texts = line_height(TextStyle::Strong) + (l.walked >= 0 ? line_height(TextStyle::Label) + 4 : 0) +
                      (l.wait_text.empty() ? 0 : wrapped_height(width - 60, TextStyle::Label, l.wait_text) + 10);
  const float natural = line_height(TextStyle::Xl) * 0.9f + texts + 26;
  return lying ? std::max(108.0f, line_height(TextStyle::Xl) + 54) : std::max(132.0f, natural);
}

struct Place {
  Box row;
  bool drawn = false;
};

/// Where rows lie; rows that don't fit are not drawn.
std::vector<Place> places_of(const Box& list, const TankGauge& g, float height) {
  std::vector<Place> out;
  float y = list.top;
  for (const TankRow& row : g.rows) {
    const float high = row.state == TankRowState::Current ? loupe_height(g.loupe, list.width()) : row_height();
    const bool fits = height <= 0 || y + high <= list.top + height;
    out.push_back({{list.left, y, list.right, y + high}, fits});
    if (!fits) break;
    y += high + kRowGap;
  }
  return out;
}

void walk_bar(const Box& box, float walked, std::uint32_t motion) {
  const Tokens& t = colors();
  const float share = moving(motion, std::clamp(walked, 0.0f, 1.0f));
  fill_box(box, t.surface, 3);
  fill_box({box.left + 2, box.top + 2, box.left + 2 + (box.width() - 4) * share, box.bottom - 2}, t.leaf);
  edge_box(box, t.line, 2, 3);
}

void draw_loupe(const Box& box, const TankLoupe& l, bool down) {
  const Tokens& t = colors();
  panel(box, down ? t.well : t.surface, t.ink, 4, size::kRadiusCard + 1);
  const bool lying = look().screen() == ScreenClass::Landscape;
  const float across = 15, x = box.left + across, right = box.right - across;
  if (l.treated_to > l.treated_from) {  // Half done: how far along the bed.
    const Box along{box.left + 4, box.bottom - 10, box.right - 4, box.bottom - 4};
    fill_box({along.left + along.width() * l.treated_from, along.top, along.left + along.width() * l.treated_to, along.bottom}, t.leaf);
  }
  const float xl = line_height(TextStyle::Xl) * 0.9f;
  // The number gives way when crop and size would not fit beside it.
  const float beside_width = std::max(text_width(TextStyle::Strong, l.crop), lying ? 0 : text_width(TextStyle::Label, l.size));
  const TextStyle number_style = text_width(TextStyle::Xl, l.number) + 12 + beside_width <= right - x ? TextStyle::Xl : TextStyle::L;
  const float number = text_width(number_style, l.number);
  float y = box.top + 10;
  const Box head{x, y, right, y + xl};
  const float baseline = baseline_in(head, number_style);
  draw_text_on(x - 2, baseline, number_style, t.ink, l.number);
  const float beside = x + number + 12, one = line_height(TextStyle::Title);
  draw_text({beside, y - 1, right, y - 1 + one}, text_width(TextStyle::Title, l.crop) <= right - beside ? TextStyle::Title : TextStyle::Strong, t.ink, l.crop);
  if (lying) {
    const float after = beside + text_width(TextStyle::Title, l.crop) + 12;
    draw_text_on(after, baseline_in({0, y - 1, 0, y - 1 + one}, TextStyle::Title), TextStyle::Label, t.ink, l.size);
    draw_text({beside, y + one, right, y + one + line_height(TextStyle::Strong)}, TextStyle::Strong, t.ink, l.volume);
  } else {
    draw_text_on(beside, baseline, text_width(TextStyle::Body, l.size) <= right - beside ? TextStyle::Body : TextStyle::Label, t.ink, l.size);
  }
  y = head.bottom + 2;
  if (!lying) {
    const float strong = line_height(TextStyle::Strong);
    draw_text({x, y, right, y + strong}, text_width(TextStyle::Strong, l.volume) <= right - x        ? TextStyle::Strong
                                            : text_width(TextStyle::LabelStrong, l.volume) <= right - x ? TextStyle::LabelStrong
                                                                                                       : TextStyle::TickStrong,
              t.ink, l.volume);
    y += strong + 2;
  }
  const float label = line_height(TextStyle::Label);
  const std::uint32_t motion = item_id("walked");
  if (l.walked >= 0 && !lying) {
    draw_text({x, y, right, y + label}, TextStyle::Label, t.ink2, l.walk);
    const float from = x + text_width(TextStyle::Label, l.walk) + 8, to = right - text_width(TextStyle::LabelStrong, l.walk_text) - 13;
    walk_bar({from, y + label / 2 - 7, to, y + label / 2 + 7}, l.walked, motion);
    draw_text({x, y, right, y + label}, TextStyle::LabelStrong, t.ink, l.walk_text, Align::Right);
    y += label + 6;
  }
  if (!l.wait_text.empty() || (lying && l.walked >= 0)) {
    float room = right - x;
    if (lying && l.walked >= 0) {
      const float words = text_width(TextStyle::LabelStrong, l.walk_text), row_top = box.bottom - 34;
      draw_text({x, row_top, right, row_top + 24}, TextStyle::LabelStrong, t.ink, l.walk_text, Align::Right);
      walk_bar({right - words - 52, row_top + 5, right - words - 8, row_top + 19}, l.walked, motion);
      room -= words + 60;
      y = row_top;
    }
    if (l.wait_text.empty()) return;
    const float sign = 19, left = x + (l.wait == StripHold::None ? 0 : sign + 8);
    const float high = wrapped_height(room - (left - x), TextStyle::Label, l.wait_text);
    const Box row{x, y, x + room, y + std::max(24.0f, high)};
    if (l.wait != StripHold::None)
      draw_icon({x + sign / 2, row.center().y}, sign, l.wait == StripHold::NoEntry ? Icon::NoEntry : Icon::NoHarvest, t.ink);
    draw_wrapped({left, row.center().y - high / 2, row.right, row.bottom}, TextStyle::Label, t.ink, l.wait_text);
  }
}

void draw_row(const Box& box, const TankRow& r, bool down) {
  const Tokens& t = colors();
  const bool done = r.state == TankRowState::Done, skipped = r.state == TankRowState::Skipped;
  const float stake_width = std::max(48.0f, text_width(TextStyle::Strong, r.number) + 18), point = 8;
  {
    const Clip clip(box);
    fill_box(box, done ? t.leaf : down ? t.well : t.surface);
    const float stake_right = box.left + stake_width;
    if (r.treated_to > r.treated_from) {
      const Box track{stake_right, box.top, box.right, box.bottom};
      fill_box({r.treated_from <= 0 ? box.left : track.left + track.width() * r.treated_from, box.top, track.left + track.width() * r.treated_to, box.bottom}, t.leaf);
      const float cut = track.left + track.width() * (r.treated_from <= 0 ? r.treated_to : r.treated_from);
      dashes({cut, box.top + 2}, {cut, box.bottom - 2}, t.ink, 2.5f, 5, 4);
    }
    if (done) {
      const std::array<Point, 3> edge = {{{stake_right - point + 1, box.top}, {stake_right + 1, box.center().y}, {stake_right - point + 1, box.bottom}}};
      polyline(edge, t.surface, 3);
    } else {
      stake({box.left, box.top, stake_right, box.bottom}, point, t.stake);
    }
    draw_text({box.left, box.top, stake_right - point * 0.5f, box.bottom}, TextStyle::Strong, done ? t.onleaf : t.onstake, r.number, Align::Center);
    const float x = stake_right + 12;
    const Color ink = done ? t.onleaf : t.ink;
    float end = box.right - 12;
    if (!r.flag.empty()) {
      const float width = text_width(TextStyle::LabelStrong, r.flag) + 36;
      flag({box.right - width, box.top, box.right, box.bottom}, 9);
      draw_text({box.left, box.top, box.right - 12, box.bottom}, TextStyle::LabelStrong, t.ondue, r.flag, Align::Right);
      end = box.right - width;
    } else if (r.from_this_load < 1 && r.from_this_load > 0 && !r.refill.empty()) {
      // The tank ends within this bed: the cut stands at the very place along it.
      const Box track{x + text_width(TextStyle::Strong, r.crop) + 14, box.top, box.right, box.bottom};
      const float along = box.left + stake_width + (box.width() - stake_width) * r.from_this_load;
      const float words = 26 + 8 + text_width(TextStyle::Strong, r.refill) + 12;
      const float cut = std::clamp(along, track.left, std::max(track.left, box.right - words - 12));
      dashes({cut, box.top + 3}, {cut, box.bottom - 3}, t.ink, 2.5f, 5, 4);
      draw_icon({cut + 22, box.center().y}, 26, Icon::WaterPump, t.ink);
      draw_text({cut + 40, box.top, box.right, box.bottom}, TextStyle::Strong, t.ink, r.refill);
      end = cut;
    } else if (!r.right.empty()) {
      if (done) {
        draw_icon({box.right - 24, box.center().y}, 19, Icon::Tick, t.onleaf);
        end = box.right - 40;
      }
      const bool tight = text_width(TextStyle::LabelStrong, r.crop) + 8 + text_width(TextStyle::Label, r.right) > end - x;
      const TextStyle style = tight ? TextStyle::Tick : TextStyle::Label;
      draw_text({box.left, box.top, end, box.bottom}, style, skipped ? t.ink2 : ink, r.right, Align::Right);
      end -= text_width(style, r.right) + 6;
    }
    TextStyle crop = skipped ? TextStyle::Body : TextStyle::Strong;
    if (text_width(crop, r.crop) > end - x) crop = skipped ? TextStyle::Label : TextStyle::LabelStrong;
    if (text_width(crop, r.crop) > end - x) crop = skipped ? TextStyle::Tick : TextStyle::TickStrong;
    const Box words{x, box.top, end, box.bottom};
    if (skipped) draw_struck(words, crop, r.crop);
    else if (r.treated_to > r.treated_from && text_width(crop, r.crop) <= end - x) {
      const Box track{stake_right, box.top, box.right, box.bottom};
      const Box treated{track.left + track.width() * r.treated_from, box.top, track.left + track.width() * r.treated_to, box.bottom};
      draw_ink_through(words, crop, ink, r.crop, treated, t.onleaf);
    } else if (text_width(crop, r.crop) <= end - x) draw_text(words, crop, ink, r.crop);
    else {  // Two lines rather than a cut word.
      const float high = wrapped_height(end - x, crop, r.crop);
      draw_wrapped({x, box.center().y - high / 2, end, box.bottom}, crop, ink, r.crop);
    }
  }
  frame_end(box, size::kRadiusStrip, behind(), t.line, size::kEdgePress);
}

struct TankShape { float top, level, foot; bool cut; };

/// The tank: walls, slabs on the rows' heights, level, ticks, sump.
TankShape draw_tank(const Box& column, const TankGauge& g, const std::vector<Place>& places) {
  const Tokens& t = colors();
  TankShape shape{column.top, column.top, column.top, false};
  const std::uint32_t motion = item_id("level");
  float foot = column.top;
  bool ends = false;
  std::size_t current = places.size();
  for (std::size_t i = 0; i < places.size(); ++i) {
    const TankRow& r = g.rows[i];
    if (r.state == TankRowState::Current) {
      current = i;
      shape.level = places[i].row.top;
    }
    if (!places[i].drawn) {
      shape.cut = !ends;
      break;
    }
    const bool holds = (r.state == TankRowState::Current || r.state == TankRowState::Waiting) && !r.slab.empty() && !ends;
    if (!holds) continue;
    const Box& row = places[i].row;
    foot = r.from_this_load < 1 ? row.top + row.height() * std::max(0.45f, r.from_this_load) : row.bottom + kRowGap / 2;
    ends = r.from_this_load < 1;
  }
  if (current == places.size()) shape.level = foot;
  shape.foot = std::max(foot, shape.level + 2);
  shape.level = moving(motion, shape.level);
  const Box inner{column.left + kWall, column.top, column.right - kWall, shape.foot};

  fill_box(inner, t.surface);
  const Box liquid{inner.left, shape.level, inner.right, shape.foot};
  gradient_down(liquid, t.tank_top, t.tank_foot);
  // Partings between the slabs, the volume in each.
  for (std::size_t i = current; i < places.size(); ++i) {
    const TankRow& r = g.rows[i];
    if (!places[i].drawn || r.slab.empty() || r.state == TankRowState::NextLoad) break;
    const Box& row = places[i].row;
    const float top = i == current ? shape.level : row.top - kRowGap / 2, bottom = std::min(row.bottom + kRowGap / 2, shape.foot);
    if (i > current && top < shape.foot - 2) line({inner.left, top}, {inner.right, top}, t.surface, 2.5f);
    const Box slab{inner.left, top, inner.right, bottom};
    const Clip clip(slab);
    const bool with_unit = r.state == TankRowState::Current && !g.loupe.slab_unit.empty();
    const float one = line_height(TextStyle::Strong);
    if (with_unit) {
      const TextStyle small = longest_word(TextStyle::Label, g.loupe.slab_unit) <= inner.width() - 2 ? TextStyle::Label : TextStyle::Tick;
      const float unit = wrapped_height(inner.width() - 2, small, g.loupe.slab_unit);
      const float y = slab.center().y - (one + unit) / 2;
      draw_text({slab.left, y, slab.right, y + one}, TextStyle::Strong, t.ontank, r.slab, Align::Center);
      draw_wrapped({slab.left + 1, y + one - 2, slab.right - 1, slab.bottom}, small, t.ontank, g.loupe.slab_unit, Align::Center);
    } else {
      draw_text(slab, slab.height() < 26 ? TextStyle::TickStrong : TextStyle::Strong, t.ontank, r.slab, Align::Center);
    }
    if (r.from_this_load < 1) break;
  }
  // Above the level: empty, with ticks and what was used.
  const Box empty{inner.left, column.top, inner.right, shape.level - 2};
  if (empty.height() > 30) {
    for (float y = empty.top + 7; y < empty.bottom - 4; y += 8) line({inner.right - 9, y}, {inner.right, y}, t.rule, 1.5f);
    const float two = line_height(TextStyle::LabelStrong) + line_height(TextStyle::Tick);
    const float top = empty.center().y - std::min(two, empty.height()) / 2;
    const Box words{inner.left, top, inner.right - 10, empty.bottom};
    draw_text(words.with_height(line_height(TextStyle::LabelStrong)), TextStyle::LabelStrong, t.ink2, g.used, Align::Center);
    if (empty.height() > two - 4)
      draw_text({words.left, top + line_height(TextStyle::LabelStrong) - 2, words.right, top + two - 2}, TextStyle::Label, t.ink2, g.used_word, Align::Center);
  }
  if (current < places.size()) fill_box({column.left + 1, shape.level - 2, column.right - 1, shape.level + 2}, t.ink);
  // Walls; the foot is open when the list is cut.
  const float wall_foot = shape.cut ? shape.foot + 20 : shape.foot;
  if (shape.cut) gradient_down({inner.left, shape.foot, inner.right, wall_foot}, t.tank_foot, t.tank_foot);
  fill_box({column.left, column.top, column.left + kWall, wall_foot + 2}, t.ink);
  fill_box({column.right - kWall, column.top, column.right, wall_foot + 2}, t.ink);
  if (!shape.cut) {
    if (g.sump) {
      const float slant = 13;
      const Box sump{column.left + 1, shape.foot + 1, column.right - 1, shape.foot + kSump};
      {
        const Clip clip(sump);
        stripes(sump, t.tea, t.surface, 4);
        const Color back = behind();
        const std::array<Point, 3> left = {{{sump.left - 2, sump.top}, {sump.left + slant, sump.bottom + 1}, {sump.left - 2, sump.bottom + 1}}};
        const std::array<Point, 3> right = {{{sump.right + 2, sump.top}, {sump.right + 2, sump.bottom + 1}, {sump.right - slant, sump.bottom + 1}}};
        polygon(left, back);
        polygon(right, back);
      }
      const std::array<Point, 4> edge = {{{sump.left, sump.top}, {sump.left + slant, sump.bottom - 1}, {sump.right - slant, sump.bottom - 1}, {sump.right, sump.top}}};
      polyline(edge, t.ink, 2);
    }
    line({column.left, shape.foot + 1}, {column.right, shape.foot + 1}, t.ink, 2.5f);
  }
  return shape;
}

}  // namespace

float tank_gauge_height(float width, const TankGauge& g) {
  float height = 0;
  for (const TankRow& r : g.rows)
    height += (r.state == TankRowState::Current ? loupe_height(g.loupe, width - kTank - kToList) : row_height()) + kRowGap;
  return height + 8;
}

int tank_gauge(Pen& pen, const TankGauge& g, float height) {
  const Tokens& t = colors();
  const IdScope scope(g.id);
  const bool mirrored = look().left_handed;
  const float start = pen.y;
  Box list{pen.left + kTank + kToList, start, pen.right, start};
  Box column{pen.left, start, pen.left + kTank, start};
  if (mirrored) {
    list = {pen.left, start, pen.right - kTank - kToList, start};
    column = {pen.right - kTank, start, pen.right, start};
  }
  const float then = g.then.empty() ? 0 : line_height(TextStyle::LabelStrong) + 6;
  std::vector<Place> places = places_of(list, g, height);
  const bool cut = places.size() < g.rows.size() || (!places.empty() && !places.back().drawn);
  if (cut && then > 0) places = places_of(list, g, height - then);
  float bottom = start;
  for (const Place& p : places)
    if (p.drawn) bottom = p.row.bottom;
  column.bottom = bottom;

  const TankShape tank = draw_tank(column, g, places);
  if (!g.sump_spoken.empty()) add_text_item(item_id("sump"), Role::Text, g.sump_spoken, {column.left, tank.foot, column.right, tank.foot + kSump});
  int pressed = -1;
  for (std::size_t i = 0; i < g.rows.size(); ++i) {
    const TankRow& r = g.rows[i];
    const IdScope row_scope(r.number);
    const std::string name = spoken_or(r.spoken, {r.number, r.crop, r.flag, r.right});
    if (i >= places.size() || !places[i].drawn) {  // All rows are in the tree, also those that don't fit.
      Item item;
      item.id = item_id("row");
      item.role = Role::Row;
      item.name = name;
      item.drawn = false;
      if (item_tree().take_press(item.id)) pressed = static_cast<int>(i);
      add_item(std::move(item));
      continue;
    }
    const Box& row = places[i].row;
    if (r.state == TankRowState::Current) {
      // A hose joins tank and card.
      const float y = row.center().y, a = mirrored ? row.right : column.right, b = mirrored ? column.left : row.left;
      fill_box({std::min(a, b), y - 5, std::max(a, b) + 2, y + 5}, t.ink);
      add_text_item(item_id("row"), Role::Text, spoken_or(r.spoken, {g.loupe.number, g.loupe.crop, g.loupe.size, g.loupe.volume, g.loupe.wait_text}), row);
      draw_loupe(row, g.loupe, false);
      continue;
    }
    if (r.from_this_load < 1 && !r.slab.empty() && r.state != TankRowState::Done) {
      const float y = tank.foot + 1, a = mirrored ? row.right : column.right, b = mirrored ? column.left : row.left;
      line({std::min(a, b), y}, {std::max(a, b) + 2, y}, t.ink, 2.5f);
    }
    const Press hit = press({.id = item_id("row"), .role = Role::Row, .name = name}, {row.left, row.top - kRowGap / 2, row.right, row.bottom + kRowGap / 2});
    if (hit.pressed) pressed = static_cast<int>(i);
    draw_row(row, r, hit.down);
    if (hit.focused) focus_ring(row.inset(3), 4);
  }
  pen.y = std::max(bottom, cut ? bottom : tank.foot + (g.sump ? kSump : 4.0f));
  if (cut && !g.then.empty()) {
    const Box words{list.left, bottom + 4, list.right, bottom + 4 + line_height(TextStyle::LabelStrong)};
    draw_text(words, TextStyle::LabelStrong, t.ink, g.then);
    add_text_item(Role::Text, g.then, words);
    pen.y = words.bottom;
  }
  pen.space(8);
  return pressed;
}

void tank_head(Pen& pen, const TankHead& h) {
  const Tokens& t = colors();
  const float start = pen.y, xl = line_height(TextStyle::Xl);
  const float number = text_width(TextStyle::Xl, h.number), label = line_height(TextStyle::Label) - 1;
  const bool lying = look().screen() == ScreenClass::Landscape;
  const float words = std::max(text_width(TextStyle::Title, h.words), lying ? 0 : text_width(TextStyle::Label, h.words2));
  const float amount = number_width(TextStyle::Title, h.amount, TextStyle::Body, h.amount_unit);
  TextStyle small = TextStyle::Label;
  const auto right_width = [&] { return std::max({amount, text_width(small, h.line2), text_width(small, h.line3)}); };
  const auto fits = [&] { return number + 8 + words + 8 + right_width() <= pen.width(); };
  if (!fits()) small = TextStyle::Tick;
  const bool beside = fits();
  if (!beside) small = TextStyle::Label;
  const Box row = pen.take(lying ? 40 : std::max(xl - 4, beside ? line_height(TextStyle::Title) + 2 * label : 0.0f));
  const float baseline = lying ? row.bottom - 8 : baseline_in(row, TextStyle::Xl);
  draw_text_on(row.left, baseline, lying ? TextStyle::L : TextStyle::Xl, t.ink, h.number);
  const float x = row.left + (lying ? text_width(TextStyle::L, h.number) + 2 : number) + 8;
  if (lying) {
    draw_text_on(x, baseline, TextStyle::Title, t.ink, h.words);
    draw_text_on(x + text_width(TextStyle::Title, h.words) + 8, baseline, TextStyle::Body, t.ink, h.words2);
    const float used = x + text_width(TextStyle::Title, h.words) + 8 + text_width(TextStyle::Body, h.words2) + 20;
    const float line2 = number_width(TextStyle::Title, h.amount, TextStyle::Label, h.amount_unit);
    if (used + line2 <= row.right) draw_number(row.right, baseline, TextStyle::Title, h.amount, TextStyle::Label, h.amount_unit, t.ink, Align::Right);
  } else {
    const float y = row.center().y - (line_height(TextStyle::Title) + label) / 2 - 1;
    draw_text({x, y, row.right, y + line_height(TextStyle::Title) - 2}, TextStyle::Title, t.ink, h.words);
    draw_text({x, y + line_height(TextStyle::Title) - 2, row.right, y + line_height(TextStyle::Title) + label}, TextStyle::Label, t.ink, h.words2);
    float top = row.center().y - (line_height(TextStyle::Title) - 2 + 2 * label) / 2;
    if (!beside) {
      top = row.bottom;
      pen.take(line_height(TextStyle::Title) + 2 * label);
    }
    const float edge = beside ? row.right : row.left;
    const Align align = beside ? Align::Right : Align::Left;
    const float base = baseline_in({0, top, 0, top + line_height(TextStyle::Title) - 2}, TextStyle::Title);
    draw_number(edge, base, TextStyle::Title, h.amount, TextStyle::Body, h.amount_unit, t.ink, align);
    top += line_height(TextStyle::Title) - 2;
    draw_text_on(edge, baseline_in({0, top, 0, top + label}, small), small, t.ink, h.line2, align);
    draw_text_on(edge, baseline_in({0, top + label, 0, top + 2 * label}, small), small, t.ink2, h.line3, align);
  }
  std::string name = std::string(h.number) + " " + std::string(h.words) + " " + std::string(h.words2);
  name = spoken({name, std::string(h.amount) + " " + std::string(h.amount_unit), h.line2, h.line3});
  add_text_item(item_id("tank-head"), Role::Status, h.spoken.empty() ? std::string_view(name) : h.spoken, {pen.left, start, pen.right, pen.y});
  pen.space(4);
}

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
      const TextStyle style = text_width(TextStyle::Strong, bar.slabs[i].text) <= width - 4 ? TextStyle::Strong : TextStyle::TickStrong;
      if (text_width(style, bar.slabs[i].text) <= width) draw_text({x, inner.top, x + width, inner.bottom}, style, t.ontank, bar.slabs[i].text, Align::Center);
      x += width;
    }
    if (sump > 0) {
      stripes({inner.right - sump, inner.top, inner.right, inner.bottom}, t.tea, t.surface, 4);
      line({inner.right - sump, inner.top}, {inner.right - sump, inner.bottom}, t.surface, 2.5f);
    }
  }
  frame_end(box, size::kRadiusStrip, behind(), t.ink, 3);
  if (!bar.below_right.empty()) draw_text(pen.take(line_height(TextStyle::Label)), TextStyle::Label, t.ink2, bar.below_right, Align::Right);
  add_text_item(Role::Text, spoken_or(bar.spoken, {bar.label, bar.right, bar.below_right}), {pen.left, start, pen.right, pen.y});
}

void run_dry(Pen& pen, const RunDry& f) {
  const Tokens& t = colors();
  const float start = pen.y, stake_width = std::max(54.0f, text_width(TextStyle::Strong, f.number) + 24);
  pen.space(14);
  const Box row = snap(pen.take(46));
  const Box tag = row.with_width(stake_width).inset(0, 1);
  stake(tag, 8, t.stake);
  draw_text({tag.left, tag.top, tag.right - 6, tag.bottom}, TextStyle::Strong, t.onstake, f.number, Align::Center);
  const Box bed{tag.right + 3, row.top, row.right, row.bottom};
  const float at = std::clamp(f.at, 0.0f, 1.0f), cut = snap(bed.left + bed.width() * moving(item_id("run-dry"), at));
  fill_box(bed, t.surface);
  const Box treated = f.from_far_end ? Box{cut, bed.top, bed.right, bed.bottom} : Box{bed.left, bed.top, cut, bed.bottom};
  const Box rest = f.from_far_end ? Box{bed.left, bed.top, cut, bed.bottom} : Box{cut, bed.top, bed.right, bed.bottom};
  fill_box(treated, t.leaf);
  const auto words = [&](const Box& part, std::string_view text, Color color) {
    if (text_width(TextStyle::Strong, text) + 20 <= part.width()) draw_text(part.inset(12, 0), TextStyle::Strong, color, text);
    else if (text_width(TextStyle::LabelStrong, text) + 10 <= part.width()) draw_text(part.inset(5, 0), TextStyle::LabelStrong, color, text);
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
  if (bed.left + text_width(TextStyle::Label, f.zero) + 8 <= here_left) draw_text({bed.left, below.top, below.right, below.bottom}, TextStyle::Label, t.ink2, f.zero);
  if (bed.right - text_width(TextStyle::Label, f.end) - 8 >= here_left + here) draw_text(below, TextStyle::Label, t.ink2, f.end, Align::Right);
  draw_text({here_left, below.top, below.right, below.bottom}, TextStyle::LabelStrong, t.ink, f.here);
  add_text_item(Role::Text, spoken_or(f.spoken, {f.number, f.here, f.left_text, f.right_text}), {pen.left, start, pen.right, pen.y});
}

}  // namespace steep
