#pragma once
/// The digits of a plain decimal ('-1.25'), exact: what doubles and fractions are both made from.

#include <optional>
#include <string_view>

#include "base/nearest.h"

namespace steep {

struct DecimalDigits {
  bool negative = false;
  UInt128 digits = 0;  ///< 125 of '-1.25'.
  UInt128 scale = 1;   ///< 100 of '-1.25'.
};

/// At most 37 digits, at least one before a point and one behind it; no sign but '-', no exponent.
std::optional<DecimalDigits> decimal_digits(std::string_view text);

}  // namespace steep
