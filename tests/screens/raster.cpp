#include "screens/raster.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

#include <zlib.h>

#include "imgui.h"

namespace steep::test {
namespace {

struct Pixel {
  float r, g, b, a;
};

Pixel unpack(std::uint32_t c) {
  return {static_cast<float>(c & 0xFF), static_cast<float>(c >> 8 & 0xFF), static_cast<float>(c >> 16 & 0xFF),
          static_cast<float>(c >> 24)};
}

/// Bilinear, clamped at the edges, as a graphics card does it.
Pixel sample(const ImTextureData& texture, float u, float v) {
  const float x = std::clamp(u * static_cast<float>(texture.Width) - 0.5f, 0.0f, static_cast<float>(texture.Width - 1));
  const float y =
      std::clamp(v * static_cast<float>(texture.Height) - 0.5f, 0.0f, static_cast<float>(texture.Height - 1));
  const int x0 = static_cast<int>(x), y0 = static_cast<int>(y);
  const int x1 = std::min(x0 + 1, texture.Width - 1), y1 = std::min(y0 + 1, texture.Height - 1);
  const float fx = x - static_cast<float>(x0), fy = y - static_cast<float>(y0);
  const auto read = [&](int px, int py) -> Pixel {
    const unsigned char* p = texture.Pixels + static_cast<std::size_t>(py * texture.Width + px) *
                                                  static_cast<std::size_t>(texture.BytesPerPixel);
    if (texture.Format == ImTextureFormat_Alpha8) return {255, 255, 255, static_cast<float>(*p)};
    return {static_cast<float>(p[0]), static_cast<float>(p[1]), static_cast<float>(p[2]), static_cast<float>(p[3])};
  };
  const Pixel a = read(x0, y0), b = read(x1, y0), c = read(x0, y1), d = read(x1, y1);
  const auto mix = [&](float p, float q, float r, float s) {
    return (p * (1 - fx) + q * fx) * (1 - fy) + (r * (1 - fx) + s * fx) * fy;
  };
  return {mix(a.r, b.r, c.r, d.r), mix(a.g, b.g, c.g, d.g), mix(a.b, b.b, c.b, d.b), mix(a.a, b.a, c.a, d.a)};
}

struct Corner {
  float x, y, u, v;
  Pixel color;
};

void triangle(Picture& picture, const Corner& a, const Corner& b, const Corner& c, const ImTextureData* texture,
              int left, int top, int right, int bottom) {
  // In double, so that two triangles that share an edge agree about it: no holes along seams.
  const double area = (double{b.x} - a.x) * (double{c.y} - a.y) - (double{b.y} - a.y) * (double{c.x} - a.x);
  if (area == 0) return;
  if (area < 0) return triangle(picture, a, c, b, texture, left, top, right, bottom);
  const int x0 = std::max(left, static_cast<int>(std::floor(std::min({a.x, b.x, c.x}) - 0.5f)));
  const int x1 = std::min(right - 1, static_cast<int>(std::ceil(std::max({a.x, b.x, c.x}))));
  const int y0 = std::max(top, static_cast<int>(std::floor(std::min({a.y, b.y, c.y}) - 0.5f)));
  const int y1 = std::min(bottom - 1, static_cast<int>(std::ceil(std::max({a.y, b.y, c.y}))));
  // A pixel on an edge belongs to one triangle only: the top-left rule.
  const auto edge = [](const Corner& p, const Corner& q, double x, double y) {
    return (double{q.x} - p.x) * (y - p.y) - (double{q.y} - p.y) * (x - p.x);
  };
  const auto owns = [](const Corner& p, const Corner& q) { return (p.y == q.y && q.x > p.x) || q.y < p.y; };
  const bool own_a = owns(b, c), own_b = owns(c, a), own_c = owns(a, b);
  for (int y = y0; y <= y1; ++y)
    for (int x = x0; x <= x1; ++x) {
      const double px = x + 0.5, py = y + 0.5;
      const double wa = edge(b, c, px, py), wb = edge(c, a, px, py), wc = edge(a, b, px, py);
      if (wa < 0 || wb < 0 || wc < 0) continue;
      if ((wa == 0 && !own_a) || (wb == 0 && !own_b) || (wc == 0 && !own_c)) continue;
      const float fa = static_cast<float>(wa / area), fb = static_cast<float>(wb / area),
                  fc = static_cast<float>(wc / area);
      Pixel s{a.color.r * fa + b.color.r * fb + c.color.r * fc, a.color.g * fa + b.color.g * fb + c.color.g * fc,
              a.color.b * fa + b.color.b * fb + c.color.b * fc, a.color.a * fa + b.color.a * fb + c.color.a * fc};
      if (texture) {
        const Pixel t = sample(*texture, a.u * fa + b.u * fb + c.u * fc, a.v * fa + b.v * fb + c.v * fc);
        s = {s.r * t.r / 255, s.g * t.g / 255, s.b * t.b / 255, s.a * t.a / 255};
      }
      if (s.a <= 0) continue;
      std::uint32_t& out = picture.pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                                          static_cast<std::size_t>(x)];
      const Pixel under = unpack(out);
      const float alpha = s.a / 255;
      const auto blend = [&](float over, float below) {
        return static_cast<std::uint32_t>(std::clamp(over * alpha + below * (1 - alpha) + 0.5f, 0.0f, 255.0f));
      };
      out = 0xFF000000u | blend(s.b, under.b) << 16 | blend(s.g, under.g) << 8 | blend(s.r, under.r);
    }
}

void put32(std::string& out, std::uint32_t value) {
  for (int shift = 24; shift >= 0; shift -= 8) out += static_cast<char>(value >> shift & 0xFF);
}

void chunk(std::string& out, std::string_view kind, std::string_view body) {
  put32(out, static_cast<std::uint32_t>(body.size()));
  std::string summed(kind);
  summed += body;
  out += summed;
  put32(out, static_cast<std::uint32_t>(
                 crc32(0, reinterpret_cast<const Bytef*>(summed.data()), static_cast<uInt>(summed.size()))));
}

}  // namespace

