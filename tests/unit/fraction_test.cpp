#include <doctest/doctest.h>

#include "quantity/fraction.h"

using namespace steep;

namespace {
constexpr Int128 kMost = static_cast<Int128>(~Uint128{0} >> 1);
Fraction decimal(std::string_view text) { return Fraction::from_decimal(text).value_or(Fraction(-999999)); }
}  // namespace

TEST_CASE("fraction: lowest terms, sign above") {
  CHECK(Fraction(6, -4) == Fraction(-3, 2));
  CHECK(Fraction(0, -7) == Fraction(0));
  CHECK(Fraction(-3, 2).text() == "-3/2");
  CHECK(Fraction(8, 4).text() == "2");
}

TEST_CASE("fraction: from decimals") {
  CHECK(decimal("1.50") == Fraction(3, 2));
  CHECK(decimal("-0.125") == Fraction(-1, 8));
  CHECK(decimal("0") == Fraction(0));
  CHECK(decimal("3.785411784") == Fraction(473176473, 125000000));
  for (const std::string_view bad :
       {"", "-", ".5", "5.", "1,5", "1e3", "1.2.3", " 1", "12345678901234567890123456789012345678"})
    CHECK_FALSE(Fraction::from_decimal(bad));
}

TEST_CASE("fraction: arithmetic is exact") {
  CHECK(*Fraction(1, 3).plus(Fraction(1, 6)) == Fraction(1, 2));
  CHECK(*Fraction(1, 3).minus(Fraction(1, 3)) == Fraction(0));
  CHECK(*Fraction(2, 3).times(Fraction(9, 4)) == Fraction(3, 2));
  CHECK(*Fraction(2, 3).over(Fraction(-4, 9)) == Fraction(-3, 2));
  CHECK_FALSE(Fraction(1).over(Fraction(0)));
}

TEST_CASE("fraction: what does not fit is nullopt, never wrapped") {
  const Fraction most(kMost, 1), least(-kMost, 1), tiny(1, kMost);
  CHECK_FALSE(most.plus(Fraction(1)));
  CHECK_FALSE(least.minus(Fraction(1)));
  CHECK_FALSE(most.times(Fraction(2)));
  CHECK_FALSE(tiny.times(Fraction(1, 2)));
  CHECK_FALSE(tiny.plus(Fraction(1, kMost - 1)));
  CHECK(*most.times(tiny) == Fraction(1));  // Reduced crosswise first.
  CHECK(*most.plus(Fraction(0)) == most);
}

TEST_CASE("fraction: order without overflow") {
  CHECK(Fraction(1, 3) < Fraction(1, 2));
  CHECK(Fraction(-1, 3) > Fraction(-1, 2));
  CHECK(Fraction(-1, 2) < Fraction(0));
  CHECK(Fraction(kMost, kMost - 1) < Fraction(kMost - 1, kMost - 2));
  CHECK(Fraction(kMost - 2, kMost - 1) < Fraction(kMost - 1, kMost));
  CHECK(Fraction(-kMost, 7) < Fraction(-kMost, 8));
  for (int a = -12; a <= 12; ++a) {
    for (int b = 1; b <= 7; ++b) {
      for (int c = -12; c <= 12; ++c) {
        for (int d = 1; d <= 7; ++d) CHECK((Fraction(a, b) < Fraction(c, d)) == (a * d < c * b));
      }
    }
  }
}

TEST_CASE("fraction: nearest double and decimal text") {
  CHECK(Fraction(1, 3).to_double() == 1.0 / 3);
  CHECK(Fraction(-473176473, 125000000).to_double() == -3.785411784);
  CHECK(Fraction(1, 8).decimal(3) == "0.125");
  CHECK(Fraction(-1, 8).decimal(9) == "-0.125");
  CHECK_FALSE(Fraction(1, 8).decimal(2));
  CHECK_FALSE(Fraction(1, 3).decimal(30));
  CHECK(Fraction(12, 1).decimal(0) == "12");
  CHECK(Fraction(5, 2).decimal(1) == "2.5");
}
