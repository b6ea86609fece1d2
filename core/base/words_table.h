#pragma once
/// The table that assets/strings/make_words.py writes at build time.

#include <span>
#include <string_view>

namespace steep {

struct WordRow {
  std::string_view key;  ///< Sorted by bytes.
  std::string_view english;
  std::string_view spanish;
};

std::span<const WordRow> words_table();

}  // namespace steep
