#pragma once
/// One flat JSON object on one line: texts, whole numbers and lists of texts. Enough for the frame of
/// a handover file, and no way to nest, so nothing here can recurse.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace steep {

class FlatObject {
 public:
  /// nullopt for anything but one such object: nesting, fractions, exponents, duplicate keys, unknown
  /// escapes, lone surrogates, text that is not UTF-8, more than 64 keys or 10,000 list entries.
  static std::optional<FlatObject> read(std::string_view line);

  bool has(std::string_view key) const { return find(key) != nullptr; }
  /// Empty when the key is missing or no text.
  std::string_view text(std::string_view key) const;
  std::optional<std::int64_t> integer(std::string_view key) const;
  std::vector<std::string> list(std::string_view key) const;

 private:
  struct Entry {
    std::string key;
    enum { Text, Integer, List } type = Text;
    std::string text;
    std::int64_t number = 0;
    std::vector<std::string> items;
  };
  const Entry* find(std::string_view key) const;
  std::vector<Entry> entries_;
};

class FlatWriter {
 public:
  FlatWriter& text(std::string_view key, std::string_view value);
  FlatWriter& integer(std::string_view key, std::int64_t value);
  FlatWriter& list(std::string_view key, const std::vector<std::string>& items);
  std::string finish() { return std::move(line_ += '}'); }

 private:
  void key(std::string_view key);
  std::string line_ = "{";
};

}  // namespace steep
