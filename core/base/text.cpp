#include "base/text.h"

#include <fmt/format.h>
#include <algorithm>

#include "base/decimal_digits.h"

namespace steep {
namespace {

/// Bytes of white space at the front: ASCII, U+00A0, U+2007, U+2009, U+202F; 0 when there is none.
std::size_t space_length(std::string_view text) {
  if (text.empty()) return 0;
  if (text[0] == ' ' || (text[0] >= '\t' && text[0] <= '\r')) return 1;
  if (text.starts_with("\xC2\xA0")) return 2;
  for (const std::string_view space : {"\xE2\x80\x87", "\xE2\x80\x89", "\xE2\x80\xAF"}) {
    if (text.starts_with(space)) return 3;
  }
  return 0;
}

/// The code point at the front of `text` and its length; length 0 when it is not well formed.
struct CodePoint {
  std::uint32_t value = 0;
  std::size_t length = 0;
};
CodePoint first_code_point(std::string_view text) {  // Unicode 15, table 3-7: well-formed byte sequences.
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80) return {lead, 1};
  std::size_t length = 0;
  unsigned low = 0x80, high = 0xBF;
  std::uint32_t value = 0;
  if (lead >= 0xC2 && lead <= 0xDF)
    length = 2, value = lead & 0x1F;
  else if (lead >= 0xE0 && lead <= 0xEF)
    length = 3, value = lead & 0x0F;
  else if (lead >= 0xF0 && lead <= 0xF4)
    length = 4, value = lead & 0x07;
  else
    return {};
  if (lead == 0xE0) low = 0xA0;
  if (lead == 0xED) high = 0x9F;
  if (lead == 0xF0) low = 0x90;
  if (lead == 0xF4) high = 0x8F;
  if (text.size() < length) return {};
  for (std::size_t i = 1; i < length; ++i) {
    if (byte(i) < low || byte(i) > high) return {};
    value = value << 6 | (byte(i) & 0x3Fu);
    low = 0x80, high = 0xBF;
  }
  return {value, length};
}

bool is_hidden(std::uint32_t c) {
  return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x061C || c == 0x200E || c == 0x200F || c == 0x2028 ||
         c == 0x2029 || (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || c == 0xFEFF;
}

std::string without_negative_zero(std::string text) {
  if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

}  // namespace

std::string_view trim(std::string_view text) {
  while (const std::size_t n = space_length(text)) text.remove_prefix(n);
  for (bool more = true; more;) {
    more = false;
    for (const std::size_t n : {std::size_t{1}, std::size_t{2}, std::size_t{3}}) {
      if (text.size() >= n && space_length(text.substr(text.size() - n)) == n) {
        text.remove_suffix(n);
        more = true;
        break;
      }
    }
  }
  return text;
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> pieces;
  while (true) {
    const std::size_t end = text.find(separator);
    pieces.push_back(text.substr(0, end));
    if (end == std::string_view::npos) return pieces;
    text.remove_prefix(end + 1);
  }
}

std::string join(const std::vector<std::string>& pieces, std::string_view separator) {
  std::string out;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (i != 0) out += separator;
    out += pieces[i];
  }
  return out;
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (out[i] >= 'A' && out[i] <= 'Z') {
      out[i] = static_cast<char>(out[i] + ('a' - 'A'));
    } else if (out[i] == '\xC3' && i + 1 < out.size()) {
      ++i;  // À to Þ are C3 80 to 9E, without the sign × at 97; the small letters lie 20 higher.
      const auto second = static_cast<unsigned char>(out[i]);
      if (second >= 0x80 && second <= 0x9E && second != 0x97) out[i] = static_cast<char>(second + 0x20);
    }
  }
  return out;
}

std::string sentence_case(std::string text) {
  const bool mixed = text.size() > 1 && text[1] >= 'A' && text[1] <= 'Z';  // 'pH' is written so everywhere.
  if (text.empty() || mixed) return text;
  if (text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  // á é í ó ú ñ: two bytes, the second 32 above that of the capital.
  if (text.size() > 1 && text[0] == '\xC3' && static_cast<unsigned char>(text[1]) >= 0xA0)
    text[1] = static_cast<char>(text[1] - 0x20);
  return text;
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    std::size_t plain = 0;  // Nearly all of it.
    while (plain < text.size() && static_cast<signed char>(text[plain]) > 0) ++plain;
    text.remove_prefix(plain);
    if (text.empty()) return true;
    const CodePoint c = first_code_point(text);
    if (c.length == 0 || c.value == 0) return false;
    text.remove_prefix(c.length);
  }
  return true;
}

std::string printable(std::string_view text) {
  const bool plain = std::all_of(text.begin(), text.end(), [](char c) { return c >= 0x20 && c < 0x7f; });
  if (plain) return std::string(text);
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const CodePoint c = first_code_point(text);
    if (c.length == 0) {
      out += "\xEF\xBF\xBD";
      text.remove_prefix(1);
      continue;
    }
    if (c.value == '\n')
      out += '\n';
    else if (c.value == '\t')
      out += ' ';
    else if (!is_hidden(c.value))
      out += text.substr(0, c.length);
    text.remove_prefix(c.length);
  }
  return out;
}

std::size_t code_points(std::string_view text) {
  std::size_t n = 0;
  for (const char c : text) n += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  return n;
}

std::optional<std::int64_t> parse_int(std::string_view text) {
  const bool negative = text.starts_with('-');
  if (negative) text.remove_prefix(1);
  if (text.empty()) return std::nullopt;
  const std::uint64_t limit = (std::uint64_t{1} << 63) - (negative ? 0 : 1);
  std::uint64_t value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    const std::uint64_t digit = static_cast<std::uint64_t>(c - '0');
    if (value > (limit - digit) / 10) return std::nullopt;
    value = value * 10 + digit;
  }
  return static_cast<std::int64_t>(negative ? 0 - value : value);
}

std::optional<double> parse_decimal(std::string_view text) {
  const auto read = decimal_digits(text);
  if (!read) return std::nullopt;
  const double value = nearest_double(read->digits, read->scale);
  return read->negative ? -value : value;
}

std::string fixed(double value, int decimals) { return without_negative_zero(fmt::format("{:.{}f}", value, decimals)); }

std::string decimal(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
  }
  return without_negative_zero(std::move(text));
}

}  // namespace steep
