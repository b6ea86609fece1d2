#include "look/walk_catch.h"

#include <algorithm>
#include <array>

#include "look/draw.h"
#include "look/press.h"

namespace steep {
namespace {

constexpr float kStakeWide = 11, kStakeHigh = 19, kTick = 12;

void draw_post(float x, float foot) {
  const Color ink = colors().ink;
  fill_box({x - kStakeWide / 2, foot - kStakeHigh, x + kStakeWide / 2, foot - 6}, ink);
  const std::array<Point, 3> tip{Point{x - kStakeWide / 2, foot - 6}, Point{x + kStakeWide / 2, foot - 6},
                                 Point{x, foot}};
  polygon(tip, ink);
}

void draw_walker(float x, float foot) {
  const Color ink = colors().ink;
  draw_icon({x, foot - 14}, 27, Icon::Walk, ink);
  line({x + 23, foot - 12}, {x + 52, foot - 12}, ink, 2);
  line({x + 45, foot - 18}, {x + 52, foot - 12}, ink, 2);
  line({x + 45, foot - 6}, {x + 52, foot - 12}, ink, 2);
}

}  // namespace

void walk_course(Pen& pen, const WalkCourse& course) {
  const Tokens& t = colors();
  const Box row = pen.take(34);
  const Box words = pen.take(line_height(TextStyle::Tick) + 4);
  add_text_item(Role::Text, course.spoken, {row.left, row.top, row.right, words.bottom});
  if (course.marks.size() < 2 || !is_visible(row)) return;
  const float last = text_width(TextStyle::Tick, course.marks.back());
  const float left = row.left + 13, right = row.right - std::max(13.0f, last / 2), y = row.bottom - 7;
  line({left, y}, {right, y}, t.ink, 3);
  for (std::size_t i = 0; i < course.marks.size(); ++i) {
    const float x = left + (right - left) * static_cast<float>(i) / static_cast<float>(course.marks.size() - 1);
    line({x, y - kTick / 2}, {x, y + kTick / 2}, t.ink, 2);
    draw_text({x, words.top, x, words.bottom}, TextStyle::Tick, t.ink2, course.marks[i], Align::Center);
  }
  draw_post(left, y - 2);
  draw_post(right, y - 2);
  draw_walker((left + right) / 2, y - 2);
}

void draw_jug(const Box& box, std::string_view label, float level, bool in_hand) {
  const Tokens& t = colors();
  const float label_high = line_height(TextStyle::LabelStrong) + 4;
  const TextStyle style = in_hand ? TextStyle::LabelStrong : TextStyle::Label;
  // Where the whole label has no room, its last word says which: '2' of 'Catch 2'.
  if (text_width(style, label) > box.width() + 8) label = label.substr(label.find_last_of(' ') + 1);
  draw_text({box.left, box.top, box.right, box.top + label_high}, style, t.ink, label, Align::Center);
  const float top = box.top + label_high + 2, foot = box.bottom, narrow = box.width() * 0.10f;
  // The sides lean inwards towards the foot.
  const auto left = [&](float y) { return box.left + narrow * (y - top) / (foot - top); };
  const auto right = [&](float y) { return box.right - narrow * (y - top) / (foot - top); };
  const float edge = in_hand ? 4.0f : 3.0f;
  const float surface = foot - (foot - top) * std::clamp(level, 0.0f, 1.0f);
  if (level > 0) {
    const std::array<Point, 4> liquid{Point{left(surface), surface}, Point{right(surface), surface},
                                      Point{right(foot), foot}, Point{left(foot), foot}};
    polygon(liquid, t.water);
    line({left(surface), surface}, {right(surface), surface}, t.ink, 4);
  }
  for (int i = 1; i <= 5; ++i) {
    const float y = foot - (foot - top) * static_cast<float>(i) / 6;
    const float long_mark = i == 5 ? 16.0f : 13.0f;
    line({right(y) - 6 - long_mark, y}, {right(y) - 6, y}, y > surface + 2 ? t.surface : t.ink, 2);
  }
  const std::array<Point, 4> wall{Point{left(top), top}, Point{left(foot), foot}, Point{right(foot), foot},
                                  Point{right(top), top}};
  polyline(wall, t.ink, edge);
}

}  // namespace steep
