#include "quantity/number_reading.h"

#include <array>

#include "base/text.h"

namespace steep {
namespace {

constexpr std::size_t kMostWhole = 15, kMostPlaces = 9, kMostInFraction = 6;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::size_t digits_at(std::string_view text, std::size_t from = 0) {
  std::size_t n = 0;
  while (from + n < text.size() && is_digit(text[from + n])) ++n;
  return n;
}

std::string without_leading_zeros(std::string_view digits) {
  const std::size_t first = digits.find_first_not_of('0');
  return first == std::string_view::npos ? "0" : std::string(digits.substr(first));
}

auto too_long(std::string_view typed) { return refuse(Trouble::BadInput, "quantity.digits"_w, {typed}); }
auto unreadable(std::string_view typed) { return refuse(Trouble::BadInput, "quantity.unreadable"_w, {typed}); }

struct Vulgar {
  std::string_view sign;
  int above, below;
};
constexpr std::array<Vulgar, 15> kVulgar = {{
    {"\xC2\xBD", 1, 2},
    {"\xC2\xBC", 1, 4},
    {"\xC2\xBE", 3, 4},
    {"\xE2\x85\x93", 1, 3},
    {"\xE2\x85\x94", 2, 3},
    {"\xE2\x85\x95", 1, 5},
    {"\xE2\x85\x96", 2, 5},
    {"\xE2\x85\x97", 3, 5},
    {"\xE2\x85\x98", 4, 5},
    {"\xE2\x85\x99", 1, 6},
    {"\xE2\x85\x9A", 5, 6},
    {"\xE2\x85\x9B", 1, 8},
    {"\xE2\x85\x9C", 3, 8},
    {"\xE2\x85\x9D", 5, 8},
    {"\xE2\x85\x9E", 7, 8},
}};

/// '1/2', '½' at the front: its two parts as text, and its length in bytes (0 = none).
struct Part {
  std::string above, below;
  std::size_t length = 0;
};
Part fraction_at(std::string_view text) {
  for (const Vulgar& v : kVulgar) {
    if (text.starts_with(v.sign)) return {std::to_string(v.above), std::to_string(v.below), v.sign.size()};
  }
  const std::size_t above = digits_at(text);
  if (above == 0) return {};
  std::size_t at = above, bar = 0;
  for (const std::string_view sign : {"/", "\xE2\x81\x84", "\xE2\x88\x95"}) {
    if (text.substr(at).starts_with(sign)) bar = sign.size();
  }
  if (bar == 0) return {};
  at += bar;
  const std::size_t below = digits_at(text, at);
  if (below == 0) return {};
  return {std::string(text.substr(0, above)), std::string(text.substr(at, below)), at + below};
}

/// A number made of a fraction, with or without a whole number before it. Length 0 = none here.
struct FractionFound {
  std::string whole;
  Part part;
  std::size_t length = 0;
};
FractionFound mixed_at(std::string_view text) {
  if (const Part part = fraction_at(text); part.length != 0) return {"", part, part.length};
  const std::size_t whole = digits_at(text);
  if (whole == 0) return {};
  std::size_t at = whole;
  while (at < text.size() && text[at] == ' ') ++at;
  for (const std::string_view space : {"\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x89"}) {
    if (text.substr(at).starts_with(space)) at += space.size();
  }
  const bool hyphen = at == whole && at < text.size() && text[at] == '-';
  if (hyphen) ++at;
  const Part part = fraction_at(text.substr(at));
  if (part.length == 0) return {};
  const bool is_sign = !is_digit(text[at]);
  if (at == whole && !is_sign) return {};
  return {std::string(text.substr(0, whole)), part, at + part.length};
}

Result<NumberReading> from_fraction(const FractionFound& found, bool negative, std::string_view typed) {
  if (found.whole.size() > 9 || found.part.above.size() > kMostInFraction ||
      found.part.below.size() > kMostInFraction) {
    return too_long(typed);
  }
  const std::int64_t whole = found.whole.empty() ? 0 : *parse_int(found.whole);
  const std::int64_t above = *parse_int(found.part.above), below = *parse_int(found.part.below);
  // '1 12/4' is a slip of the finger, not a number; '12/4' alone is one.
  if (below == 0 || (!found.whole.empty() && above >= below)) return unreadable(typed);
  std::string text = std::to_string(above) + "/" + std::to_string(below);
  if (whole != 0) text = std::to_string(whole) + " " + text;
  const Fraction size(Int128{whole} * below + above, below);
  if (above == 0 && whole == 0) negative = false;
  return NumberReading{negative ? "-" + text : text, negative ? Fraction(-size.numerator(), size.denominator()) : size};
}

/// Bytes of digits, marks, and spaces that stand between groups of three digits.
std::size_t run_length(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const char c = text[at];
    if (is_digit(c) || ((c == '.' || c == ',') && at + 1 < text.size() && is_digit(text[at + 1]))) {
      ++at;
      continue;
    }
    if ((c == '.' || c == ',') && at > 0 && is_digit(text[at - 1])) return at + 1;  // '5.' at the end
    std::size_t space = 0;
    for (const std::string_view s : {" ", "\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x89"}) {
      if (text.substr(at).starts_with(s)) space = s.size();
    }
    const bool groups = space != 0 && at > 0 && is_digit(text[at - 1]) && digits_at(text, at + space) == 3 &&
                        text.substr(0, at).find_first_of(".,") == std::string_view::npos;
    if (!groups) break;
    at += space;
  }
  return at;
}

/// '1,500,000' with its mark taken out, when every group but the first has three digits.
bool ungroup(std::string_view text, char mark, std::string& digits) {
  const std::vector<std::string_view> groups = split(text, mark);
  digits.clear();
  for (std::size_t i = 0; i < groups.size(); ++i) {
    const std::string_view g = groups[i];
    if (digits_at(g) != g.size() || g.empty() || (i == 0 ? g.size() > 3 : g.size() != 3)) return false;
    digits += g;
  }
  return groups.front().front() != '0';
}

Result<NumberReading> decimal(std::string_view whole, std::string_view places, bool negative, std::string_view typed) {
  const std::string front = without_leading_zeros(whole);
  if (front.size() > kMostWhole || places.size() > kMostPlaces) return too_long(typed);
  std::string text = front;
  if (!places.empty()) text += "." + std::string(places);
  if (negative && text.find_first_not_of("0.") != std::string::npos) text.insert(0, "-");
  return NumberReading{text, *Fraction::from_decimal(text)};
}

Result<std::vector<NumberReading>> read_run(std::string_view run, bool negative, DecimalMark mark,
                                            std::string_view typed) {
  std::string plain;
  for (std::size_t i = 0; i < run.size(); ++i) {
    if (is_digit(run[i]) || run[i] == '.' || run[i] == ',') plain += run[i];
  }
  const bool spaced = plain.size() != run.size();
  const std::size_t last = plain.find_last_of(".,");
  if (last == std::string::npos) {
    // Groups by spaces: the first has at most three digits, or they are two numbers side by side.
    if (spaced && (digits_at(run) > 3 || run[0] == '0')) return unreadable(typed);
    TRY_ASSIGN(NumberReading number, decimal(plain, "", negative, typed));
    return std::vector{std::move(number)};
  }
  const char sign = plain[last], other = sign == '.' ? ',' : '.';
  const std::string_view before = std::string_view(plain).substr(0, last),
                         after = std::string_view(plain).substr(last + 1);
  std::string digits;
  if (before.find(sign) != std::string_view::npos) {  // Twice the same mark: thousands, or nothing.
    if (!ungroup(plain, sign, digits)) return unreadable(typed);
    TRY_ASSIGN(NumberReading number, decimal(digits, "", negative, typed));
    return std::vector{std::move(number)};
  }
  if (before.find(other) != std::string_view::npos) {  // '1.500,25': the last mark is the decimal one.
    if (spaced || after.empty() || !ungroup(before, other, digits)) return unreadable(typed);
    TRY_ASSIGN(NumberReading number, decimal(digits, after, negative, typed));
    return std::vector{std::move(number)};
  }
  // One mark. Before exactly three digits a comma may part thousands, wherever one lives; a point
  // may where the comma is the decimal mark.
  const bool may_part = after.size() == 3 && before.size() <= 3 && !before.empty() && before.front() != '0' &&
                        !spaced && (sign == ',' || mark == DecimalMark::Comma);
  if (!may_part) {
    TRY_ASSIGN(NumberReading number, decimal(before.empty() ? "0" : before, after, negative, typed));
    return std::vector{std::move(number)};
  }
  const std::size_t kept = after.find_last_not_of('0');
  TRY_ASSIGN(NumberReading thousands, decimal(std::string(before) + std::string(after), "", negative, typed));
  TRY_ASSIGN(NumberReading small,
             decimal(before, kept == std::string_view::npos ? "" : after.substr(0, kept + 1), negative, typed));
  return std::vector{std::move(thousands), std::move(small)};
}

bool is_canonical_whole(std::string_view digits) {
  return !digits.empty() && digits_at(digits) == digits.size() && (digits.size() == 1 || digits[0] != '0');
}

}  // namespace

