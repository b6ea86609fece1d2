#pragma once
/// 128-bit ids. Records carry UUIDv7 (RFC 9562), lanes are random. Written as 26 lower-case base32
/// characters (0–9 a–z without i l o u): shorter than hexadecimal, sortable, easy to search for.

#include <array>
#include <compare>
#include <cstdint>
#include <cstring>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/moment.h"

namespace steep {

/// Fills the span from the operating system's random source.
using RandomSource = std::function<void(std::span<std::uint8_t>)>;

struct Id {
  std::array<std::uint8_t, 16> bytes{};
  bool operator==(const Id&) const = default;
  std::strong_ordering operator<=>(const Id& other) const {  // std::array of libc++ 14 has none
    return std::memcmp(bytes.data(), other.bytes.data(), bytes.size()) <=> 0;
  }
  bool is_nil() const { return *this == Id{}; }
  /// 26 characters; the nil id gives 26 zeros.
  std::string text() const;
  /// Exactly 26 characters of the alphabet, the first 0–7; anything else is nullopt.
  static std::optional<Id> parse(std::string_view text);
};

/// RFC 9562 UUID version 7. Its time bits are never used for ordering or dates.
Id make_record_id(Moment now, const RandomSource& random);
/// 128 random bits.
Id make_lane_id(const RandomSource& random);

/// 3 base32 characters that stand for a copy in codes ('Brew 31 k7q'): the last 3 of the lane id's text, with a letter in
/// place of the first digit where all are digits.
std::string short_code(const Id& lane);

}  // namespace steep

template <>
struct std::hash<steep::Id> {
  std::size_t operator()(const steep::Id& id) const noexcept {
    std::size_t h = 0;
    for (int i = 8; i < 16; ++i) h = h << 8 | id.bytes[static_cast<std::size_t>(i)];
    return h ^ (static_cast<std::size_t>(id.bytes[3]) << 7);
  }
};
