#include "screens/harness.h"

#include <chrono>

#include "imgui.h"
#include "imgui_internal.h"
#include "look/fonts.h"
#include "look/frame.h"
#include "look/picture.h"

namespace steep::test {

Harness::Harness(Look first_look, Language language)
    : look(first_look), words(language), context_(ImGui::CreateContext()) {
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
  load_fonts(*io.Fonts);
}

Harness::~Harness() {
  for (ImTextureData* texture : ImGui::GetPlatformIO().Textures)
    if (texture->RefCount == 1) {
      texture->SetTexID(ImTextureID_Invalid);
      texture->SetStatus(ImTextureStatus_Destroyed);
    }
  set_item_tree(nullptr);
  end_pictures();
  ImGui::DestroyContext(context_);
}

void Harness::frame() {
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {look.width, look.height};
  io.DisplayFramebufferScale = {look.density, look.density};
  io.DeltaTime = 1.0f / 60;
  now += 1.0 / 60;
  const auto start = std::chrono::steady_clock::now();
  if (whole_frame) {
    whole_frame();
  } else {
    ImGui::NewFrame();
    begin_look(look, words, tree, now);
    if (draw) draw();
    end_look();
    ImGui::Render();
  }
  last_frame_ms_ = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
  take_textures(*ImGui::GetDrawData());
}

void Harness::drain() {
  do frame();
  while (!ImGui::GetCurrentContext()->InputEventsQueue.empty());
}

int Harness::settle(int most) {
  int count = 0;
  do {
    frame();
    ++count;
  } while (count < most && (next_frame_in() <= 0.02 || count < 2));
  return count;
}

void Harness::wait(double seconds) {
  const double until = now + seconds;
  while (now + 1.0 / 60 < until) {
    if (next_frame_in() < 1e6)
      frame();
    else
      now += 1.0 / 60;
  }
  frame();
}

void Harness::press_id(std::uint32_t id) {
  now += 0.5;  // No bounce of the press before.
  tree.press(id);
  frame();
  settle();
}

bool Harness::press(std::string_view name) {
  const Item* item = tree.find(name);
  if (!item || !item->enabled) return false;
  press_id(item->id);
  return true;
}

bool Harness::press(Role role, std::string_view name) {
  const Item* item = tree.find(role, name);
  if (!item || !item->enabled) return false;
  press_id(item->id);
  return true;
}

bool Harness::type(std::string_view name, std::string text, bool done) {
  const Item* item = tree.find(Role::Field, name);
  if (!item || !tree.type(item->id, std::move(text), done)) return false;
  settle();
  return true;
}

void Harness::touch_down(float x, float y) {
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  io.AddMouseSourceEvent(ImGuiMouseSource_TouchScreen);
  io.AddMousePosEvent(x, y);
  io.AddMouseButtonEvent(0, true);
  drain();
}

void Harness::touch_move(float x, float y) {
  ImGui::SetCurrentContext(context_);
  ImGui::GetIO().AddMousePosEvent(x, y);
  drain();
}

void Harness::touch_up() {
  ImGui::SetCurrentContext(context_);
  ImGui::GetIO().AddMouseButtonEvent(0, false);
  drain();
}

void Harness::tap(float x, float y) {
  now += 0.5;
  touch_down(x, y);
  touch_up();
  settle();
}

bool Harness::tap(std::string_view name) {
  const Item* item = tree.find(name);
  if (!item || item->rect == ItemRect{}) return false;
  tap((item->rect.left + item->rect.right) / 2, (item->rect.top + item->rect.bottom) / 2);
  return true;
}

void Harness::mouse_move(float x, float y) {
  ImGui::SetCurrentContext(context_);
  ImGui::GetIO().AddMouseSourceEvent(ImGuiMouseSource_Mouse);
  ImGui::GetIO().AddMousePosEvent(x, y);
  frame();
}

void Harness::mouse_click(float x, float y) {
  now += 0.5;
  mouse_move(x, y);
  ImGui::GetIO().AddMouseButtonEvent(0, true);
  frame();
  ImGui::GetIO().AddMouseButtonEvent(0, false);
  frame();
  settle();
}

void Harness::key(int imgui_key, bool shift) {
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  if (shift) io.AddKeyEvent(ImGuiMod_Shift, true);
  io.AddKeyEvent(static_cast<ImGuiKey>(imgui_key), true);
  frame();
  io.AddKeyEvent(static_cast<ImGuiKey>(imgui_key), false);
  if (shift) io.AddKeyEvent(ImGuiMod_Shift, false);
  settle();
}

Picture Harness::picture() const {
  ImGui::SetCurrentContext(context_);
  return rasterize(*ImGui::GetDrawData());
}

bool Harness::save(const std::string& path) const { return write_png(path, picture()); }

}  // namespace steep::test
