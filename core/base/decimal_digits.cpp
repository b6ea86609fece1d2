#include "base/decimal_digits.h"

namespace steep {

std::optional<DecimalDigits> decimal_digits(std::string_view text) {
  DecimalDigits read;
  read.negative = text.starts_with('-');
  if (read.negative) text.remove_prefix(1);
  int count = 0, whole = 0;
  bool point = false;
  for (const char c : text) {
    if (c == '.' && !point) {
      point = true;
      continue;
    }
    if (c < '0' || c > '9' || ++count > 37) return std::nullopt;
    read.digits = read.digits * 10 + static_cast<unsigned>(c - '0');
    if (point)
      read.scale *= 10;
    else
      ++whole;
  }
  if (whole == 0 || (point && whole == count)) return std::nullopt;
  return read;
}

}  // namespace steep
