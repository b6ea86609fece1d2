#include "look/field.h"

#include <algorithm>
#include <cstring>

#include "imgui_internal.h"
#include "look/draw.h"
#include "look/fonts.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kAcross = 13;

/// Room of the text inside the box.
struct Inside {
  float left, right;
};
Inside inside_of(const TextField& spec) {
  return {kAcross + (spec.icon != Icon::None ? 30 : 0),
          kAcross + (spec.unit.empty() ? 0 : text_width(TextStyle::Body, spec.unit) + 8)};
}

float box_height(const TextField& spec) {
  const float line = line_height(TextStyle::Body);
  return spec.kind == FieldKind::MultiLine ? std::max(size::kTouch, line * static_cast<float>(spec.lines) + 22)
                                           : std::max(size::kTouch, line + 20);
}

/// Lets ImGui write straight into the caller's string.
int grow(ImGuiInputTextCallbackData* data) {
  if (data->EventFlag == ImGuiInputTextFlags_CallbackResize) {
    auto* text = static_cast<std::string*>(data->UserData);
    text->resize(static_cast<std::size_t>(data->BufTextLen));
    data->Buf = text->data();
  }
  return 0;
}

/// At most `most` code points.
void shorten(std::string& text, int most) {
  if (most <= 0) return;
  int count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if ((static_cast<unsigned char>(text[i]) & 0xC0) == 0x80) continue;
    if (count++ == most) return text.resize(i);
  }
}

/// As many signs as letters: what ImGui, too, shows of a secret while it is typed.
std::string hidden(std::string_view text) {
  const auto letters =
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; });
  return std::string(static_cast<std::size_t>(letters), '*');
}

/// The field ImGui edits just now. Only the one with the caret is an InputText: all others are
/// drawn like any text, so that they wrap, align and scroll with the page.
void native_field(std::uint32_t id, const Box& box, const TextField& spec, std::string& text, FieldEvent& event) {
  State& s = state();
  const Inside in = inside_of(spec);
  const float size = text_size(TextStyle::Body);
  ImGui::PushFont(font_of(false), size);
  const bool many = spec.kind == FieldKind::MultiLine;
  const float height = many ? box.height() - 8 : ImGui::GetFontSize() + 8;
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {0, 4});
  ImGui::PushStyleColor(ImGuiCol_FrameBg, 0u);
  ImGui::PushStyleColor(ImGuiCol_ChildBg, 0u);
  ImGui::PushStyleColor(ImGuiCol_Text, colors().ink);
  ImGui::PushStyleColor(ImGuiCol_InputTextCursor, colors().ink);
  ImGui::PushStyleColor(ImGuiCol_TextSelectedBg, faded(colors().due, 0.5f));
  ImGui::SetCursorScreenPos({box.left + in.left, many ? box.top + 4 : box.center().y - height / 2});
  ImGui::SetNextItemWidth(box.width() - in.left - in.right);
  ImGui::PushID(static_cast<int>(id));
  if (s.want_field == id) {
    ImGui::SetKeyboardFocusHere();
    want_frame();
  }
  const std::string before = text;
  const ImGuiInputTextFlags flags =
      ImGuiInputTextFlags_CallbackResize | (spec.kind == FieldKind::Secret ? ImGuiInputTextFlags_Password : 0);
  bool entered = false;
  text.reserve(std::max<std::size_t>(text.capacity(), 15));
  if (many) {
    ImGui::InputTextMultiline("##field", text.data(), text.capacity() + 1, {box.width() - in.left - in.right, height},
                              flags, grow, &text);
  } else {
    entered = ImGui::InputText("##field", text.data(), text.capacity() + 1,
                               flags | ImGuiInputTextFlags_EnterReturnsTrue, grow, &text);
  }
  text.resize(std::strlen(text.c_str()));
  shorten(text, spec.max_length);
  const bool active = ImGui::IsItemActive();
  event.changed = event.changed || text != before;
  if (active && s.want_field == id) s.want_field = 0;
  event.done = event.done || entered || ImGui::IsItemDeactivated();
  if (!active && s.want_field != id) s.focus_field = 0;
  ImGui::PopID();
  ImGui::PopStyleColor(5);
  ImGui::PopStyleVar();
  ImGui::PopFont();
}

/// What the platform's own field typed since the last frame.
void take_typed(std::uint32_t id, const TextField& spec, std::string& text, FieldEvent& event) {
  bool done = false;
  std::string typed;
  if (!item_tree().take_typing(id, typed, done)) return;
  shorten(typed, spec.max_length);
  event.changed = typed != text;
  event.done = done;
  text = std::move(typed);
  want_frame();
}

void add_field_item(std::uint32_t id, const Box& seen, const TextField& spec, const std::string& text, bool enabled) {
  Item item;
  item.id = id;
  item.role = Role::Field;
  item.name = spoken_or(spec.label, {spec.hint});
  item.value = text;
  item.error = spec.error;
  item.rect = item_rect(seen);
  item.enabled = enabled;
  item.kind = spec.kind;
  item.font_px = text_size(TextStyle::Body);
  item.max_length = spec.max_length;
  add_item(std::move(item));
}

