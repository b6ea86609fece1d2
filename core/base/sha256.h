#pragma once
/// SHA-256. Source: FIPS 180-4.

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace steep {

using Hash = std::array<std::uint8_t, 32>;

class Sha256 {
 public:
  Sha256();
  void add(std::span<const std::uint8_t> bytes);
  void add(std::string_view text);
  /// Ends the sum; the object may not be used afterwards.
  Hash finish();

 private:
  void block(const std::uint8_t* bytes);
  std::array<std::uint32_t, 8> state_;
  std::array<std::uint8_t, 64> pending_{};
  std::uint64_t size_ = 0;
};

Hash sha256(std::string_view text);
/// Two lower-case hexadecimal digits a byte.
std::string hex(std::span<const std::uint8_t> bytes);
/// Back again, capitals too. False when the text is not exactly as long, or holds another sign; `bytes` are then of no use.
bool parse_hex(std::string_view text, std::span<std::uint8_t> bytes);

}  // namespace steep
