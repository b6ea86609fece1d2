#include "native/photo_decode.h"

#include <algorithm>
#include <memory>
#include <span>
#include <vector>

#include <png.h>
#include <turbojpeg.h>
#include <webp/decode.h>

#include "book/photos.h"

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
      case 3:
        sx = width - 1 - x;
        sy = height - 1 - y;
        break;
      case 4: sy = height - 1 - y; break;
      case 5:
        sx = y;
        sy = x;
        break;
      case 6:
        sx = y;
        sy = height - 1 - x;
        break;
      case 7:
        sx = width - 1 - y;
        sy = height - 1 - x;
        break;
      case 8:
        sx = width - 1 - y;
        sy = x;
        break;
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
    const std::size_t length = static_cast<std::size_t>(static_cast<unsigned char>(jpeg[at + 2])) << 8 |
                               static_cast<unsigned char>(jpeg[at + 3]);
    if (marker == 0xDA || length < 2) break;  // The picture begins.
    const std::string_view content = jpeg.substr(at + 4, length - 2);
    if (marker == 0xE1 && content.starts_with("Exif\0\0"sv)) return orientation_in(content.substr(6));
    at += 2 + length;
  }
  return 1;
}

namespace {

/// Three bytes a pixel, or nothing. Each asks for the size first: no memory is taken for more than kMostPixels.
struct Stored {
  int width = 0, height = 0;
  std::vector<unsigned char> rgb;

  bool room(int across, int down) {
    if (across < 1 || down < 1 || static_cast<long>(across) * down > kMostPixels) return false;
    width = across;
    height = down;
    rgb.resize(static_cast<std::size_t>(across) * static_cast<std::size_t>(down) * 3);
    return true;
  }
};

bool decode_jpeg(std::span<const unsigned char> bytes, Stored& out) {
  const std::unique_ptr<void, int (*)(tjhandle)> decoder(tjInitDecompress(), tjDestroy);
  if (!decoder) return false;
  // Cameras write many that are only nearly right: a warning is none of ours.
  const auto goes_on = [&decoder](int end) { return end == 0 || tjGetErrorCode(decoder.get()) == TJERR_WARNING; };
  int width = 0, height = 0, sampling = 0, colors = 0;
  const auto size = static_cast<unsigned long>(bytes.size());
  if (!goes_on(tjDecompressHeader3(decoder.get(), bytes.data(), size, &width, &height, &sampling, &colors)))
    return false;
  if (!out.room(width, height)) return false;
  // Few scans: a progressive file can say so many that each pixel is worked on for minutes.
  return goes_on(
      tjDecompress2(decoder.get(), bytes.data(), size, out.rgb.data(), width, 0, height, TJPF_RGB, TJFLAG_LIMITSCANS));
}

bool decode_png(std::span<const unsigned char> bytes, Stored& out) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  const std::unique_ptr<png_image, void (*)(png_imagep)> freed(&image, png_image_free);
  if (png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()) == 0) return false;
  image.format = PNG_FORMAT_RGB;
  const bool small = image.width <= 0x7FFFFFFF && image.height <= 0x7FFFFFFF;
  if (!small || !out.room(static_cast<int>(image.width), static_cast<int>(image.height))) return false;
  const png_color white{255, 255, 255};  // Behind what is see-through.
  return png_image_finish_read(&image, &white, out.rgb.data(), 0, nullptr) != 0;
}

bool decode_webp(std::span<const unsigned char> bytes, Stored& out) {
  int width = 0, height = 0;
  if (WebPGetInfo(bytes.data(), bytes.size(), &width, &height) == 0 || !out.room(width, height)) return false;
  return WebPDecodeRGBInto(bytes.data(), bytes.size(), out.rgb.data(), out.rgb.size(), 3 * width) != nullptr;
}

}  // namespace

Result<Pixels> decode_photo(std::string_view bytes, int side) {
  const std::span data(reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  Stored stored;
  bool decoded = false;
  if (const auto type = photo_type(bytes)) {
    switch (*type) {
      case PhotoType::Jpeg: decoded = decode_jpeg(data, stored); break;
      case PhotoType::Png: decoded = decode_png(data, stored); break;
      case PhotoType::Webp: decoded = decode_webp(data, stored); break;
    }
  }
  if (!decoded) return refuse(Trouble::Unsupported, "photo.cannot_show"_w);
  return scaled(stored.rgb.data(), {exif_orientation(bytes), stored.width, stored.height}, side);
}

}  // namespace steep
