#include "book/change.h"

#include <algorithm>
#include <cassert>
#include <charconv>

#include "base/text.h"

namespace steep {
namespace {

constexpr std::size_t kIdText = 26, kTagText = 8;

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_low(char c) { return c >= 'a' && c <= 'z'; }

/// Length of the digits at the start of `text`.
std::size_t digits(std::string_view text) {
  std::size_t n = 0;
  while (n < text.size() && is_digit(text[n])) ++n;
  return n;
}

/// Type n: -?\d{1,15}(\.\d{1,9})?
bool is_number(std::string_view text) {
  if (text.starts_with('-')) text.remove_prefix(1);
  const std::size_t whole = digits(text);
  if (whole < 1 || whole > 15) return false;
  text.remove_prefix(whole);
  if (text.empty()) return true;
  if (text[0] != '.') return false;
  const std::size_t places = digits(text.substr(1));
  return places >= 1 && places <= 9 && places + 1 == text.size();
}

/// Shape of type q: decimal or fraction, a space, a unit word. Whether the unit is one that this
/// program knows is asked by the fold: a newer program may have added one.
bool is_quantity(std::string_view text) {
  if (text.size() > kMaxQuantity) return false;
  if (text.starts_with('-')) text.remove_prefix(1);
  std::size_t n = digits(text);
  if (n == 0) return false;
  text.remove_prefix(n);
  if (text.starts_with('.')) {
    n = digits(text.substr(1));
    if (n == 0) return false;
    text.remove_prefix(n + 1);
  } else {
    if (text.size() > 1 && text[0] == ' ' && is_digit(text[1])) {  // '2 1/2': the whole part was read.
      n = digits(text.substr(1));
      text.remove_prefix(n + 1);
      if (!text.starts_with('/')) return false;
    }
    if (text.starts_with('/')) {
      n = digits(text.substr(1));
      if (n == 0) return false;
      text.remove_prefix(n + 1);
    }
  }
  if (text.size() < 2 || text[0] != ' ') return false;
  text.remove_prefix(1);
  if (text[0] == ' ' || text[0] == '-' || is_digit(text[0]) || text.back() == ' ') return false;
  return is_utf8(text) && std::none_of(text.begin(), text.end(),
                                       [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

bool is_word(std::string_view text) {
  return !text.empty() && text.size() <= kMaxName &&
         std::all_of(text.begin(), text.end(), [](char c) { return is_low(c) || is_digit(c) || c == '-' || c == '_'; });
}

bool is_hash(std::string_view text) {
  return text.size() == 64 &&
         std::all_of(text.begin(), text.end(), [](char c) { return is_digit(c) || (c >= 'a' && c <= 'f'); });
}

void write_integer(std::string& out, std::string_view key, std::int64_t value) {
  out += key;
  out += std::to_string(value);
}

void write_refs(std::string& out, std::string_view key, const std::vector<ChangeRef>& refs) {
  out += key;
  out += '[';
  for (std::size_t i = 0; i < refs.size(); ++i) {
    out += i == 0 ? "\"" : ",\"";
    out += refs[i].text();
    out += '"';
  }
  out += ']';
}

FieldValue plain(std::string key, FieldType type, std::string text) {
  return FieldValue{std::move(key), type, std::move(text), {}};
}

}  // namespace

std::string ChangeRef::text() const {
  static constexpr char kHex[] = "0123456789abcdef";
  std::string out = lane.text() + '.' + std::to_string(seq) + '.';
  for (int shift = 28; shift >= 0; shift -= 4) out += kHex[tag >> shift & 15];
  return out;
}

std::optional<ChangeRef> ChangeRef::parse(std::string_view text) {
  if (text.size() < kIdText + 3 + kTagText || text[kIdText] != '.') return std::nullopt;
  const auto id = Id::parse(text.substr(0, kIdText));
  if (!id) return std::nullopt;
  text.remove_prefix(kIdText + 1);
  const std::size_t n = digits(text);
  if (n == 0 || n > 16 || text[0] == '0' || text.size() != n + 1 + kTagText || text[n] != '.') return std::nullopt;
  ChangeRef ref{*id, 0, 0};
  std::from_chars(text.data(), text.data() + n, ref.seq);
  if (ref.seq > kMaxInteger) return std::nullopt;
  for (const char c : text.substr(n + 1)) {
    const bool letter = c >= 'a' && c <= 'f';
    if (!letter && !is_digit(c)) return std::nullopt;
    ref.tag = ref.tag << 4 | static_cast<std::uint32_t>(letter ? c - 'a' + 10 : c - '0');
  }
  return ref;
}

std::uint32_t tag_of(const Hash& hash) {
  return static_cast<std::uint32_t>(hash[0]) << 24 | static_cast<std::uint32_t>(hash[1]) << 16 |
         static_cast<std::uint32_t>(hash[2]) << 8 | hash[3];
}

ChangeRef ref_of(const Id& lane, std::int64_t seq, const Hash& hash) { return {lane, seq, tag_of(hash)}; }

FieldValue text_field_value(std::string key, std::string text) {
  return plain(std::move(key), FieldType::Text, std::move(text));
}
FieldValue quantity_value(std::string key, std::string normal_form) {
  return plain(std::move(key), FieldType::Quantity, std::move(normal_form));
}
FieldValue number_value(std::string key, std::string number) {
  return plain(std::move(key), FieldType::Number, std::move(number));
}
FieldValue word_value(std::string key, std::string_view word) {
  return plain(std::move(key), FieldType::Word, std::string(word));
}
FieldValue yes_no_value(std::string key, bool yes) {
  return plain(std::move(key), FieldType::YesNo, yes ? "yes" : "no");
}
FieldValue date_value(std::string key, Date date) { return plain(std::move(key), FieldType::Date, date_text(date)); }
FieldValue instant_value(std::string key, Stamp stamp) {
  return plain(std::move(key), FieldType::Instant, stamp_text(stamp));
}
FieldValue reference_value(std::string key, const Id& id) {
  return plain(std::move(key), FieldType::Reference, id.text());
}
FieldValue not_taken(std::string key) { return plain(std::move(key), FieldType::NotTaken, {}); }
FieldValue list_value(std::string key, std::vector<std::string> items) {
  return FieldValue{std::move(key), FieldType::List, {}, std::move(items)};
}

bool is_kind_name(std::string_view text) {
  return !text.empty() && text.size() <= kMaxName && is_low(text[0]) &&
         std::all_of(text.begin(), text.end(), [](char c) { return is_low(c) || is_digit(c) || c == '-'; });
}

bool is_field_key(std::string_view text) {
  if (text.size() > kMaxName) return false;
  int pieces = 1;
  bool begins = true;  // A piece; the next character must be a letter.
  for (const char c : text) {
    if (c == '.' && !begins && ++pieces <= 2) {
      begins = true;
      continue;
    }
    if (!is_low(c) && (begins || (!is_digit(c) && c != '_'))) return false;
    begins = false;
  }
  return !begins;
}

bool is_known_type(FieldType type) {
  return std::string_view("nqtwbdirhcxl").find(static_cast<char>(type)) != std::string_view::npos;
}

bool fits_type(FieldType type, std::string_view text) {
  switch (type) {
    case FieldType::Number: return is_number(text);
    case FieldType::Quantity: return is_quantity(text);
    case FieldType::Text: return text.size() <= kMaxValue && is_utf8(text);
    case FieldType::Word: return is_word(text);
    case FieldType::YesNo: return text == "yes" || text == "no";
    case FieldType::Date: return parse_date(text).has_value();
    case FieldType::Instant: return parse_stamp(text).has_value();
    case FieldType::Reference: return Id::parse(text).has_value();
    case FieldType::ContentHash: return is_hash(text);
    case FieldType::Censored: return is_number(text.starts_with('<') || text.starts_with('>') ? text.substr(1) : text);
    case FieldType::NotTaken: return text.empty();
    case FieldType::List: return text.empty();
  }
  return text.size() <= kMaxValue && is_utf8(text);  // A letter of a newer version.
}

bool fits_item(std::string_view item) {
  return item.size() <= kMaxItem && is_utf8(item) &&
         std::none_of(item.begin(), item.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; });
}

void write_json_string(std::string& out, std::string_view text) {
  static constexpr char kHex[] = "0123456789abcdef";
  out += '"';
  for (const char c : text) {
    switch (c) {
      case '"': out += "\\\""; break;
      case '\\': out += "\\\\"; break;
      case '\n': out += "\\n"; break;
      case '\t': out += "\\t"; break;
      case '\r': out += "\\r"; break;
      default:
        if (static_cast<unsigned char>(c) < 0x20) {
          out += "\\u00";
          out += kHex[c >> 4];
          out += kHex[c & 15];
        } else {
          out += c;
        }
    }
  }
  out += '"';
}

namespace {

/// ["key","type","text"] or ["key","type",["item",…]].
void write_field(std::string& out, const FieldValue& field) {
  out += "[\"";
  out += field.key;
  out += "\",\"";
  out += static_cast<char>(field.type);
  out += "\",";
  if (field.type == FieldType::List || !field.items.empty()) {
    out += '[';
    for (std::size_t i = 0; i < field.items.size(); ++i) {
      if (i > 0) out += ',';
      write_json_string(out, field.items[i]);
    }
    out += ']';
  } else {
    write_json_string(out, field.text);
  }
  out += ']';
}

}  // namespace

std::string write_change(const Change& change) {
  assert(change.part.has_value() == (change.seq == 1));
  std::string out;
  out.reserve(256);
  out += "{\"v\":1,\"l\":\"";
  out += change.lane.text();
  write_integer(out, "\",\"n\":", change.seq);
  if (change.part) {
    out += ",\"p\":\"";
    out += change.part->text();
    out += '"';
  }
  write_integer(out, ",\"t\":", change.t);
  write_integer(out, ",\"c\":", change.c);
  write_integer(out, ",\"w\":", change.wall);
  write_integer(out, ",\"z\":", change.zone_minutes);
  out += ",\"u\":\"" + change.person.text() + "\",\"r\":\"" + change.record.text() + "\",\"k\":\"";
  out += change.kind;
  write_integer(out, "\",\"a\":", change.act);
  if (change.act_ends) out += ",\"e\":1";
  write_refs(out, ",\"s\":", change.seen);
  if (!change.why.empty()) {
    out += ",\"why\":";
    write_json_string(out, change.why);
  }
  out += ",\"f\":[";
  for (std::size_t i = 0; i < change.fields.size(); ++i) {
    if (i > 0) out += ',';
    write_field(out, change.fields[i]);
  }
  out += ']';
  if (!change.tips.empty()) write_refs(out, ",\"m\":", change.tips);
  if (change.must) out += ",\"must\":1";
  out += '}';
  return out;
}

Hash chain_start(const Id& lane) { return sha256("steepbook/1" + lane.text()); }

Hash chain_next(const Hash& before, std::string_view line) {
  Sha256 sum;
  sum.add(std::span<const std::uint8_t>(before));
  sum.add(line);
  return sum.finish();
}

}  // namespace steep
