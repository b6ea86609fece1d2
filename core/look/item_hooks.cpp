/// Dear ImGui's hooks for test programs. Our own widgets write the item tree themselves; whatever
/// is drawn with plain ImGui widgets comes in through here, so that nothing on screen has no name.

#include <algorithm>
#include <cstdarg>

#include "imgui.h"
#include "imgui_internal.h"
#include "look/frame_state.h"

using namespace steep;
using namespace steep::look_state;

namespace {
struct Added {
  ImGuiID id = 0;
  Box box;
};
Added last;  // ItemAdd comes directly before ItemInfo of the same item.
}  // namespace

namespace steep::look_state {
void keep_hooks() {}
}  // namespace steep::look_state

void ImGuiTestEngineHook_ItemAdd(ImGuiContext*, ImGuiID id, const ImRect& bb, const ImGuiLastItemData*) {
  last = {id, {bb.Min.x, bb.Min.y, bb.Max.x, bb.Max.y}};
}

void ImGuiTestEngineHook_ItemInfo(ImGuiContext*, ImGuiID id, const char* label, ImGuiItemStatusFlags flags) {
  if (id == 0 || id != last.id || !label || !state().tree) return;
  const char* end = ImGui::FindRenderedTextEnd(label);
  if (end == label) return;  // '##…': a widget of ours stands around it and has added the item.
  const auto& own = state().own_items;
  if (std::find(own.begin(), own.end(), id) != own.end()) return;
  Item item;
  item.id = id;
  item.name.assign(label, end);
  item.rect = item_rect(visible_part(last.box));
  item.role = flags & ImGuiItemStatusFlags_Inputable   ? Role::Field
              : flags & ImGuiItemStatusFlags_Checkable ? Role::Check
                                                       : Role::Button;
  item.on = (flags & ImGuiItemStatusFlags_Checked) != 0;
  add_item(std::move(item));
}

void ImGuiTestEngineHook_Log(ImGuiContext*, const char*, ...) {}

const char* ImGuiTestEngine_FindItemDebugLabel(ImGuiContext*, ImGuiID id) {
  for (const Item& item : item_tree().items())
    if (item.id == id) return item.name.c_str();
  return nullptr;
}
