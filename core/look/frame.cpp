#include "look/frame.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "imgui_internal.h"
#include "look/draw.h"
#include "look/fonts.h"
#include "look/frame_state.h"

namespace steep {
namespace look_state {

State& state() {
  static State only;  // One interface a process; a new Dear ImGui context starts it anew (begin_look).
  return only;
}

ImDrawList* draw_list() { return ImGui::GetWindowDrawList(); }

Color behind() { return state().grounds.back(); }

Underlay::Underlay() {
  State& s = state();
  if (s.splitters_used == s.splitters.size()) s.splitters.push_back(std::make_unique<ImDrawListSplitter>());
  splitter_ = s.splitters[s.splitters_used++].get();
  splitter_->Split(draw_list(), 2);
  splitter_->SetCurrentChannel(draw_list(), 1);
}
void Underlay::below() { splitter_->SetCurrentChannel(draw_list(), 0); }
Underlay::~Underlay() {
  splitter_->Merge(draw_list());
  --state().splitters_used;
}

bool reaches(Point p, int layer) {
  return std::none_of(state().overlays_before.begin(), state().overlays_before.end(),
                      [&](const Overlay& over) { return over.layer > layer && (over.modal || over.box.contains(p)); });
}

bool is_behind_modal(int layer) {
  return std::any_of(state().overlays_before.begin(), state().overlays_before.end(),
                     [&](const Overlay& over) { return over.layer > layer && over.modal; });
}

Box visible_part(const Box& box) {
  const Box seen = meet(box, clip_box());
  if (seen.empty()) return {};
  for (const Overlay& over : state().overlays_before)
    if (over.layer > state().layer && over.box.contains(seen.center())) return {};
  return seen;
}

void add_item(Item item) {
  if (item.id != 0) state().own_items.push_back(item.id);
  item_tree().add(std::move(item));
}

std::string spoken(std::initializer_list<std::string_view> texts) {
  std::string out;
  for (std::string_view text : texts) {
    if (text.empty()) continue;
    if (!out.empty()) out += ", ";
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (text.substr(i, 2) == "**") {
        ++i;
        continue;
      }
      out += text[i];
    }
  }
  return out;
}

std::string spoken_or(std::string_view given, std::initializer_list<std::string_view> texts) {
  return given.empty() ? spoken(texts) : std::string(given);
}

namespace {

void read_pointer(State& s) {
  const ImGuiIO& io = ImGui::GetIO();
  Pointer& p = s.pointer;
  p.before = p.pos;
  p.pos = {io.MousePos.x, io.MousePos.y};
  p.began = ImGui::IsMouseClicked(ImGuiMouseButton_Left);
  p.ended = ImGui::IsMouseReleased(ImGuiMouseButton_Left);
  p.down = io.MouseDown[0];
  if (p.began) {
    p.start = p.before = p.pos;
    p.touch = io.MouseSource != ImGuiMouseSource_Mouse;
    p.moved = p.cancelled = false;
    p.began_at = s.now;
    p.active = p.scroll = p.drag = 0;
    p.active_weight = 0;
    s.focus_shown = false;
  }
  if (p.down && !p.moved && std::hypot(p.pos.x - p.start.x, p.pos.y - p.start.y) > size::kSlop) {
    p.moved = true;
    // A finger past the slop scrolls and never presses; a mouse may wander inside its target.
    if (p.touch) p.active = 0;
  }
  if (p.down || p.ended) want_frame();
}

/// Tab and arrows move the focus natively; on the page the browser's own focus leads.
void move_focus(State& s) {
  s.focus_moved = s.press_focused = false;
  const bool typing = ImGui::GetIO().WantTextInput;
  s.text_active = typing;
  if (!s.look.native_text) return;
  const bool tab = ImGui::IsKeyPressed(ImGuiKey_Tab);
  const bool down = !typing && ImGui::IsKeyPressed(ImGuiKey_DownArrow),
             up = !typing && ImGui::IsKeyPressed(ImGuiKey_UpArrow);
  const auto& all = s.focusables_before;
  if ((tab || down || up) && !all.empty()) {
    const int top = std::max_element(all.begin(), all.end(), [](auto& a, auto& b) { return a.layer < b.layer; })->layer;
    const bool modal = is_behind_modal(0) && top > 0;
    std::vector<const Focusable*> chain;
    const auto current = std::find_if(all.begin(), all.end(), [&](const Focusable& f) { return f.id == s.focus; });
    const bool among_rows =
        !tab && current != all.end() && (current->role == Role::Row || current->role == Role::Choice);
    for (const Focusable& f : all)
      if ((!modal || f.layer == top) && (!among_rows || f.role == current->role)) chain.push_back(&f);
    if (!tab && !among_rows) chain.clear();  // Arrows elsewhere scroll.
    if (!chain.empty()) {
      const bool backwards = up || (tab && ImGui::GetIO().KeyShift);
      auto at = std::find_if(chain.begin(), chain.end(), [&](const Focusable* f) { return f->id == s.focus; });
      if (at == chain.end()) {
        at = backwards ? chain.end() - 1 : chain.begin();
      } else if (backwards) {
        at = at == chain.begin() ? (tab ? chain.end() - 1 : at) : at - 1;
      } else {
        at = at + 1 == chain.end() ? (tab ? chain.begin() : at) : at + 1;
      }
      s.focus = (*at)->id;
      s.focus_shown = s.focus_moved = true;
      if ((*at)->role == Role::Field) s.want_field = s.focus;
      want_frame();
    }
  }
  if (s.focus_shown && !typing)
    s.press_focused = ImGui::IsKeyPressed(ImGuiKey_Enter, false) || ImGui::IsKeyPressed(ImGuiKey_KeypadEnter, false) ||
                      ImGui::IsKeyPressed(ImGuiKey_Space, false);
}

void open_window(const Look& l) {
  ImGuiStyle& style = ImGui::GetStyle();
  style.CircleTessellationMaxError = 0.08f;
  style.WindowPadding = {0, 0};
  style.WindowBorderSize = 0;
  style.WindowRounding = 0;
  style.FrameBorderSize = 0;
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize({l.width, l.height});
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBackground |
                                      ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollWithMouse |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  ImGui::Begin("##steepbook", nullptr, kFlags);
  ImDrawList* list = draw_list();
  list->_FringeScale = 1.0f / l.density;  // Soft edges one device pixel wide at any density.
  for (ImFont* font : {font_of(false), font_of(true), icon_font()})
    if (font) font->CurrentRasterizerDensity = l.density;
}

}  // namespace
}  // namespace look_state

