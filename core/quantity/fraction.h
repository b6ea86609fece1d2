#pragma once
/// Exact rational numbers: what a person typed, and exact unit factors, without rounding.

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace steep {

__extension__ typedef __int128 Int128;
__extension__ typedef unsigned __int128 Uint128;

/// numerator / denominator in lowest terms, denominator > 0. Arithmetic that would not fit 127
/// bits gives nullopt: never a rounded or wrapped value.
class Fraction {
 public:
  constexpr Fraction() = default;
  constexpr Fraction(long long whole) : numerator_(whole) {}  // NOLINT: a whole number is a fraction.
  /// Reduced; `denominator` must not be 0 and neither may be the most negative Int128.
  constexpr Fraction(Int128 numerator, Int128 denominator) : numerator_(numerator), denominator_(denominator) {
    if (denominator_ < 0) {
      numerator_ = -numerator_;
      denominator_ = -denominator_;
    }
    const Int128 divisor = common_divisor(numerator_ < 0 ? -numerator_ : numerator_, denominator_);
    if (divisor > 1) {
      numerator_ /= divisor;
      denominator_ /= divisor;
    }
  }
  /// '-12.50', '7': optional '-', digits, optional point and digits. At most 37 digits in all.
  static std::optional<Fraction> from_decimal(std::string_view text);

  constexpr Int128 numerator() const { return numerator_; }
  constexpr Int128 denominator() const { return denominator_; }
  constexpr bool is_zero() const { return numerator_ == 0; }
  constexpr bool is_negative() const { return numerator_ < 0; }
  constexpr bool is_whole() const { return denominator_ == 1; }

  std::optional<Fraction> plus(const Fraction& other) const;
  std::optional<Fraction> minus(const Fraction& other) const;
  std::optional<Fraction> times(const Fraction& other) const;
  std::optional<Fraction> over(const Fraction& other) const;  ///< nullopt for a zero divisor too.

  /// Compares exactly, also where cross products would not fit.
  std::strong_ordering operator<=>(const Fraction& other) const;
  constexpr bool operator==(const Fraction&) const = default;

  /// The nearest double (ties to even), computed with integers: the same on every machine.
  double to_double() const;
  /// 'n' or 'n/d' in decimal digits.
  std::string text() const;
  /// Plain decimal when it ends within `places` ('1.5', '-0.125'), else nullopt.
  std::optional<std::string> decimal(int places) const;

 private:
  static constexpr Int128 common_divisor(Int128 a, Int128 b) {
    while (b != 0) {
      const Int128 rest = a % b;
      a = b;
      b = rest;
    }
    return a;
  }
  Int128 numerator_ = 0;
  Int128 denominator_ = 1;
};

}  // namespace steep
