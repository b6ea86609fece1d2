#pragma once
/// Draws a frame of Dear ImGui without a graphics card: pictures for tests and for looking at.

#include <cstdint>
#include <string>
#include <vector>

struct ImDrawData;

namespace steep::test {

/// Pixels by rows from the top left; red in the lowest byte, opaque.
struct Picture {
  int width = 0, height = 0;
  std::vector<std::uint32_t> pixels;

  std::uint32_t at(int x, int y) const {
    return pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
  }
};

/// What a renderer does with changed textures: everything stays in memory, so nothing is copied.
void take_textures(const ImDrawData& data);
/// Textured triangles, scissor, alpha blending; one device pixel a pixel.
Picture rasterize(const ImDrawData& data);

/// The same picture without its colours, by the weights of luminance: is it readable in grey?
Picture in_grey(const Picture& picture);
/// An 8-bit RGB PNG (W3C PNG specification); false when it can't be written. Makes the folder.
bool write_png(const std::string& path, const Picture& picture);

}  // namespace steep::test