using namespace look_state;

void begin_look(const Look& l, const Words& words, ItemTree& tree, double now_s) {
  State& s = state();
  if (ImGui::GetFrameCount() <= 1) s = State{};
  s.before = s.first ? now_s : s.now;
  s.now = now_s;
  s.dt = std::clamp(s.now - s.before, 0.0, 0.1);  // After a sleep nothing jumps.
  s.first = false;
  if (std::exchange(s.pressed, false)) s.answered_at = s.now;
  s.look = l;
  s.words = &words;
  s.tree = &tree;
  s.wake = std::numeric_limits<double>::infinity();
  set_item_tree(&tree);
  tree.begin_frame();
  if (tree.has_requests()) want_frame();
  keep_hooks();
  ImGui::GetCurrentContext()->TestEngineHookItems = true;
  s.own_items.clear();
  s.overlays_before.swap(s.overlays);
  s.overlays.clear();
  s.focusables_before.swap(s.focusables);
  s.focusables.clear();
  s.layer = 0;
  s.sheet_cover_before = s.sheet_cover;
  s.sheet_cover = 0;
  s.sheet_before = s.sheet;
  s.sheet = 0;
  s.refused_on = 0;
  s.ids.clear();
  s.clips.assign(1, Box{0, 0, l.width, l.height});
  s.scrolls.clear();
  s.grounds.assign(1, colors().ground);
  read_pointer(s);
  move_focus(s);
  open_window(l);
  fill_box(s.clips.front(), colors().ground);
}

