#include "base/nearest.h"

#include <cmath>
#include <cstdint>

namespace steep {
namespace {

int bit_length(UInt128 value) {
  int bits = 0;
  for (; value != 0; value >>= 1) ++bits;
  return bits;
}

}  // namespace

double nearest_double(UInt128 numerator, UInt128 denominator) {
  if (numerator == 0) return 0;
  // A quotient of 55 or 56 bits: at least two more than a double keeps. The lowest stands for all
  // that follows, so that the one rounding is the conversion of the integer to double.
  const int shift = 55 - (bit_length(numerator) - bit_length(denominator));
  UInt128 quotient = numerator / denominator;
  UInt128 rest = numerator % denominator;
  bool more = false;
  for (int i = 0; i < shift; ++i) {
    rest <<= 1;
    quotient <<= 1;
    if (rest >= denominator) {
      rest -= denominator;
      quotient |= 1;
    }
  }
  if (shift < 0) {
    more = (quotient & ((UInt128{1} << -shift) - 1)) != 0;
    quotient >>= -shift;
  }
  if (more || rest != 0) quotient |= 1;
  return std::ldexp(static_cast<double>(static_cast<std::uint64_t>(quotient)), -shift);
}

}  // namespace steep