/// A tap or a press by name puts the caret into the field.
void follow_touch(std::uint32_t id, const Box& box, const Box& seen) {
  State& s = state();
  s.focusables.push_back({id, s.layer, Role::Field, box});
  if (s.focus == id && s.focus_moved) reveal_here(box);
  const Pointer& p = s.pointer;
  if (p.began && seen.contains(p.pos) && reaches(p.pos, s.layer)) {
    s.pointer.active = id;
    s.pointer.active_weight = 2;
  }
  const bool hit = p.active == id && !p.cancelled && p.ended && (p.touch ? !p.moved : seen.contains(p.pos));
  if (hit || item_tree().take_press(id)) {
    s.want_field = id;
    s.focus = id;
    want_frame();
  }
  if (s.want_field == id && s.look.native_text) s.focus_field = id;
}

/// Edge, icon and unit; what stands between them is the text.
void draw_frame(const Box& box, const TextField& spec, bool enabled, bool focused) {
  const Tokens& t = colors();
  const bool wrong = !spec.error.empty();
  panel(box, t.surface,
        wrong      ? t.beet
        : !enabled ? t.rule
                   : t.line,
        focused ? 3 : size::kEdgePress, size::kRadiusButton);
  if (spec.icon != Icon::None) draw_icon({box.left + kAcross + 10, box.center().y}, 22, spec.icon, t.ink);
  if (!spec.unit.empty())
    draw_text({box.left, box.top, box.right - kAcross, box.bottom}, TextStyle::Body, t.ink, spec.unit, Align::Right);
  if (wrong) draw_icon({box.right - 20, box.top + 20}, 20, Icon::NotSaved, t.beet);
}

/// The text of a field without the caret, or its hint.
void draw_still(const Box& box, const TextField& spec, const std::string& text) {
  const Inside in = inside_of(spec);
  const Box words{box.left + in.left, box.top, box.right - in.right, box.bottom};
  const Clip clip(words.inset(-1, 2));
  const std::string signs = spec.kind == FieldKind::Secret ? hidden(text) : std::string();
  const std::string_view shown = text.empty()    ? spec.hint
                                 : signs.empty() ? std::string_view(text)
                                                 : std::string_view(signs);
  const Color color = text.empty() ? colors().ink2 : colors().ink;
  if (spec.kind == FieldKind::MultiLine)
    draw_wrapped(words.inset(0, 10), TextStyle::Body, color, shown);
  else
    draw_cut(words, TextStyle::Body, color, shown);
}

}  // namespace

FieldEvent text_field(const Box& box, const TextField& spec, std::string& text) {
  State& s = state();
  const std::uint32_t id = item_id(spec.id);
  FieldEvent event;
  take_typed(id, spec, text, event);
  const Box seen = visible_part(box);
  const bool enabled = spec.enabled && !is_behind_modal(s.layer);
  add_field_item(id, seen, spec, text, enabled);
  if (item_tree().take_reveal(id)) reveal_here(box);
  if (enabled) follow_touch(id, box, seen);
  const bool editing = s.look.native_text && enabled && s.focus_field == id;
  event.focused = editing || (enabled && s.focus == id && s.focus_shown);
  if (!is_visible(box)) return event;
  draw_frame(box, spec, enabled, event.focused);
  if (editing)
    native_field(id, box, spec, text, event);
  else
    draw_still(box, spec, text);
  return event;
}

float text_field_height(float width, const TextField& spec) {
  float height = box_height(spec);
  if (!spec.label.empty() && !spec.label_hidden)
    height += wrapped_height(width, TextStyle::LabelStrong, spec.label) + 4;
  if (!spec.error.empty()) height += wrapped_height(width, TextStyle::Label, spec.error) + 4;
  return height;
}

FieldEvent text_field(Pen& pen, const TextField& spec, std::string& text) {
  const Tokens& t = colors();
  if (!spec.label.empty() && !spec.label_hidden) {
    // Not an item of its own: the field carries the name.
    draw_wrapped(pen.take(wrapped_height(pen.width(), TextStyle::LabelStrong, spec.label)), TextStyle::LabelStrong,
                 t.ink, spec.label);
    pen.space(4);
  }
  const FieldEvent event = text_field(pen.take(box_height(spec)), spec, text);
  if (!spec.error.empty()) {
    pen.space(4);
    const Box below = pen.take(wrapped_height(pen.width(), TextStyle::Label, spec.error));
    draw_wrapped(below, TextStyle::Label, t.beet, spec.error);
    add_text_item(item_id(spec.id) ^ 0x0E44u, Role::Alert, spec.error, below);
  }
  return event;
}

void focus_field(std::string_view id) {
  state().want_field = item_id(id);
  state().focus = state().want_field;
  want_frame();
}

}  // namespace steep
