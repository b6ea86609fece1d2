#include "look/picture.h"

#include <algorithm>
#include <cassert>
#include <cstring>
#include <vector>

#include "imgui.h"
#include "imgui_internal.h"

namespace steep {
namespace {

/// The renderer destroys what it made at its next frame; until then the texture has to be there.
std::vector<ImTextureData*>& leaving() {
  static std::vector<ImTextureData*> textures;
  return textures;
}

void forget(ImTextureData* texture) {
  if (ImGui::GetCurrentContext()) ImGui::UnregisterUserTexture(texture);
  IM_DELETE(texture);
}

void forget_gone() {
  std::erase_if(leaving(), [](ImTextureData* texture) {
    if (texture->Status != ImTextureStatus_Destroyed) return false;
    forget(texture);
    return true;
  });
}

}  // namespace

Picture::Picture(const Pixels& pixels) : texture_(IM_NEW(ImTextureData)()) {
  assert(pixels.width > 0 && pixels.height > 0 &&
         pixels.rgba.size() == static_cast<std::size_t>(pixels.width) * static_cast<std::size_t>(pixels.height) * 4);
  forget_gone();
  texture_->Create(ImTextureFormat_RGBA32, pixels.width, pixels.height);
  texture_->UseColors = true;
  std::memcpy(texture_->GetPixels(), pixels.rgba.data(), pixels.rgba.size());
  ImGui::RegisterUserTexture(texture_);
}

Picture::~Picture() {
  if (texture_->Status == ImTextureStatus_WantCreate || texture_->TexID == ImTextureID_Invalid) {
    texture_->SetStatus(ImTextureStatus_Destroyed);  // Never was on the card.
  } else {
    texture_->SetStatus(ImTextureStatus_WantDestroy);
    texture_->UnusedFrames = 1;
  }
  leaving().push_back(texture_);
  forget_gone();
}

void end_pictures() {
  for (ImTextureData* texture : leaving()) forget(texture);
  leaving().clear();
}

float Picture::ratio() const { return static_cast<float>(texture_->Width) / static_cast<float>(texture_->Height); }

void Picture::draw(const Box& box, float left, float top, float right, float bottom) const {
  // A lost canvas took all textures with it; this one still has its pixels.
  if (texture_->Status == ImTextureStatus_Destroyed) texture_->SetStatus(ImTextureStatus_WantCreate);
  ImGui::GetWindowDrawList()->AddImage(texture_->GetTexRef(), {box.left, box.top}, {box.right, box.bottom}, {left, top},
                                       {right, bottom});
}

void Picture::draw_whole(const Box& box) const {
  const float width = std::min(box.width(), box.height() * ratio()), height = width / ratio();
  const Point center = box.center();
  draw({center.x - width / 2, center.y - height / 2, center.x + width / 2, center.y + height / 2}, 0, 0, 1, 1);
}

void Picture::draw_filling(const Box& box) const {
  const float wanted = box.width() / box.height();
  const float across = std::min(1.0f, wanted / ratio()) / 2,
              down = std::min(1.0f, ratio() / wanted) / 2;  // Half the part that shows.
  draw(box, 0.5f - across, 0.5f - down, 0.5f + across, 0.5f + down);
}

}  // namespace steep
