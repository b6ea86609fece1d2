#include "look/tank_gauge.h"

#include <algorithm>
#include <array>

#include "look/draw.h"
#include "look/frame_state.h"
#include "look/motion.h"
#include "look/tank_rows.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kTank = 64, kToList = 14, kRowGap = 4, kWall = 3, kSump = 16;

struct Place {
  Box row;
  bool drawn = false;
};

/// Where rows lie; rows that don't fit are not drawn.
std::vector<Place> places_of(const Box& list, const TankGauge& g, float height) {
  std::vector<Place> out;
  float y = list.top;
  for (const TankRow& row : g.rows) {
    const float high =
        row.state == TankRowState::Current ? tank_loupe_height(g.loupe, list.width()) : tank_row_height();
    const bool fits = height <= 0 || y + high <= list.top + height;
    out.push_back({{list.left, y, list.right, y + high}, fits});
    if (!fits) break;
    y += high + kRowGap;
  }
  return out;
}

struct TankShape {
  float top = 0, level = 0, foot = 0;
  std::size_t current = 0;  ///< Row of the bed in hand; the number of places when it is not among them.
  bool cut = false;         ///< Rows go on below what fits: so does the tank.
};

/// The level stands at the bed in hand, the foot where the load ends.
TankShape tank_shape(const Box& column, const TankGauge& g, const std::vector<Place>& places) {
  TankShape shape{column.top, column.top, column.top, places.size(), false};
  float foot = column.top;
  bool ends = false;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const TankRow& r = g.rows[i];
    const Box& row = places[i].row;
    if (r.state == TankRowState::Current) {
      shape.current = i;
      shape.level = row.top;
    }
    if (!places[i].drawn) {
      shape.cut = !ends;
      break;
    }
    const bool holds =
        (r.state == TankRowState::Current || r.state == TankRowState::Waiting) && !r.slab.empty() && !ends;
    if (!holds) continue;
    ends = r.from_this_load < 1;
    foot = ends ? row.top + row.height() * std::max(0.45f, r.from_this_load) : row.bottom + kRowGap / 2;
  }
  if (shape.current == places.size()) shape.level = foot;
  shape.foot = std::max(foot, shape.level + 2);
  shape.level = moving(item_id("level"), shape.level);
  return shape;
}

/// The volume for one bed; of the bed in hand with its unit.
void draw_slab(const Box& slab, const TankRow& r, std::string_view slab_unit) {
  const Tokens& t = colors();
  const Clip clip(slab);
  if (r.state != TankRowState::Current || slab_unit.empty()) {
    draw_text(slab, slab.height() < 26 ? TextStyle::TickStrong : TextStyle::Strong, t.ontank, r.slab, Align::Center);
    return;
  }
  const float one = line_height(TextStyle::Strong);
  const TextStyle small =
      longest_word(TextStyle::Label, slab_unit) <= slab.width() - 2 ? TextStyle::Label : TextStyle::Tick;
  const float y = slab.center().y - (one + wrapped_height(slab.width() - 2, small, slab_unit)) / 2;
  draw_text({slab.left, y, slab.right, y + one}, TextStyle::Strong, t.ontank, r.slab, Align::Center);
  draw_wrapped({slab.left + 1, y + one - 2, slab.right - 1, slab.bottom}, small, t.ontank, slab_unit, Align::Center);
}

/// Partings between the slabs, the volume in each.
void draw_slabs(const Box& inner, const TankGauge& g, const std::vector<Place>& places, const TankShape& shape) {
  for (std::size_t i = shape.current; i < places.size(); ++i) {
    const TankRow& r = g.rows[i];
    if (!places[i].drawn || r.slab.empty() || r.state == TankRowState::NextLoad) break;
    const Box& row = places[i].row;
    const float top = i == shape.current ? shape.level : row.top - kRowGap / 2;
    if (i > shape.current && top < shape.foot - 2) line({inner.left, top}, {inner.right, top}, colors().surface, 2.5f);
    draw_slab({inner.left, top, inner.right, std::min(row.bottom + kRowGap / 2, shape.foot)}, r, g.loupe.slab_unit);
    if (r.from_this_load < 1) break;
  }
}

