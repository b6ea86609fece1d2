#pragma once
/// The fonts of the house in Dear ImGui's atlas: B612 Regular and Bold for text, the icon font.
/// Sizes are dynamic: glyphs are made sharp at each size and density when first drawn.

#include <span>

struct ImFont;
struct ImFontAtlas;

namespace steep {

struct FontFiles {
  std::span<const unsigned char> regular = {}, bold = {},
                                 icons = {};  ///< Whole files in memory; must outlive the atlas.
};
/// Adds the three fonts; once per context, after ImGui::CreateContext.
void load_fonts(ImFontAtlas& atlas, const FontFiles& files);
/// With the fonts built into the program (fonts_data.h).
void load_fonts(ImFontAtlas& atlas);

ImFont* font_of(bool bold);
ImFont* icon_font();

}  // namespace steep