void take_textures(const ImDrawData& data) {
  if (!data.Textures) return;
  for (ImTextureData* texture : *data.Textures) {
    if (texture->Status == ImTextureStatus_WantCreate || texture->Status == ImTextureStatus_WantUpdates) {
      texture->SetTexID(1);
      texture->SetStatus(ImTextureStatus_OK);
    } else if (texture->Status == ImTextureStatus_WantDestroy && texture->UnusedFrames > 0) {
      texture->SetTexID(ImTextureID_Invalid);
      texture->SetStatus(ImTextureStatus_Destroyed);
    }
  }
}

Picture rasterize(const ImDrawData& data) {
  const float sx = data.FramebufferScale.x, sy = data.FramebufferScale.y;
  Picture picture;
  picture.width = static_cast<int>(std::lround(data.DisplaySize.x * sx));
  picture.height = static_cast<int>(std::lround(data.DisplaySize.y * sy));
  picture.pixels.assign(static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height),
                        0xFF000000u);
  for (const ImDrawList* list : data.CmdLists)
    for (const ImDrawCmd& command : list->CmdBuffer) {
      const int left = std::max(0, static_cast<int>(std::lround((command.ClipRect.x - data.DisplayPos.x) * sx)));
      const int top = std::max(0, static_cast<int>(std::lround((command.ClipRect.y - data.DisplayPos.y) * sy)));
      const int right =
          std::min(picture.width, static_cast<int>(std::lround((command.ClipRect.z - data.DisplayPos.x) * sx)));
      const int bottom =
          std::min(picture.height, static_cast<int>(std::lround((command.ClipRect.w - data.DisplayPos.y) * sy)));
      for (unsigned int i = 0; i + 2 < command.ElemCount; i += 3) {
        Corner corners[3];
        for (unsigned int k = 0; k < 3; ++k) {
          const ImDrawIdx index = list->IdxBuffer[static_cast<int>(command.IdxOffset + i + k)];
          const ImDrawVert& v = list->VtxBuffer[static_cast<int>(command.VtxOffset + index)];
          corners[k] = {(v.pos.x - data.DisplayPos.x) * sx, (v.pos.y - data.DisplayPos.y) * sy, v.uv.x, v.uv.y,
                        unpack(v.col)};
        }
        triangle(picture, corners[0], corners[1], corners[2], command.TexRef._TexData, left, top, right, bottom);
      }
    }
  return picture;
}

Picture in_grey(const Picture& picture) {
  Picture out = picture;
  for (std::uint32_t& pixel : out.pixels) {
    const Pixel p = unpack(pixel);
    const auto grey = static_cast<std::uint32_t>(0.2126f * p.r + 0.7152f * p.g + 0.0722f * p.b + 0.5f);
    pixel = 0xFF000000u | grey << 16 | grey << 8 | grey;
  }
  return out;
}

bool write_png(const std::string& path, const Picture& picture) {
  std::error_code ignored;
  std::filesystem::create_directories(std::filesystem::path(path).parent_path(), ignored);
  std::string rows;
  rows.reserve(static_cast<std::size_t>(picture.height) * (1 + 3 * static_cast<std::size_t>(picture.width)));
  for (int y = 0; y < picture.height; ++y) {
    rows += '\0';  // No filter.
    for (int x = 0; x < picture.width; ++x)
      for (int shift = 0; shift < 24; shift += 8) rows += static_cast<char>(picture.at(x, y) >> shift & 0xFF);
  }
  uLongf size = compressBound(static_cast<uLong>(rows.size()));
  std::string packed(size, '\0');
  if (compress2(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(rows.data()),
                static_cast<uLong>(rows.size()), 6) != Z_OK)
    return false;
  packed.resize(size);
  std::string head;
  put32(head, static_cast<std::uint32_t>(picture.width));
  put32(head, static_cast<std::uint32_t>(picture.height));
  head += std::string("\x08\x02\x00\x00\x00", 5);  // 8 bits, RGB.
  std::string out("\x89PNG\r\n\x1a\n", 8);
  chunk(out, "IHDR", head);
  chunk(out, "IDAT", packed);
  chunk(out, "IEND", {});
  std::ofstream file(path, std::ios::binary);
  file.write(out.data(), static_cast<std::streamsize>(out.size()));
  return file.good();
}

}  // namespace steep::test
