#include "look/press.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

constexpr double kRepeatAfter_s = 0.4, kRepeatEvery_s = 1.0 / 6, kFastAfter_s = 2;

/// The target a finger gets: at least 48 each way (40 for a mouse on wide screens).
Box enlarged(const Box& box) {
  const float least = state().look.screen() == ScreenClass::Desktop ? size::kPointerTarget : size::kTouch;
  return centered(box, std::max(box.width(), least), std::max(box.height(), least));
}

constexpr Point kNoPlace{-1e9f, -1e9f};

}  // namespace

/// A wet glove bounces: presses within `guard_s` on the same item are one press, and so are two at one place, whatever has
/// come to stand there meanwhile. Time runs from when an answer could be seen; for keys, which are struck quickly, from
/// the press itself.
bool look_state::is_bounce(std::uint32_t id, double guard_s, Point place) {
  const State& s = state();
  const double since = guard_s < size::kDoublePress_s ? s.last_press_at : std::max(s.last_press_at, s.answered_at);
  const bool same_place =
      std::hypot(place.x - s.last_press_place.x, place.y - s.last_press_place.y) < size::kTouch / 2 &&
      place.x > kNoPlace.x;
  return s.now - since < guard_s && (s.last_press == id || same_place);
}

namespace {

bool passes_guard(std::uint32_t id, double guard_s, Point place = kNoPlace) {
  State& s = state();
  if (is_bounce(id, guard_s, place)) return false;
  s.last_press = id;
  s.last_press_at = s.now;
  s.last_press_place = place;
  s.pressed = true;
  return true;
}

/// Steps while held: one on the press, then six a second, ten each after two seconds.
int repeat_steps(std::uint32_t id, bool held) {
  State& s = state();
  if (!held) {
    if (s.repeating == id) s.repeating = 0;
    return 0;
  }
  if (s.repeating != id) {
    s.repeating = id;
    s.repeat_at = s.now + kRepeatAfter_s;
    want_frame(kRepeatAfter_s);
    return 0;
  }
  int steps = 0;
  while (s.now >= s.repeat_at && steps < 100) {
    steps += s.repeat_at - s.pointer.began_at >= kFastAfter_s ? 10 : 1;
    s.repeat_at += kRepeatEvery_s;
  }
  want_frame(s.repeat_at - s.now);
  return steps;
}

void add_to_tree(const PressSpec& spec, const Box& seen, bool enabled) {
  Item item;
  item.id = spec.id;
  item.role = spec.role;
  item.picks = spec.picks;
  item.name = spec.name;
  item.value = spec.value;
  item.rect = item_rect(seen);
  item.enabled = enabled;
  item.on = spec.on;
  add_item(std::move(item));
}

double guard_of(const PressSpec& spec) { return spec.repeats ? size::kKeyBounce_s : spec.guard_s; }

/// Where targets reach over each other, the one meant is that whose own box the finger is in.
void claim_pointer(std::uint32_t id, const Box& target) {
  Pointer& p = state().pointer;
  const int weight = target.contains(p.pos) ? 2 : 1;
  if (weight < p.active_weight) return;
  p.active = id;
  p.active_weight = weight;
}

/// By finger or mouse, which begin on the target and end on it.
void press_by_pointer(const PressSpec& spec, const Box& target, const Box& seen, Press& out) {
  State& s = state();
  const Pointer& p = s.pointer;
  const auto hit = [&](Point at) { return seen.contains(at) && reaches(at, s.layer); };
  out.hovered = !p.touch && !p.down && hit(p.pos);
  if (p.began && hit(p.pos)) claim_pointer(spec.id, target);
  if (p.active != spec.id) return;
  // A finger rolls: inside the slop its start counts, wherever it ends.
  const bool inside = p.touch ? !p.moved : hit(p.pos);
  out.down = p.down && inside;
  if (spec.repeats) out.steps = repeat_steps(spec.id, out.down);
  if (!p.ended || !inside) return;
  // A held stepper has done its steps already.
  const bool was_held = spec.repeats && s.now - p.began_at >= kRepeatAfter_s;
  if (!was_held) {
    out.pressed = passes_guard(spec.id, guard_of(spec), p.start);
    out.steps += out.pressed ? 1 : 0;
  }
  if (spec.role != Role::Field) s.focus = spec.id;
  want_frame();
}

}  // namespace

Press press(const PressSpec& spec, const Box& target) {
  State& s = state();
  Press out;
  assert(!spec.name.empty());
  const Box wide = enlarged(target);
  const Box seen = visible_part(wide);
  const bool enabled = spec.enabled && !is_behind_modal(s.layer);
  add_to_tree(spec, seen, enabled);
  if (item_tree().take_reveal(spec.id)) reveal_here(wide);
  if (!enabled) return out;

  s.focusables.push_back({spec.id, s.layer, spec.role, wide});
  if (s.focus == spec.id) {
    out.focused = s.focus_shown;
    if (s.focus_moved) reveal_here(wide);
  }
  // By name (tests, screen readers, with a file that the browser has) or by key. Two files are no bounce: one would be lost.
  if (item_tree().take_press(spec.id) || (s.press_focused && s.focus == spec.id)) {
    out.pressed = passes_guard(spec.id, spec.role == Role::FilePick ? 0 : guard_of(spec));
    out.steps = out.pressed ? 1 : 0;
    if (out.pressed) want_frame();
    return out;
  }
  if (!seen.empty() && !s.pointer.cancelled) press_by_pointer(spec, target, seen, out);
  return out;
}

void add_text_item(std::uint32_t id, Role role, std::string_view name, const Box& box) {
  if (name.empty()) return;
  Item item;
  item.id = id;
  item.role = role;
  item.name = spoken({name});
  item.rect = item_rect(visible_part(box));
  if (id != 0 && item_tree().take_reveal(id)) reveal_here(box);
  add_item(std::move(item));
}

void add_text_item(Role role, std::string_view name, const Box& box) {
  // Texts have no id of their own: what they say is what they are.
  add_text_item(item_id(name), role, name, box);
}

void focus_ring(const Box& box, float radius) {
  const float out = 2 + 3;
  edge_box(box.inset(-out), colors().ink, 3, radius + out);
}

Drag take_drags(std::uint32_t id, const Box& box) {
  State& s = state();
  Pointer& p = s.pointer;
  Drag out;
  const Box seen = visible_part(box);
  if (seen.empty() || is_behind_modal(s.layer)) return out;
  if (p.began && seen.contains(p.pos) && reaches(p.pos, s.layer)) p.drag = id;
  if (p.drag == id && p.down && p.moved && !p.cancelled) {
    out.active = true;
    out.by = p.pos - p.before;
    p.active = 0;
  }
  if (s.pinch != 1 && seen.contains(s.pinch_at)) {
    out.pinch = s.pinch;
    out.pinch_at = s.pinch_at;
  }
  const float wheel = ImGui::GetIO().MouseWheel;
  if (wheel != 0 && seen.contains(p.pos) && reaches(p.pos, s.layer)) {
    out.pinch *= std::pow(1.15f, wheel);
    out.pinch_at = p.pos;
    s.key_scroll = 0;
  }
  return out;
}

}  // namespace steep
