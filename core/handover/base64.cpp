#include "handover/base64.h"

#include <array>
#include <cstdint>

namespace steep {
namespace {

constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
constexpr std::uint8_t kNone = 64;

constexpr std::array<std::uint8_t, 256> values_of_letters() {
  std::array<std::uint8_t, 256> values{};
  for (auto& value : values) value = kNone;
  for (std::uint8_t i = 0; i < 64; ++i) values[static_cast<unsigned char>(kLetters[i])] = i;
  return values;
}
constexpr auto kValues = values_of_letters();

}  // namespace

std::string base64(std::string_view bytes) {
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    const std::size_t there = bytes.size() - at < 3 ? bytes.size() - at : 3;
    std::uint32_t group = 0;
    for (std::size_t i = 0; i < 3; ++i)
      group = group << 8 | (i < there ? static_cast<unsigned char>(bytes[at + i]) : 0u);
    for (std::size_t i = 0; i < 4; ++i) text += i <= there ? kLetters[group >> (18 - 6 * i) & 63] : '=';
  }
  return text;
}

std::optional<std::string> from_base64(std::string_view text) {
  if (text.size() % 4 != 0) return std::nullopt;
  std::size_t pads = 0;
  while (pads < 2 && pads < text.size() && text[text.size() - 1 - pads] == '=') ++pads;
  std::string bytes;
  bytes.reserve(text.size() / 4 * 3);
  for (std::size_t at = 0; at < text.size(); at += 4) {
    const std::size_t padding = at + 4 == text.size() ? pads : 0;
    std::uint32_t group = 0;
    for (std::size_t i = 0; i < 4; ++i) {
      const std::uint8_t value = i < 4 - padding ? kValues[static_cast<unsigned char>(text[at + i])] : std::uint8_t{0};
      if (value == kNone) return std::nullopt;
      group = group << 6 | value;
    }
    if (padding > 0 && (group & ((1u << (8 * padding)) - 1)) != 0) return std::nullopt;  // Bits that no byte has.
    for (std::size_t i = 0; i + padding < 3; ++i) bytes += static_cast<char>(group >> (16 - 8 * i) & 255);
  }
  return bytes;
}

}  // namespace steep
