#include "look/scroll.h"

#include <algorithm>
#include <cmath>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

constexpr double kRecent_s = 0.06;       // A finger that rested longer throws nothing.
constexpr float kDecay = 4, kStop = 20;  // exp(−4t); dp per second.
constexpr float kWheelStep = 60;

float farthest(const ScrollState& scroll) { return std::max(0.0f, scroll.content - scroll.view); }

void drag(ScrollState& scroll, std::uint32_t id) {
  State& s = state();
  Pointer& p = s.pointer;
  if (p.began && scroll.area.contains(p.pos) && reaches(p.pos, s.layer)) {
    p.scroll = id;
    s.key_scroll = id;
    scroll.held = true;
    if (scroll.gliding) p.cancelled = true;  // Stops the glide and is not a tap.
    scroll.gliding = false;
    scroll.velocity = 0;
    scroll.last_move = s.now;
  }
  if (p.scroll != id) {
    scroll.held = false;
    return;
  }
  const float by = p.before.y - p.pos.y;
  if (p.down && p.touch && p.moved && p.drag == 0) {
    scroll.y += by;
    if (by != 0 && s.dt > 0) {
      const float now = by / static_cast<float>(s.dt);
      scroll.velocity = 0.7f * now + 0.3f * scroll.velocity;
      scroll.last_move = s.now;
    }
  }
  if (p.ended) {
    scroll.held = false;
    scroll.gliding =
        p.touch && p.moved && p.drag == 0 && s.now - scroll.last_move <= kRecent_s && std::abs(scroll.velocity) > kStop;
  }
}

void glide(ScrollState& scroll) {
  if (!scroll.gliding) return;
  const float dt = static_cast<float>(state().dt), before = scroll.velocity;
  scroll.velocity *= std::exp(-kDecay * dt);
  scroll.y += (before - scroll.velocity) / kDecay;  // The integral of the decaying velocity.
  const bool at_end = scroll.y <= 0 || scroll.y >= farthest(scroll);
  if (std::abs(scroll.velocity) < kStop || at_end) scroll.gliding = false;
  if (scroll.gliding) want_frame();
}

void wheel_and_keys(ScrollState& scroll, std::uint32_t id) {
  State& s = state();
  const Point at = s.pointer.pos;
  const float wheel = ImGui::GetIO().MouseWheel;
  if (wheel != 0 && scroll.area.contains(at) && reaches(at, s.layer) && s.pinch == 1) {
    scroll.y -= wheel * kWheelStep;
    scroll.gliding = false;
    s.key_scroll = id;
  }
  if (s.key_scroll != id || is_behind_modal(s.layer)) return;
  const float page = scroll.view * 0.9f;
  if (key_pressed(LookKey::PageDown)) scroll.y += page;
  if (key_pressed(LookKey::PageUp)) scroll.y -= page;
  if (key_pressed(LookKey::Home)) scroll.y = 0;
  if (key_pressed(LookKey::End)) scroll.y = farthest(scroll);
}

/// A slim bar where there is room beside; on phones only while it moves.
void draw_bar(const ScrollState& scroll) {
  const bool moves = scroll.gliding || (scroll.held && state().pointer.touch && state().pointer.moved);
  if (farthest(scroll) <= 1 || (!state().look.wide_rail() && !moves)) return;
  const Box& a = scroll.area;
  const float height = std::max(24.0f, a.height() * scroll.view / scroll.content);
  const float top = a.top + (a.height() - height) * (scroll.y / farthest(scroll));
  fill_box({a.right - 5, top + 2, a.right - 1, top + height - 2}, colors().rule, 2);
}

}  // namespace

namespace look_state {
void reveal_here(const Box& box) {
  State& s = state();
  if (s.scrolls.empty()) return;
  ScrollState& scroll = s.scroll[s.scrolls.back()];
  const float margin = 12;
  if (box.top < scroll.area.top + margin) {
    scroll.aim = scroll.y + box.top - scroll.area.top - margin;
  } else if (box.bottom > scroll.area.bottom - margin) {
    scroll.aim = scroll.y + std::min(box.bottom - scroll.area.bottom + margin, box.top - scroll.area.top - margin);
  } else {
    return;
  }
  scroll.aim = std::max(0.0f, scroll.aim);
  want_frame();
}
}  // namespace look_state

Scroll::Scroll(std::string_view id, const Box& area, float across, float above, float below)
    : id_(item_id(id)), area_(area), above_(above), below_(below) {
  State& s = state();
  ScrollState& scroll = s.scroll[id_];
  scroll.area = meet(area, clip_box());
  scroll.view = area.height();
  if (s.scrolls.empty() && s.key_scroll == 0 && s.layer == 0) s.key_scroll = id_;
  drag(scroll, id_);
  glide(scroll);
  wheel_and_keys(scroll, id_);
  if (scroll.aim >= 0) {
    scroll.y = scroll.aim;
    scroll.aim = -1;
  }
  if (scroll.content > 0) scroll.y = std::clamp(scroll.y, 0.0f, farthest(scroll));
  offset_ = snap(scroll.y);
  start_y_ = area.top + above - offset_;
  pen = Pen(area.left + across, area.right - across, start_y_);
  s.scrolls.push_back(id_);
  s.clips.push_back(meet(area, clip_box()));
  ImGui::PushClipRect(top_left(clip_box()),
                      {std::max(clip_box().left, clip_box().right), std::max(clip_box().top, clip_box().bottom)},
                      false);
}

Scroll::~Scroll() {
  State& s = state();
  ScrollState& scroll = s.scroll[id_];
  const float content = pen.y - start_y_ + above_ + below_;
  if (std::abs(content - scroll.content) > 0.5f && scroll.y > std::max(0.0f, content - scroll.view)) want_frame();
  scroll.content = content;
  draw_bar(scroll);
  ImGui::PopClipRect();
  s.clips.pop_back();
  s.scrolls.pop_back();
}

void long_list(Pen& pen, const LongList& list) {
  for (std::size_t i = 0; i < list.count; ++i) {
    const Box row = pen.take(list.row_height);
    pen.space(list.gap);
    if (is_visible(row)) {
      list.draw(i, row);
      continue;
    }
    Item item;
    item.id = list.id(i);
    item.role = list.role;
    item.name = list.name(i);
    item.drawn = false;
    item.enabled = !is_behind_modal(state().layer);
    if (item_tree().take_reveal(item.id)) reveal_here(row);
    add_item(std::move(item));
  }
}

}  // namespace steep
