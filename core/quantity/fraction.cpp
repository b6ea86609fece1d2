#include "quantity/fraction.h"

#include "base/decimal_digits.h"

namespace steep {
namespace {

/// nullopt when the product or sum leaves the range; the most negative value is left out too, so
/// that a sign can always be turned.
std::optional<Int128> product(Int128 a, Int128 b) {
  Int128 out = 0;
  constexpr Int128 kMost = static_cast<Int128>(~Uint128{0} >> 1);
  if (__builtin_mul_overflow(a, b, &out) || out < -kMost) return std::nullopt;
  return out;
}
std::optional<Int128> sum(Int128 a, Int128 b) {
  Int128 out = 0;
  constexpr Int128 kMost = static_cast<Int128>(~Uint128{0} >> 1);
  if (__builtin_add_overflow(a, b, &out) || out < -kMost) return std::nullopt;
  return out;
}

std::string digits(Uint128 value) {
  std::string out;
  do {
    out.insert(out.begin(), static_cast<char>('0' + static_cast<int>(value % 10)));
    value /= 10;
  } while (value != 0);
  return out;
}
std::string digits(Int128 value) {
  return value < 0 ? "-" + digits(static_cast<Uint128>(-value)) : digits(static_cast<Uint128>(value));
}

struct Division {
  Int128 floor, rest;
};
Division divide(Int128 a, Int128 b) {  // b > 0
  Int128 floor = a / b, rest = a % b;
  if (rest < 0) {
    --floor;
    rest += b;
  }
  return {floor, rest};
}

}  // namespace

std::optional<Fraction> Fraction::from_decimal(std::string_view text) {
  const auto read = decimal_digits(text);
  if (!read) return std::nullopt;
  const auto value = static_cast<Int128>(read->digits);
  return Fraction(read->negative ? -value : value, static_cast<Int128>(read->scale));
}

std::optional<Fraction> Fraction::plus(const Fraction& other) const {
  const Int128 shared = common_divisor(denominator_, other.denominator_);
  const auto left = product(numerator_, other.denominator_ / shared);
  const auto right = product(other.numerator_, denominator_ / shared);
  const auto below = product(denominator_ / shared, other.denominator_);
  if (!left || !right || !below) return std::nullopt;
  const auto above = sum(*left, *right);
  if (!above) return std::nullopt;
  return Fraction(*above, *below);
}

std::optional<Fraction> Fraction::minus(const Fraction& other) const {
  return plus(Fraction(-other.numerator_, other.denominator_));
}

std::optional<Fraction> Fraction::times(const Fraction& other) const {
  // Reduced crosswise first: what fits when reduced never fails.
  const Fraction a(numerator_, other.denominator_), b(other.numerator_, denominator_);
  const auto above = product(a.numerator_, b.numerator_);
  const auto below = product(a.denominator_, b.denominator_);
  if (!above || !below) return std::nullopt;
  return Fraction(*above, *below);
}

std::optional<Fraction> Fraction::over(const Fraction& other) const {
  if (other.numerator_ == 0) return std::nullopt;
  return times(Fraction(other.denominator_, other.numerator_));
}

// Compares whole parts, then the reciprocals of what is left, as in a continued fraction.
std::strong_ordering Fraction::operator<=>(const Fraction& other) const {
  Int128 a = numerator_, b = denominator_, c = other.numerator_, d = other.denominator_;
  while (true) {
    const Division left = divide(a, b), right = divide(c, d);
    if (left.floor != right.floor)
      return left.floor < right.floor ? std::strong_ordering::less : std::strong_ordering::greater;
    if (left.rest == 0 && right.rest == 0) return std::strong_ordering::equal;
    if (left.rest == 0) return std::strong_ordering::less;
    if (right.rest == 0) return std::strong_ordering::greater;
    a = d;
    d = left.rest;
    c = b;
    b = right.rest;
  }
}

double Fraction::to_double() const {
  const double size = nearest_double(static_cast<UInt128>(numerator_ < 0 ? -numerator_ : numerator_),
                                     static_cast<UInt128>(denominator_));
  return numerator_ < 0 ? -size : size;
}

std::string Fraction::text() const {
  return is_whole() ? digits(numerator_) : digits(numerator_) + "/" + digits(denominator_);
}

std::optional<std::string> Fraction::decimal(int places) const {
  Int128 scale = 1;
  std::size_t used = 0;
  while (scale % denominator_ != 0) {
    if (static_cast<int>(used) >= places || used >= 37) return std::nullopt;
    scale *= 10;
    ++used;
  }
  const auto scaled = product(numerator_, scale / denominator_);
  if (!scaled) return std::nullopt;
  std::string out = digits(*scaled < 0 ? -*scaled : *scaled);
  if (used > 0) {
    if (out.size() <= used) out.insert(0, used + 1 - out.size(), '0');
    out.insert(out.size() - used, ".");
  }
  return is_negative() ? "-" + out : out;
}

}  // namespace steep
