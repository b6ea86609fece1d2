#pragma once
/// The texts that assets/strings/make_words.py writes at build time.

#include <cstddef>

namespace steep {

/// Columns of `rows` texts, one after the other, each ended by a zero. A table of pointers to them would be
/// half as heavy again on the page, and compress badly.
struct WordColumns {
  std::size_t rows;
  const char* keys;  ///< Sorted by bytes.
  const char* english;
  const char* spanish;
};

WordColumns word_columns();

}  // namespace steep
