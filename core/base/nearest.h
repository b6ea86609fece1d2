#pragma once
/// The double nearest to a fraction, with integers alone: the same bits on every machine.

namespace steep {

__extension__ typedef unsigned __int128 UInt128;

/// numerator / denominator rounded to nearest, ties to even. Both < 2^127, denominator > 0.
double nearest_double(UInt128 numerator, UInt128 denominator);

}  // namespace steep
