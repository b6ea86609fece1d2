#include <doctest/doctest.h>

#include "base/sha256.h"

using namespace steep;

TEST_CASE("sha256: pieces give the same sum as the whole, at every length around a block") {
  std::string text;
  for (int i = 0; i < 200; ++i) text += static_cast<char>('a' + i % 26);
  for (std::size_t size = 0; size <= text.size(); ++size) {
    const std::string_view whole = std::string_view(text).substr(0, size);
    Sha256 sum;
    for (std::size_t at = 0; at < size; at += 7) sum.add(whole.substr(at, 7));
    CHECK(sum.finish() == sha256(whole));
  }
}

TEST_CASE("sha256: hexadecimal there and back") {
  const Hash hash = sha256("abc");
  Hash back{};
  CHECK(parse_hex(hex(hash), back));
  CHECK(back == hash);
  for (const std::string_view bad : {"", "ab", "BA7816BF8F01CFEA414140DE5DAE2223B00361A396177A9CB410FF61F20015AD"})
    CHECK_FALSE(parse_hex(bad, back));
  std::string spoiled = hex(hash);
  spoiled[10] = 'g';
  CHECK_FALSE(parse_hex(spoiled, back));
}
