#pragma once
/// The numbers that people type, every way they can be read. Used by the readers of written.h.

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "quantity/decimal_mark.h"
#include "quantity/fraction.h"

namespace steep {

/// One reading: its normal form and its value.
struct NumberReading {
  std::string text;  ///< '1500', '1.50', '-2 1/2'
  Fraction amount;
};

/// The number at the front of `typed`, and what follows it.
struct LeadingNumber {
  std::vector<NumberReading> readings;  ///< Two where marks leave it open ('1,500'): thousands first.
  std::string_view rest;                ///< A piece of what was given.
  bool spaced = false;                  ///< '12 100': thousands by plain spaces, or two numbers? Ask.
};

/// Takes signs '-' '−' '+', points and commas as either mark, spaces or the other mark between
/// thousands, '1/2', '2 1/2', '2-1/2', '½', '2½'. At most 15 digits before and 9 after the mark, 6
/// in parts of a fraction. No number at the front = BadInput.
Result<LeadingNumber> take_number(std::string_view typed, DecimalMark mark);

/// Normal form alone: -?(0|[1-9]\d{0,14})(\.\d{1,9})? or -?(whole )?n/d, d > 0.
std::optional<Fraction> parse_normal_number(std::string_view text);

}  // namespace steep
