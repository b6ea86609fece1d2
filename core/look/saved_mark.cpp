#include "look/saved_mark.h"

#include <algorithm>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

struct Parts {
  Icon sign;
  std::string first;
  std::string second;
};

Parts parts_of(const SavedMark& mark) {
  const Words& words = look_words();
  switch (mark.state) {
    case SavedState::Saved: return {Icon::SavedTick, words("look.saved"_w), std::string(mark.detail)};
    case SavedState::Saving: return {Icon::SavingDots, words("look.saving"_w), std::string(mark.detail)};
    case SavedState::NotSaved: return {Icon::NotSaved, words("look.not_saved"_w), words("look.try_again"_w)};
    case SavedState::DraftSaved: return {Icon::DraftTick, words("look.draft_saved"_w), std::string(mark.detail)};
  }
  return {};
}

constexpr float kSign = 25, kGap = 8;

}  // namespace

float saved_mark_width(const SavedMark& mark, bool compact) {
  const Parts parts = parts_of(mark);
  const float first = compact ? 0 : text_width(TextStyle::LabelStrong, parts.first);
  return kSign + kGap + std::max(first, text_width(TextStyle::Label, parts.second));
}

bool draw_saved_mark(const Box& box, const SavedMark& mark, bool compact, bool at_left) {
  const Tokens& t = colors();
  const Parts parts = parts_of(mark);
  const float width = saved_mark_width(mark, compact);
  const Box area = at_left ? box.with_width(width) : Box{box.right - width, box.top, box.right, box.bottom};
  const std::string name = spoken({parts.first, parts.second});
  Press hit;
  if (mark.state == SavedState::NotSaved) {
    hit = press({.id = item_id("saved-mark"), .role = Role::Button, .name = name}, area);
    if (hit.focused) focus_ring(area.inset(-2), 6);
  } else {
    add_text_item(item_id("saved-mark"), Role::Status, name, area);
  }
  const float middle = area.center().y;
  draw_icon({area.left + kSign / 2, middle}, kSign, parts.sign, t.ink);
  const float x = area.left + kSign + kGap;
  const Color color = mark.state == SavedState::NotSaved ? t.beet : t.ink;
  const float line = line_height(TextStyle::Label) - 2;
  if (compact || parts.second.empty()) {
    const bool only_second = compact && !parts.second.empty();
    draw_text({x, area.top, area.right, area.bottom}, only_second ? TextStyle::Label : TextStyle::LabelStrong, color,
              only_second ? parts.second : parts.first);
  } else {
    draw_text({x, middle - line, area.right, middle}, TextStyle::LabelStrong, color, parts.first);
    draw_text({x, middle, area.right, middle + line}, TextStyle::Label, color, parts.second);
  }
  return hit.pressed;
}

bool not_saved_band(Pen& pen, std::string_view text) {
  const Tokens& t = colors();
  const std::string again = look_words()("look.try_again"_w), head = look_words()("look.not_saved"_w);
  const float across = look().margin(), button = text_width(TextStyle::SmallButton, again) + 32;
  const float room = pen.width() - 2 * across - 34 - 12 - button - 12;
  const float text_height = line_height(TextStyle::Strong) + wrapped_height(room, TextStyle::Label, text);
  const Box band = pen.take(std::max(72.0f, text_height + 20));
  fill_box(band, t.surface);
  fill_box({band.left, band.top, band.left + 8, band.bottom}, t.beet);
  line({band.left, band.bottom}, {band.right, band.bottom}, t.line, 2);
  draw_icon({band.left + across + 17, band.center().y}, 34, Icon::NotSaved, t.ink);
  const Box words{band.left + across + 46, band.center().y - text_height / 2, band.left + across + 46 + room,
                  band.bottom};
  draw_text(words.with_height(line_height(TextStyle::Strong)), TextStyle::Strong, t.beet, head);
  draw_wrapped({words.left, words.top + line_height(TextStyle::Strong), words.right, words.bottom}, TextStyle::Label,
               t.ink, text);
  add_text_item(item_id("not-saved-band"), Role::Alert, spoken({head, text}), band);
  const Box again_box =
      centered({band.right - across - button, band.top, band.right - across, band.bottom}, button, 48);
  const Press hit = press({.id = item_id("try-again"), .name = again}, again_box);
  panel(again_box, hit.down ? t.ink : t.surface, t.line, size::kEdgePress, size::kRadiusButton);
  draw_text(again_box, TextStyle::SmallButton, hit.down ? t.surface : t.ink, again, Align::Center);
  if (hit.focused) focus_ring(again_box, size::kRadiusButton);
  return hit.pressed;
}

}  // namespace steep
