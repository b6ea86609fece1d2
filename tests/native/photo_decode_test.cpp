// Photos into pixels on the desktop.
#include "native/photo_decode.h"

#include <doctest/doctest.h>

#include <array>
#include <cstdint>
#include <string>

#include "handover/base64.h"

using namespace steep;

namespace {

using namespace std::string_literals;

/// 32 × 16 pixels, left half red, right half blue; written by another program (pnmtojpeg of Netpbm).
const std::string kHalves = *from_base64(
    "/9j/4AAQSkZJRgABAQAAAQABAAD/"
    "2wBDAAMCAgMCAgMDAwMEAwMEBQgFBQQEBQoHBwYIDAoMDAsKCwsNDhIQDQ4RDgsLEBYQERMUFRUVDA8XGBYUGBIU"
    "FRT/2wBDAQMEBAUEBQkFBQkUDQsNFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBT/"
    "wAARCAAQACADASIAAhEB"
    "AxEB/8QAHwAAAQUBAQEBAQEAAAAAAAAAAAECAwQFBgcICQoL/"
    "8QAtRAAAgEDAwIEAwUFBAQAAAF9AQIDAAQRBRIhMUEGE1FhByJxFDKBkaEII0KxwRVS"
    "0fAkM2JyggkKFhcYGRolJicoKSo0NTY3ODk6Q0RFRkdISUpTVFVWV1hZWmNkZWZnaGlqc3R1dnd4eXqDhIWGh4iJipKTlJWWl5iZmqKjpKWmp6ipqr"
    "Kz"
    "tLW2t7i5usLDxMXGx8jJytLT1NXW19jZ2uHi4+Tl5ufo6erx8vP09fb3+Pn6/8QAHwEAAwEBAQEBAQEBAQAAAAAAAAECAwQFBgcICQoL/"
    "8QAtREAAgEC"
    "BAQDBAcFBAQAAQJ3AAECAxEEBSExBhJBUQdhcRMiMoEIFEKRobHBCSMzUvAVYnLRChYkNOEl8RcYGRomJygpKjU2Nzg5OkNERUZHSElKU1RVVldYWV"
    "pj"
    "ZGVmZ2hpanN0dXZ3eHl6goOEhYaHiImKkpOUlZaXmJmaoqOkpaanqKmqsrO0tba3uLm6wsPExcbHyMnK0tPU1dbX2Nna4uPk5ebn6Onq8vP09fb3+"
    "Pn6"
    "/9oADAMBAAIRAxEAPwD50ooor8MP9UzwKiiiv9xj/HQ//9k=");

/// The same with an Exif part that says how it lies (Exif 2.3, 4.5: TIFF header, one IFD entry of tag 0x0112).
std::string lying(int orientation, bool little) {
  const char value = static_cast<char>(orientation);
  const std::string entry =
      little ? "\x12\x01\x03\0\x01\0\0\0"s + value + "\0\0\0"s : "\x01\x12\0\x03\0\0\0\x01\0"s + value + "\0\0"s;
  const std::string tiff = (little ? "II*\0\x08\0\0\0\x01\0"s : "MM\0*\0\0\0\x08\0\x01"s) + entry + "\0\0\0\0"s;
  const std::string content = "Exif\0\0"s + tiff;
  const std::size_t length = content.size() + 2;
  return kHalves.substr(0, 2) + "\xFF\xE1" + static_cast<char>(length >> 8) + static_cast<char>(length & 255) +
         content + kHalves.substr(2);
}

enum class Seen { Red, Blue, Other };
Seen at(const Pixels& pixels, int x, int y) {
  const std::size_t place =
      (static_cast<std::size_t>(y) * static_cast<std::size_t>(pixels.width) + static_cast<std::size_t>(x)) * 4;
  const auto red = static_cast<unsigned char>(pixels.rgba[place]),
             blue = static_cast<unsigned char>(pixels.rgba[place + 2]);
  if (red > 200 && blue < 60) return Seen::Red;
  return blue > 200 && red < 60 ? Seen::Blue : Seen::Other;
}

/// A PNG of one pixel that says that it is so large (W3C PNG, 11.2.2: IHDR). Sums are not looked at before the size is.
std::string png_head(std::uint32_t width, std::uint32_t height) {
  std::string bytes = "\x89PNG\r\n\x1A\n\0\0\0\rIHDR"s;
  for (const std::uint32_t side : {width, height})
    for (int shift = 24; shift >= 0; shift -= 8) bytes += static_cast<char>(side >> shift & 255);
  return bytes + "\x08\x02\0\0\0"s + std::string(4, '\0') + "\0\0\0\0IDAT"s + std::string(4, '\0');
}

}  // namespace

