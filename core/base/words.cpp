#include "base/words.h"

#include <algorithm>

#include "base/words_table.h"

namespace steep {
namespace {

struct WordRow {
  std::string_view key, english, spanish;
};

/// The columns as rows, sorted by key; made at the first use.
const std::vector<WordRow>& words_table() {
  static const std::vector<WordRow> rows = [] {
    WordColumns columns = word_columns();
    const auto next = [](const char*& text) {
      const std::string_view found(text);
      text += found.size() + 1;
      return found;
    };
    std::vector<WordRow> made(columns.rows);
    for (WordRow& row : made) row = {next(columns.keys), next(columns.english), next(columns.spanish)};
    return made;
  }();
  return rows;
}

const WordRow* find_row(std::string_view key) {
  const auto& rows = words_table();
  const auto row =
      std::lower_bound(rows.begin(), rows.end(), key, [](const WordRow& r, std::string_view k) { return r.key < k; });
  return row != rows.end() && row->key == key ? &*row : nullptr;
}

std::string_view text_of(const WordRow& row, Language language) {
  return language == Language::Spanish ? row.spanish : row.english;
}

/// Replaces {0} … {9}. A place without a value stays, so that the slip is seen.
std::string fill(std::string_view text, std::span<const std::string_view> values) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool is_place =
        text[i] == '{' && i + 2 < text.size() && text[i + 2] == '}' && text[i + 1] >= '0' && text[i + 1] <= '9';
    const std::size_t n = is_place ? static_cast<std::size_t>(text[i + 1] - '0') : 0;
    if (is_place && n < values.size()) {
      out += values[n];
      i += 2;
    } else {
      out += text[i];
    }
  }
  return out;
}

std::string unknown(std::string_view key) { return "[" + std::string(key) + "]"; }

}  // namespace

std::string_view language_code(Language language) { return language == Language::Spanish ? "es" : "en"; }

Language language_from_code(std::string_view code) {
  return code == "es" || code.starts_with("es-") || code.starts_with("es_") ? Language::Spanish : Language::English;
}

std::string Words::operator()(WordId id) const {
  const WordRow* row = find_row(id.key);
  return row ? std::string(text_of(*row, language_)) : unknown(id.key);
}

std::string Words::operator()(WordId id, Values values) const {
  const WordRow* row = find_row(id.key);
  return row ? fill(text_of(*row, language_), values) : unknown(id.key);
}

std::string Words::filled(WordId id, const std::vector<std::string>& values) const {
  const WordRow* row = find_row(id.key);
  const std::vector<std::string_view> views(values.begin(), values.end());
  return row ? fill(text_of(*row, language_), views) : unknown(id.key);
}

std::string Words::count(WordId id, long long n, Values more) const {
  const std::string key = std::string(id.key) + (n == 1 ? ".one" : ".other");
  const WordRow* row = find_row(key);
  if (!row) return unknown(key);
  const std::string number = std::to_string(n);
  std::vector<std::string_view> values{number};
  values.insert(values.end(), more.begin(), more.end());
  return fill(text_of(*row, language_), values);
}

std::string Words::operator()(const Problem& problem) const { return (*this)(problem.word, problem.values); }

bool Words::has(std::string_view key) const { return find_row(key) != nullptr; }

std::string Words::stored(std::string_view key, std::string_view fallback) const {
  const WordRow* row = find_row(key);
  return std::string(row ? text_of(*row, language_) : fallback);
}

std::vector<std::string_view> Words::keys() {
  std::vector<std::string_view> keys;
  for (const WordRow& row : words_table()) keys.push_back(row.key);
  return keys;
}

}  // namespace steep
