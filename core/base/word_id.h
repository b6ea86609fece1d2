#pragma once
/// The name of a sentence or word shown to people. The texts lie in assets/strings, in every
/// language side by side; a test checks that each id used in the code has a text there.

#include <cstddef>
#include <string_view>

namespace steep {

struct WordId {
  std::string_view key;  ///< 'topic.name'; always a literal, so it lives for ever.
  constexpr bool operator==(const WordId&) const = default;
};

inline namespace literals {
constexpr WordId operator""_w(const char* text, std::size_t size) { return {{text, size}}; }
}  // namespace literals

}  // namespace steep
