#pragma once
/// Small things about text that the standard library does not give on both sides.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace steep {

std::string_view trim(std::string_view text);  ///< ASCII white space and no-break spaces at both ends.
std::vector<std::string_view> split(std::string_view text, char separator);  ///< Keeps empty pieces.
std::string join(const std::vector<std::string>& pieces, std::string_view separator);
std::string lower(std::string_view text);  ///< ASCII letters, and those of Latin-1: Á, Ñ, Ö …
/// 'depth of the outlet' -> 'Depth of the outlet'; letters as in `lower`.
std::string sentence_case(std::string text);

/// Well-formed UTF-8 of Unicode scalar values: no overlong forms, surrogates, NUL.
bool is_utf8(std::string_view text);
/// What may be drawn or printed: control characters and bidirectional marks removed, a tab becomes a
/// space, line ends stay, bytes that are not UTF-8 become U+FFFD.
std::string printable(std::string_view text);
/// Length in code points; `text` must be UTF-8.
std::size_t code_points(std::string_view text);

std::optional<std::int64_t> parse_int(std::string_view text);  ///< Optional '-', digits, nothing else.
/// Plain decimal with a point ('-1.25', '6'), at most 37 digits; no exponent, no thousands marks. The
/// nearest double, locale independent.
std::optional<double> parse_decimal(std::string_view text);
/// Shortest of at most `decimals` places, point as mark, no '-0'; locale independent.
std::string decimal(double value, int decimals);
/// Fixed number of places.
std::string fixed(double value, int decimals);

}  // namespace steep
