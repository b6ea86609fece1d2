#include "look/tape_band.h"

#include <algorithm>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kTape = 11, kSign = 34;

std::string more_text(const TapeBand& band) { return band.more > 0 ? "+" + std::to_string(band.more) : std::string(); }

struct Words2 {
  float left, room, first, second;
};
Words2 words_of(const TapeBand& band, float width) {
  const float margin = look().margin(), left = margin + kSign + 12;
  const float more = band.more > 0 ? text_width(TextStyle::Strong, more_text(band)) + 8 : 0;
  const float room = width - left - margin - 32 - more;
  return {left, room, wrapped_height(room, TextStyle::Button, band.first),
          wrapped_height(room, TextStyle::Label, band.second)};
}

}  // namespace

float tape_band_height(const TapeBand& band, float width) {
  const Words2 w = words_of(band, width);
  return kTape + 4 + std::max(kSign + 18, w.first + w.second + 12);
}

bool draw_tape_band(const Box& box, const TapeBand& band) {
  const Tokens& t = colors();
  const std::string more = more_text(band);
  const std::string name =
      band.more > 0 ? look_words()("look.and_more"_w, {spoken({band.first, band.second}), std::to_string(band.more)})
                    : spoken_or(band.spoken, {band.first, band.second});
  const Press hit = press({.id = item_id("tape-band"), .role = Role::Row, .name = name}, box);
  fill_box(box, hit.down ? t.well : t.surface);
  line({box.left, box.top}, {box.right, box.top}, t.line, 2);
  tape({box.left, box.top + 1, box.right, box.top + 1 + kTape});
  line({box.left, box.top + 1 + kTape}, {box.right, box.top + 1 + kTape}, t.line, 2);
  line({box.left, box.bottom - 1}, {box.right, box.bottom - 1}, t.line, 2);
  const Words2 w = words_of(band, box.width());
  const float first = w.first;
  const Box area{box.left, box.top + kTape + 2, box.right, box.bottom - 2};
  draw_icon({box.left + look().margin() + kSign / 2, area.center().y}, kSign, band.sign, t.ink);
  const float top = area.center().y - (first + w.second) / 2;
  draw_wrapped({box.left + w.left, top, box.left + w.left + w.room, top + first}, TextStyle::Button, t.beet,
               band.first);
  draw_wrapped({box.left + w.left, top + first, box.left + w.left + w.room, top + first + w.second}, TextStyle::Label,
               t.ink, band.second);
  const float right = box.right - look().margin();
  draw_icon({right - 12, area.center().y}, 24, Icon::ChevronRight, t.ink);
  if (!more.empty())
    draw_text_on(right - 26, baseline_in(area, TextStyle::Strong), TextStyle::Strong, t.ink, more, Align::Right);
  if (hit.focused) focus_ring(box.inset(6), 4);
  return hit.pressed;
}

}  // namespace steep