void draw_toast();  // caution.cpp

void end_look() {
  State& s = state();
  draw_toast();
  assert(s.clips.size() == 1 && s.ids.empty() && s.scrolls.empty());
  ImGui::End();
  if (s.pointer.ended) {
    s.pointer.active = s.pointer.scroll = s.pointer.drag = 0;
    s.repeating = 0;
  }
  s.pinch = 1;
  s.close_sheet = false;
  item_tree().end_frame();
  if (item_tree().has_requests()) want_frame();
  // Tree and words are the program's, which may be gone before the next frame.
  s.tree = nullptr;
  s.words = nullptr;
  set_item_tree(nullptr);
}

double look_time() { return state().now; }
const Words& look_words() { return *state().words; }

void want_frame(double seconds) { state().wake = std::min(state().wake, std::max(0.0, seconds)); }
double next_frame_in() { return state().wake; }

std::uint32_t item_id(std::string_view id) {
  const std::uint32_t seed = state().ids.empty() ? 0x57EEB00Cu : state().ids.back();
  return ImHashData(id.data(), id.size(), seed);
}

IdScope::IdScope(std::string_view id) { state().ids.push_back(item_id(id)); }
IdScope::IdScope(std::string_view id, std::int64_t number) {
  state().ids.push_back(ImHashData(&number, sizeof number, item_id(id)));
}
IdScope::~IdScope() { state().ids.pop_back(); }

Clip::Clip(const Box& box) {
  state().clips.push_back(meet(box, clip_box()));
  const Box& in = clip_box();
  ImGui::PushClipRect(top_left(in), {std::max(in.left, in.right), std::max(in.top, in.bottom)}, false);
}
Clip::~Clip() {
  ImGui::PopClipRect();
  state().clips.pop_back();
}
const Box& clip_box() { return state().clips.back(); }
bool is_visible(const Box& box) { return !meet(box, clip_box()).empty(); }

bool key_pressed(LookKey key) {
  if (state().text_active && key != LookKey::Escape) return false;
  switch (key) {
    case LookKey::Escape: return ImGui::IsKeyPressed(ImGuiKey_Escape, false);
    case LookKey::Enter: return ImGui::IsKeyPressed(ImGuiKey_Enter, false);
    case LookKey::Slash: return ImGui::IsKeyPressed(ImGuiKey_Slash, false);
    case LookKey::Up: return ImGui::IsKeyPressed(ImGuiKey_UpArrow);
    case LookKey::Down: return ImGui::IsKeyPressed(ImGuiKey_DownArrow);
    case LookKey::Left: return ImGui::IsKeyPressed(ImGuiKey_LeftArrow);
    case LookKey::Right: return ImGui::IsKeyPressed(ImGuiKey_RightArrow);
    case LookKey::PageUp: return ImGui::IsKeyPressed(ImGuiKey_PageUp);
    case LookKey::PageDown: return ImGui::IsKeyPressed(ImGuiKey_PageDown);
    case LookKey::Home: return ImGui::IsKeyPressed(ImGuiKey_Home);
    case LookKey::End: return ImGui::IsKeyPressed(ImGuiKey_End);
    case LookKey::Undo: return ImGui::GetIO().KeyCtrl && ImGui::IsKeyPressed(ImGuiKey_Z, false);
  }
  return false;
}

void cancel_pointer() {
  Pointer& p = state().pointer;
  p.cancelled = true;
  p.active = p.scroll = p.drag = 0;
  state().repeating = 0;
}

void add_pinch(Point at, float factor) {
  state().pinch *= factor;
  state().pinch_at = at;
  cancel_pointer();  // A second finger is never a press.
}

void set_look_focus(std::uint32_t id) {
  state().focus = id;
  state().focus_shown = id != 0;
  state().focus_moved = id != 0;
}

}  // namespace steep
