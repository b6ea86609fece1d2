#include "base/id.h"

#include <bit>

namespace steep {
namespace {

constexpr std::string_view kAlphabet = "0123456789abcdefghjkmnpqrstvwxyz";
constexpr std::uint8_t kNone = 255;
constexpr auto kValues = [] {
  std::array<std::uint8_t, 256> values{};
  values.fill(kNone);
  for (std::size_t i = 0; i < kAlphabet.size(); ++i)
    values[static_cast<unsigned char>(kAlphabet[i])] = static_cast<std::uint8_t>(i);
  return values;
}();

void put_first_byte_first(std::uint64_t value, std::uint8_t* out) {
  if constexpr (std::endian::native == std::endian::little) value = __builtin_bswap64(value);
  std::memcpy(out, &value, sizeof value);
}

}  // namespace

// 26 characters are 130 bits: the first carries the two spare zero bits and the top three of ours.
std::string Id::text() const {
  std::string out(26, '0');
  unsigned pending = 0, bits = 2;
  std::size_t at = 0;
  for (const std::uint8_t byte : bytes) {
    pending = pending << 8 | byte;
    bits += 8;
    while (bits >= 5) {
      bits -= 5;
      out[at++] = kAlphabet[pending >> bits & 31u];
    }
    pending &= (1u << bits) - 1;
  }
  return out;
}

// Files of a million lines are ids for the greater part: read in two halves, without a branch a character.
std::optional<Id> Id::parse(std::string_view text) {
  if (text.size() != 26 || text[0] > '7') return std::nullopt;
  std::uint64_t high = 0, low = 0;
  std::uint8_t all = 0;
  const auto take = [&](std::size_t from, std::size_t to, std::uint64_t& into) {
    for (std::size_t i = from; i < to; ++i) {
      const std::uint8_t value = kValues[static_cast<unsigned char>(text[i])];
      all |= value;
      into = into << 5 | (value & 31u);
    }
  };
  take(0, 13, high);  // 63 bits of ours; the next character has the 64th and four of the other half.
  take(13, 26, low);
  if (all >= 32) return std::nullopt;
  high = high << 1 | (kValues[static_cast<unsigned char>(text[13])] >> 4);
  // Written where it is returned, eight bytes at once: read back whole at once, single bytes would still be on their way.
  std::optional<Id> id(std::in_place);
  put_first_byte_first(high, id->bytes.data());
  put_first_byte_first(low, id->bytes.data() + 8);
  return id;
}

Id make_record_id(Moment now, const RandomSource& random) {  // RFC 9562, 5.7
  Id id;
  random(id.bytes);
  const std::uint64_t ms = static_cast<std::uint64_t>(now.ms);
  for (std::size_t i = 0; i < 6; ++i) id.bytes[i] = static_cast<std::uint8_t>(ms >> (40 - 8 * i));
  id.bytes[6] = static_cast<std::uint8_t>((id.bytes[6] & 0x0f) | 0x70);
  id.bytes[8] = static_cast<std::uint8_t>((id.bytes[8] & 0x3f) | 0x80);
  return id;
}

Id make_lane_id(const RandomSource& random) {
  Id id;
  random(id.bytes);
  return id;
}

std::string short_code(const Id& lane) {
  constexpr std::string_view kDigits = kAlphabet.substr(0, 10), kLetters = kAlphabet.substr(10);
  std::string code = lane.text().substr(23);
  // Behind a number three digits would be read with it: 'Pass 1 537'.
  if (code.find_first_not_of(kDigits) == std::string::npos) code.front() = kLetters[kDigits.find(code.front())];
  return code;
}

}  // namespace steep