/// Above the level: ticks and what was used.
void draw_empty(const Box& empty, const TankGauge& g) {
  if (empty.height() <= 30) return;
  const Tokens& t = colors();
  for (float y = empty.top + 7; y < empty.bottom - 4; y += 8)
    line({empty.right - 9, y}, {empty.right, y}, t.rule, 1.5f);
  const float first = line_height(TextStyle::LabelStrong), two = first + line_height(TextStyle::Tick);
  const float top = empty.center().y - std::min(two, empty.height()) / 2;
  const Box words{empty.left, top, empty.right - 10, empty.bottom};
  draw_text(words.with_height(first), TextStyle::LabelStrong, t.ink2, g.used, Align::Center);
  if (empty.height() > two - 4)
    draw_text({words.left, top + first - 2, words.right, top + two - 2}, TextStyle::Label, t.ink2, g.used_word,
              Align::Center);
}

/// What the pump cannot reach.
void draw_sump(const Box& sump) {
  const Tokens& t = colors();
  const float slant = 13;
  {
    const Clip clip(sump);
    stripes(sump, t.tea, t.surface, 4);
    const Color back = behind();
    const std::array<Point, 3> left = {
        {{sump.left - 2, sump.top}, {sump.left + slant, sump.bottom + 1}, {sump.left - 2, sump.bottom + 1}}};
    const std::array<Point, 3> right = {
        {{sump.right + 2, sump.top}, {sump.right + 2, sump.bottom + 1}, {sump.right - slant, sump.bottom + 1}}};
    polygon(left, back);
    polygon(right, back);
  }
  const std::array<Point, 4> edge = {{{sump.left, sump.top},
                                      {sump.left + slant, sump.bottom - 1},
                                      {sump.right - slant, sump.bottom - 1},
                                      {sump.right, sump.top}}};
  polyline(edge, t.ink, 2);
}

/// The tank: walls, slabs on the rows' heights, level, ticks, sump. Its foot is open when the list is cut.
TankShape draw_tank(const Box& column, const TankGauge& g, const std::vector<Place>& places) {
  const Tokens& t = colors();
  const TankShape shape = tank_shape(column, g, places);
  const Box inner{column.left + kWall, column.top, column.right - kWall, shape.foot};
  fill_box(inner, t.surface);
  gradient_down({inner.left, shape.level, inner.right, shape.foot}, t.tank_top, t.tank_foot);
  draw_slabs(inner, g, places, shape);
  draw_empty({inner.left, column.top, inner.right, shape.level - 2}, g);
  if (shape.current < places.size())
    fill_box({column.left + 1, shape.level - 2, column.right - 1, shape.level + 2}, t.ink);
  const float wall_foot = shape.cut ? shape.foot + 20 : shape.foot;
  if (shape.cut) gradient_down({inner.left, shape.foot, inner.right, wall_foot}, t.tank_foot, t.tank_foot);
  fill_box({column.left, column.top, column.left + kWall, wall_foot + 2}, t.ink);
  fill_box({column.right - kWall, column.top, column.right, wall_foot + 2}, t.ink);
  if (shape.cut) return shape;
  if (g.sump) draw_sump({column.left + 1, shape.foot + 1, column.right - 1, shape.foot + kSump});
  line({column.left, shape.foot + 1}, {column.right, shape.foot + 1}, t.ink, 2.5f);
  return shape;
}

/// All rows are in the tree, also those that don't fit. Pressed?
bool hidden_row(const std::string& name) {
  Item item;
  item.id = item_id("row");
  item.role = Role::Row;
  item.name = name;
  item.drawn = false;
  const bool pressed = item_tree().take_press(item.id);
  add_item(std::move(item));
  return pressed;
}

