#include <doctest/doctest.h>

#include "base/nearest.h"

using namespace steep;

TEST_CASE("nearest: small fractions round as the machine's own division does") {
  bool all = true;
  for (int a = 0; a <= 300; ++a) {
    for (int b = 1; b <= 300; ++b) {
      all = all && nearest_double(static_cast<unsigned>(a), static_cast<unsigned>(b)) == static_cast<double>(a) / b;
    }
  }
  CHECK(all);
}

TEST_CASE("nearest: wide numbers, ties to even, nothing lost below") {
  constexpr UInt128 kOne = 1;
  CHECK(nearest_double(kOne << 120, kOne << 67) == 9007199254740992.0);
  CHECK(nearest_double((kOne << 53) + 1, 1) == 9007199254740992.0);
  CHECK(nearest_double((kOne << 53) + 3, 1) == 9007199254740996.0);
  CHECK(nearest_double((((kOne << 53) + 1) << 60) + 1, kOne << 60) == 9007199254740994.0);
  CHECK(nearest_double((kOne << 126) + 1, 3) == static_cast<double>(kOne << 126) / 3);
  CHECK(nearest_double(1, (kOne << 126) + 1) == 1.0 / static_cast<double>(kOne << 126));
}
