#include "handover/flat_object.h"

#include "base/text.h"

namespace steep {
namespace {

constexpr std::size_t kMaxKeys = 64, kMaxList = 10'000;

/// Reads tokens from the front of what is left; every function returns false on bad input.
struct Scanner {
  std::string_view rest;

  bool take(char c) {
    if (rest.empty() || rest.front() != c) return false;
    rest.remove_prefix(1);
    return true;
  }

  bool integer(std::int64_t& number) {
    std::size_t digits = rest.starts_with('-') ? 1 : 0;
    while (digits < rest.size() && rest[digits] >= '0' && rest[digits] <= '9') ++digits;
    const auto text = rest.substr(0, digits);
    const auto plain = text.starts_with('-') ? text.substr(1) : text;
    if (plain.empty() || plain.size() > 16 || (plain.size() > 1 && plain.front() == '0')) return false;
    const auto value = parse_int(text);
    if (!value) return false;
    number = *value;
    rest.remove_prefix(digits);
    return true;
  }

  bool text(std::string& out) {
    if (!take('"')) return false;
    while (!rest.empty()) {
      const char c = rest.front();
      if (c == '"') return take('"');
      if (static_cast<unsigned char>(c) < 0x20) return false;
      rest.remove_prefix(1);
      if (c != '\\')
        out += c;
      else if (!escape(out))
        return false;
    }
    return false;
  }

  bool escape(std::string& out) {
    if (rest.empty()) return false;
    const char c = rest.front();
    rest.remove_prefix(1);
    switch (c) {
      case '"':
      case '\\':
      case '/': out += c; return true;
      case 'n': out += '\n'; return true;
      case 't': out += '\t'; return true;
      case 'r': out += '\r'; return true;
      case 'b': out += '\b'; return true;
      case 'f': out += '\f'; return true;
      case 'u': return code_unit(out);
      default: return false;
    }
  }

  /// \u00XX of a control character: all that a writer of this format needs.
  bool code_unit(std::string& out) {
    if (rest.size() < 4 || !rest.starts_with("00")) return false;
    unsigned char byte[1];
    if (!parse_hex(rest.substr(2, 2), byte) || byte[0] == 0 || byte[0] > 0x1f) return false;
    out += static_cast<char>(byte[0]);
    rest.remove_prefix(4);
    return true;
  }

  static bool parse_hex(std::string_view digits, unsigned char (&byte)[1]) {
    unsigned value = 0;
    for (const char c : digits) {
      const int digit = c >= '0' && c <= '9'   ? c - '0'
                        : c >= 'a' && c <= 'f' ? c - 'a' + 10
                        : c >= 'A' && c <= 'F' ? c - 'A' + 10
                                               : -1;
      if (digit < 0) return false;
      value = value * 16 + static_cast<unsigned>(digit);
    }
    byte[0] = static_cast<unsigned char>(value);
    return true;
  }

  bool list(std::vector<std::string>& items) {
    if (!take('[')) return false;
    if (take(']')) return true;
    do {
      if (items.size() == kMaxList || !text(items.emplace_back())) return false;
    } while (take(','));
    return take(']');
  }
};

}  // namespace

std::optional<FlatObject> FlatObject::read(std::string_view line) {
  if (!is_utf8(line)) return std::nullopt;
  FlatObject object;
  Scanner scanner{line};
  if (!scanner.take('{')) return std::nullopt;
  do {
    Entry entry;
    if (!scanner.text(entry.key) || !scanner.take(':') || object.has(entry.key)) return std::nullopt;
    if (object.entries_.size() == kMaxKeys || scanner.rest.empty()) return std::nullopt;
    const char c = scanner.rest.front();
    entry.type = c == '"' ? Entry::Text : c == '[' ? Entry::List : Entry::Integer;
    const bool read = entry.type == Entry::Text   ? scanner.text(entry.text)
                      : entry.type == Entry::List ? scanner.list(entry.items)
                                                  : scanner.integer(entry.number);
    if (!read) return std::nullopt;
    object.entries_.push_back(std::move(entry));
  } while (scanner.take(','));
  if (!scanner.take('}') || !scanner.rest.empty()) return std::nullopt;
  return object;
}

const FlatObject::Entry* FlatObject::find(std::string_view key) const {
  for (const Entry& entry : entries_)
    if (entry.key == key) return &entry;
  return nullptr;
}

std::string_view FlatObject::text(std::string_view key) const {
  const Entry* entry = find(key);
  return entry && entry->type == Entry::Text ? std::string_view(entry->text) : std::string_view();
}

std::optional<std::int64_t> FlatObject::integer(std::string_view key) const {
  const Entry* entry = find(key);
  if (!entry || entry->type != Entry::Integer) return std::nullopt;
  return entry->number;
}

std::vector<std::string> FlatObject::list(std::string_view key) const {
  const Entry* entry = find(key);
  return entry && entry->type == Entry::List ? entry->items : std::vector<std::string>();
}

namespace {

void append_text(std::string& out, std::string_view value) {
  static constexpr char kDigits[] = "0123456789abcdef";
  out += '"';
  for (const char c : value) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\')
      (out += '\\') += c;
    else if (byte < 0x20)
      ((out += "\\u00") += kDigits[byte >> 4]) += kDigits[byte & 15];
    else
      out += c;
  }
  out += '"';
}

}  // namespace

void FlatWriter::key(std::string_view key) {
  if (line_.size() > 1) line_ += ',';
  append_text(line_, key);
  line_ += ':';
}

FlatWriter& FlatWriter::text(std::string_view name, std::string_view value) {
  key(name);
  append_text(line_, value);
  return *this;
}

FlatWriter& FlatWriter::integer(std::string_view name, std::int64_t value) {
  key(name);
  line_ += std::to_string(value);
  return *this;
}

FlatWriter& FlatWriter::list(std::string_view name, const std::vector<std::string>& items) {
  key(name);
  line_ += '[';
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) line_ += ',';
    append_text(line_, items[i]);
  }
  line_ += ']';
  return *this;
}

}  // namespace steep
