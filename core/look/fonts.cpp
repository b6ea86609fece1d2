#include "look/fonts.h"

#include "imgui.h"
#include "look/fonts_data.h"

namespace steep {
namespace {

struct Fonts {
  ImFont* regular = nullptr;
  ImFont* bold = nullptr;
  ImFont* icons = nullptr;
};
Fonts fonts;

ImFont* add(ImFontAtlas& atlas, std::span<const unsigned char> file) {
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;
  // Negative: sizes mean the em, as the design counts them, not ascent plus descent.
  config.SizePixels = -16;
  // ImGui multiplies the limits of advances by size / SizePixels, which turns their signs here.
  config.GlyphMinAdvanceX = 1e6f;
  config.GlyphMaxAdvanceX = -1e6f;
  return atlas.AddFontFromMemoryTTF(const_cast<unsigned char*>(file.data()), static_cast<int>(file.size()), -16,
                                    &config);
}

}  // namespace

void load_fonts(ImFontAtlas& atlas, const FontFiles& files) {
  fonts.regular = add(atlas, files.regular);
  fonts.bold = add(atlas, files.bold);
  fonts.icons = add(atlas, files.icons);
}

void load_fonts(ImFontAtlas& atlas) { load_fonts(atlas, {font_regular(), font_bold(), font_icons()}); }

ImFont* font_of(bool bold) { return bold ? fonts.bold : fonts.regular; }
ImFont* icon_font() { return fonts.icons; }

}  // namespace steep