Result<LeadingNumber> take_number(std::string_view typed, DecimalMark mark) {
  std::string_view text = trim(typed);
  if (text.empty()) return refuse(Trouble::BadInput, "quantity.empty"_w);
  bool negative = false;
  for (const std::string_view sign : {"-", "\xE2\x88\x92", "+"}) {
    if (text.starts_with(sign)) {
      negative = sign != "+";
      text = trim(text.substr(sign.size()));
      break;
    }
  }
  if (const FractionFound found = mixed_at(text); found.length != 0) {
    TRY_ASSIGN(NumberReading number, from_fraction(found, negative, typed));
    return LeadingNumber{{std::move(number)}, text.substr(found.length), false};
  }
  const std::size_t length = run_length(text);
  if (length == 0) return unreadable(typed);
  TRY_ASSIGN(std::vector<NumberReading> readings, read_run(text.substr(0, length), negative, mark, typed));
  const bool spaced = text.substr(0, length).find(' ') != std::string_view::npos;
  return LeadingNumber{std::move(readings), text.substr(length), spaced};
}

std::optional<Fraction> parse_normal_number(std::string_view text) {
  const bool negative = text.starts_with('-');
  const std::string_view size = negative ? text.substr(1) : text;
  const std::size_t bar = size.find('/');
  if (bar == std::string_view::npos) {
    const std::size_t point = size.find('.');
    const std::string_view whole = size.substr(0, point);
    if (!is_canonical_whole(whole) || whole.size() > kMostWhole) return std::nullopt;
    if (point != std::string_view::npos) {
      const std::string_view places = size.substr(point + 1);
      if (places.empty() || places.size() > kMostPlaces || digits_at(places) != places.size()) return std::nullopt;
    }
    const auto value = Fraction::from_decimal(text);
    return value && !(negative && value->is_zero()) ? value : std::nullopt;
  }
  std::string_view whole = "0", above = size.substr(0, bar), below = size.substr(bar + 1);
  if (const std::size_t space = above.find(' '); space != std::string_view::npos) {
    whole = above.substr(0, space);
    above = above.substr(space + 1);
    if (whole == "0" || !is_canonical_whole(whole) || whole.size() > 9) return std::nullopt;
  }
  if (!is_canonical_whole(above) || !is_canonical_whole(below) || below == "0" || above.size() > kMostInFraction ||
      below.size() > kMostInFraction) {
    return std::nullopt;
  }
  const Int128 n = *parse_int(above), d = *parse_int(below), w = *parse_int(whole);
  if ((w != 0 && n >= d) || (negative && w == 0 && n == 0)) return std::nullopt;
  const Int128 value = w * d + n;
  return Fraction(negative ? -value : value, d);
}

}  // namespace steep
