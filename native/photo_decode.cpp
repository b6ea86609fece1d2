#include "native/photo_decode.h"

#include <algorithm>
#include <memory>

// The image loader of libstb: only what photos need, and no files.
#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_JPEG
#define STBI_ONLY_PNG
#define STBI_NO_STDIO
#define STBI_NO_LINEAR
#define STBI_MAX_DIMENSIONS 30000
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#include <stb/stb_image.h>
#pragma GCC diagnostic pop

namespace steep {
namespace {

using namespace std::string_view_literals;

/// Numbers of a TIFF block, in its own byte order; 0 beyond its end.
struct Tiff {
  std::string_view bytes;
  bool little = false;
  std::uint32_t number(std::size_t at, int size) const {
    std::uint32_t value = 0;
    for (int i = 0; i < size; ++i) {
      const std::size_t place = at + static_cast<std::size_t>(little ? size - 1 - i : i);
      value = value << 8 | (place < bytes.size() ? static_cast<unsigned char>(bytes[place]) : 0u);
    }
    return value;
  }
};

int orientation_in(std::string_view block) {
  Tiff tiff{block, block.starts_with("II"sv)};
  const std::size_t list = tiff.number(4, 4);
  const std::uint32_t entries = tiff.number(list, 2);
  for (std::uint32_t i = 0; i < entries && i < 512; ++i) {
    const std::size_t entry = list + 2 + 12 * std::size_t{i};
    if (tiff.number(entry, 2) != 0x0112) continue;
    const std::uint32_t value = tiff.number(entry + 8, 2);
    return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
  }
  return 1;
}

/// Where the pixel at (x, y) of the upright picture comes from. Odd and even values as in Exif's table.
struct Turned {
  int orientation, width, height;  // of the stored picture
  bool sideways() const { return orientation >= 5; }
  int across() const { return sideways() ? height : width; }
  int down() const { return sideways() ? width : height; }
  std::size_t from(int x, int y) const {
    int sx = x, sy = y;
    switch (orientation) {
      case 2: sx = width - 1 - x; break;
      case 3: sx = width - 1 - x; sy = height - 1 - y; break;
      case 4: sy = height - 1 - y; break;
      case 5: sx = y; sy = x; break;
      case 6: sx = y; sy = height - 1 - x; break;
      case 7: sx = width - 1 - y; sy = height - 1 - x; break;
      case 8: sx = width - 1 - y; sy = x; break;
      default: break;
    }
    return (static_cast<std::size_t>(sy) * static_cast<std::size_t>(width) + static_cast<std::size_t>(sx)) * 3;
  }
};

/// Each pixel the mean of those that it stands for.
Pixels scaled(const unsigned char* rgb, const Turned& turned, int side) {
  const int across = turned.across(), down = turned.down(), longest = std::max(across, down);
  Pixels out;
  out.width = longest <= side ? across : std::max(1, static_cast<int>(static_cast<long>(across) * side / longest));
  out.height = longest <= side ? down : std::max(1, static_cast<int>(static_cast<long>(down) * side / longest));
  out.rgba.reserve(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height) * 4);
  for (int y = 0; y < out.height; ++y) {
    const int top = static_cast<int>(static_cast<long>(y) * down / out.height);
    const int bottom = std::max(top + 1, static_cast<int>(static_cast<long>(y + 1) * down / out.height));
    for (int x = 0; x < out.width; ++x) {
      const int left = static_cast<int>(static_cast<long>(x) * across / out.width);
      const int right = std::max(left + 1, static_cast<int>(static_cast<long>(x + 1) * across / out.width));
      unsigned long sums[3] = {0, 0, 0};
      for (int v = top; v < bottom; ++v)
        for (int u = left; u < right; ++u)
          for (std::size_t c = 0; c < 3; ++c) sums[c] += rgb[turned.from(u, v) + c];
      const unsigned long count = static_cast<unsigned long>(bottom - top) * static_cast<unsigned long>(right - left);
      for (const unsigned long sum : sums) out.rgba += static_cast<char>(sum / count);
      out.rgba += '\xFF';
    }
  }
  return out;
}

}  // namespace

int exif_orientation(std::string_view jpeg) {
  std::size_t at = 2;  // Behind SOI: segments of marker, length, content (ITU-T T.81, B.1.1.4).
  while (at + 4 <= jpeg.size() && jpeg[at] == '\xFF') {
    const auto marker = static_cast<unsigned char>(jpeg[at + 1]);
    const std::size_t length = static_cast<std::size_t>(static_cast<unsigned char>(jpeg[at + 2])) << 8 | static_cast<unsigned char>(jpeg[at + 3]);
    if (marker == 0xDA || length < 2) break;  // The picture begins.
    const std::string_view content = jpeg.substr(at + 4, length - 2);
    if (marker == 0xE1 && content.starts_with("Exif\0\0"sv)) return orientation_in(content.substr(6));
    at += 2 + length;
  }
  return 1;
}

Result<Pixels> decode_photo(std::string_view bytes, int side) {
  const auto refused = [] { return refuse(Trouble::Unsupported, "photo.cannot_show"_w); };
  const auto* data = reinterpret_cast<const stbi_uc*>(bytes.data());
  const int size = static_cast<int>(std::min<std::size_t>(bytes.size(), 1u << 30));
  int width = 0, height = 0, channels = 0;
  // Its size is asked for before any memory is taken for its pixels.
  if (stbi_info_from_memory(data, size, &width, &height, &channels) == 0) return refused();
  if (width < 1 || height < 1 || static_cast<long>(width) * height > kMostPixels) return refused();
  const std::unique_ptr<stbi_uc, void (*)(void*)> rgb(stbi_load_from_memory(data, size, &width, &height, &channels, 3), stbi_image_free);
  if (!rgb) return refused();
  return scaled(rgb.get(), {exif_orientation(bytes), width, height}, side);
}

}  // namespace steep