/// Tank beside list, mirrored for the left hand.
struct GaugeBoxes {
  Box column, list;
  std::vector<Place> places;
  bool cut = false;  ///< Not all rows fit: what comes then is said below.
  float bottom = 0;  ///< Of the last row that is drawn.
};
GaugeBoxes boxes_of(const Pen& pen, const TankGauge& g, float height) {
  GaugeBoxes b;
  b.list = {pen.left + kTank + kToList, pen.y, pen.right, pen.y};
  b.column = {pen.left, pen.y, pen.left + kTank, pen.y};
  if (look().left_handed) {
    b.list = {pen.left, pen.y, pen.right - kTank - kToList, pen.y};
    b.column = {pen.right - kTank, pen.y, pen.right, pen.y};
  }
  b.places = places_of(b.list, g, height);
  b.cut = b.places.size() < g.rows.size() || (!b.places.empty() && !b.places.back().drawn);
  if (b.cut && !g.then.empty()) b.places = places_of(b.list, g, height - line_height(TextStyle::LabelStrong) - 6);
  b.bottom = pen.y;
  for (const Place& p : b.places)
    if (p.drawn) b.bottom = p.row.bottom;
  b.column.bottom = b.bottom;
  return b;
}

/// From the tank to a row's box, across the gap between them.
Box across_gap(const Box& column, const Box& row, float top, float bottom) {
  const bool mirrored = look().left_handed;
  const float a = mirrored ? row.right : column.right, b = mirrored ? column.left : row.left;
  return {std::min(a, b), top, std::max(a, b) + 2, bottom};
}

/// The bed in hand: a hose joins tank and card.
void current_row(const Box& row, const TankGauge& g, const TankRow& r, const Box& column) {
  const float y = row.center().y;
  fill_box(across_gap(column, row, y - 5, y + 5), colors().ink);
  add_text_item(item_id("row"), Role::Text,
                spoken_or(r.spoken, {g.loupe.number, g.loupe.crop, g.loupe.size, g.loupe.volume, g.loupe.wait_text}),
                row);
  draw_tank_loupe(row, g.loupe);
}

/// Pressed? Where the load ends within the bed its row says so by a line from the tank's foot.
bool other_row(const Box& row, const TankRow& r, const std::string& name, const Box& column, float foot) {
  if (r.from_this_load < 1 && !r.slab.empty() && r.state != TankRowState::Done) {
    const Box end = across_gap(column, row, foot + 1, foot + 1);
    line({end.left, end.top}, {end.right, end.top}, colors().ink, 2.5f);
  }
  const Press hit = press({.id = item_id("row"), .role = Role::Row, .name = name},
                          {row.left, row.top - kRowGap / 2, row.right, row.bottom + kRowGap / 2});
  draw_tank_row(row, r, hit.down);
  if (hit.focused) focus_ring(row.inset(3), 4);
  return hit.pressed;
}

}  // namespace

int tank_gauge(Pen& pen, const TankGauge& g, float height) {
  const IdScope scope(g.id);
  const GaugeBoxes b = boxes_of(pen, g, height);
  const TankShape tank = draw_tank(b.column, g, b.places);
  if (!g.sump_spoken.empty())
    add_text_item(item_id("sump"), Role::Text, g.sump_spoken,
                  {b.column.left, tank.foot, b.column.right, tank.foot + kSump});
  int pressed = -1;
  for (std::size_t i = 0; i < g.rows.size(); ++i) {
    const TankRow& r = g.rows[i];
    const IdScope row_scope(r.number);
    const std::string name = spoken_or(r.spoken, {r.number, r.crop, r.flag, r.right});
    const bool drawn = i < b.places.size() && b.places[i].drawn;
    if (drawn && r.state == TankRowState::Current)
      current_row(b.places[i].row, g, r, b.column);
    else if (drawn ? other_row(b.places[i].row, r, name, b.column, tank.foot) : hidden_row(name))
      pressed = static_cast<int>(i);
  }
  pen.y = std::max(b.bottom, b.cut ? b.bottom : tank.foot + (g.sump ? kSump : 4.0f));
  if (b.cut && !g.then.empty()) {
    const Box words{b.list.left, b.bottom + 4, b.list.right, b.bottom + 4 + line_height(TextStyle::LabelStrong)};
    draw_text(words, TextStyle::LabelStrong, colors().ink, g.then);
    add_text_item(Role::Text, g.then, words);
    pen.y = words.bottom;
  }
  pen.space(8);
  return pressed;
}