TEST_CASE("a photo is decoded, scaled by means, as a whole and in the right places") {
  const auto whole = decode_photo(kHalves, 1600);
  REQUIRE(whole);
  CHECK(whole->width == 32);
  CHECK(whole->height == 16);
  CHECK(whole->rgba.size() == 32 * 16 * 4);
  CHECK(at(*whole, 2, 2) == Seen::Red);
  CHECK(at(*whole, 29, 13) == Seen::Blue);
  const auto small = decode_photo(kHalves, 8);
  REQUIRE(small);
  CHECK(small->width == 8);
  CHECK(small->height == 4);
  CHECK(at(*small, 0, 0) == Seen::Red);
  CHECK(at(*small, 7, 3) == Seen::Blue);
  CHECK(decode_photo(kHalves, 1)->width == 1);
}

TEST_CASE("a photo stands upright as its Exif tag says: the eight ways of Exif 2.3, table of tag 0x0112") {
  // Where the stored left column, which is red, is seen: 'the 0th column is the visual …' of that table.
  enum Where { Left, Right, Top, Bottom };
  const std::array<Where, 9> red = {Left, Left, Right, Right, Left, Top, Top, Bottom, Bottom};
  for (int orientation = 1; orientation <= 8; ++orientation) {
    for (const bool little : {false, true}) {
      CAPTURE(orientation);
      const std::string bytes = lying(orientation, little);
      CHECK(exif_orientation(bytes) == orientation);
      const auto pixels = decode_photo(bytes, 1600);
      REQUIRE(pixels);
      const bool sideways = orientation >= 5;
      CHECK(pixels->width == (sideways ? 16 : 32));
      CHECK(pixels->height == (sideways ? 32 : 16));
      const int right = pixels->width - 3, bottom = pixels->height - 3;
      const Where where = red[static_cast<std::size_t>(orientation)];
      CHECK(at(*pixels, where == Right ? right : 2, where == Bottom ? bottom : 2) == Seen::Red);
      CHECK(at(*pixels, where == Left ? right : 2, where == Top ? bottom : 2) == Seen::Blue);
    }
  }
  CHECK(exif_orientation(kHalves) == 1);
  CHECK(exif_orientation(lying(0, true)) == 1);
  CHECK(exif_orientation(lying(9, false)) == 1);
}

TEST_CASE("what does not decode, is too large or of another kind is refused; nothing damaged does harm") {
  const auto word = [](const std::string& bytes) {
    const auto pixels = decode_photo(bytes, 256);
    return pixels ? std::string("(decoded)") : std::string(pixels.error().word.key);
  };
  CHECK(word("") == "photo.cannot_show");
  CHECK(word("RIFF\x24\0\0\0WEBPVP8 "s) == "photo.cannot_show");
  CHECK(word(kHalves.substr(0, 300)) == "photo.cannot_show");
  CHECK(word(png_head(20'000, 20'000)) == "photo.cannot_show");  // 1.2 GB of pixels in 50 bytes.
  CHECK(word(png_head(0x7FFFFFFF, 0x7FFFFFFF)) == "photo.cannot_show");
  std::uint64_t state = 88172645463325252u;  // xorshift64
  const auto next = [&state] {
    state ^= state << 13;
    state ^= state >> 7;
    return state ^= state << 17;
  };
  for (int run = 0; run < 3000; ++run) {
    std::string bytes = run % 2 ? kHalves : lying(static_cast<int>(next() % 9), run % 4 == 0);
    for (std::uint64_t n = 1 + next() % 5; n > 0; --n) bytes[next() % bytes.size()] = static_cast<char>(next());
    if (run % 7 == 0) bytes.resize(next() % bytes.size());
    const auto pixels = decode_photo(bytes, 64);
    if (pixels)
      CHECK(pixels->rgba.size() ==
            static_cast<std::size_t>(pixels->width) * static_cast<std::size_t>(pixels->height) * 4);
  }
}