namespace {

/// Lying: all on one line, the amount where it has room.
void lying_head(const Box& row, const TankHead& h) {
  const Tokens& t = colors();
  const float baseline = row.bottom - 8;
  draw_text_on(row.left, baseline, TextStyle::L, t.ink, h.number);
  const float x = row.left + text_width(TextStyle::L, h.number) + 10;
  draw_text_on(x, baseline, TextStyle::Title, t.ink, h.words);
  const float x2 = x + text_width(TextStyle::Title, h.words) + 8;
  draw_text_on(x2, baseline, TextStyle::Body, t.ink, h.words2);
  const float words_end = x2 + text_width(TextStyle::Body, h.words2) + 20;
  const float amount = number_width(TextStyle::Title, h.amount, TextStyle::Label, h.amount_unit);
  if (words_end + amount <= row.right)
    draw_number(row.right, baseline, TextStyle::Title, h.amount, TextStyle::Label, h.amount_unit, t.ink, Align::Right);
}

/// Styles in which number and both columns stand beside each other. The columns cost the list of beds no row: for them
/// the words, then the number grow smaller; where that does not help they go below, full size.
struct HeadStyles {
  TextStyle number = TextStyle::Xl, small = TextStyle::Label;
  bool beside = true;
};
HeadStyles head_styles(float width, const TankHead& h) {
  const float words = std::max(text_width(TextStyle::Title, h.words), text_width(TextStyle::Label, h.words2));
  const float amount = number_width(TextStyle::Title, h.amount, TextStyle::Body, h.amount_unit);
  for (const HeadStyles& s :
       {HeadStyles{}, HeadStyles{TextStyle::Xl, TextStyle::Tick}, HeadStyles{TextStyle::L, TextStyle::Tick}}) {
    const float right = std::max({amount, text_width(s.small, h.line2), text_width(s.small, h.line3)});
    if (text_width(s.number, h.number) + 8 + words + 8 + right <= width) return s;
  }
  return {TextStyle::Xl, TextStyle::Label, false};
}

/// Number and its words at the left; amount and two lines at the right, or below.
void upright_head(Pen& pen, const TankHead& h) {
  const Tokens& t = colors();
  const HeadStyles s = head_styles(pen.width(), h);
  const float label = line_height(TextStyle::Label) - 1, title = line_height(TextStyle::Title);
  const float tall = line_height(TextStyle::Xl) - 4;
  const Box row = pen.take(std::max(tall, s.beside ? title + 2 * label : 0.0f));
  draw_text_on(row.left, baseline_in(row, s.number), s.number, t.ink, h.number);
  const float x = row.left + text_width(s.number, h.number) + 8;
  const float y = row.center().y - (title + label) / 2 - 1;
  draw_text({x, y, row.right, y + title - 2}, TextStyle::Title, t.ink, h.words);
  draw_text({x, y + title - 2, row.right, y + title + label}, TextStyle::Label, t.ink, h.words2);
  float top = row.center().y - (title - 2 + 2 * label) / 2;
  if (!s.beside) {
    top = row.bottom;
    pen.take(title + 2 * label);
  }
  const float edge = s.beside ? row.right : row.left;
  const Align align = s.beside ? Align::Right : Align::Left;
  const float base = baseline_in({0, top, 0, top + title - 2}, TextStyle::Title);
  draw_number(edge, base, TextStyle::Title, h.amount, TextStyle::Body, h.amount_unit, t.ink, align);
  top += title - 2;
  draw_text_on(edge, baseline_in({0, top, 0, top + label}, s.small), s.small, t.ink, h.line2, align);
  draw_text_on(edge, baseline_in({0, top + label, 0, top + 2 * label}, s.small), s.small, t.ink2, h.line3, align);
}

}  // namespace

void tank_head(Pen& pen, const TankHead& h) {
  const float start = pen.y;
  if (look().screen() == ScreenClass::Landscape)
    lying_head(pen.take(40), h);
  else
    upright_head(pen, h);
  std::string name = std::string(h.number) + " " + std::string(h.words) + " " + std::string(h.words2);
  name = spoken({name, std::string(h.amount) + " " + std::string(h.amount_unit), h.line2, h.line3});
  add_text_item(item_id("tank-head"), Role::Status, h.spoken.empty() ? std::string_view(name) : h.spoken,
                {pen.left, start, pen.right, pen.y});
  pen.space(4);
}

}  // namespace steep
