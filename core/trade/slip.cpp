#include "trade/slip.h"

#include <cmath>

namespace steep {
namespace {

constexpr double kClose = 0.05;
constexpr Slip kSlips[] = {
    {SlipKind::KilogramsForPounds, 1 / 0.45359237},
    {SlipKind::PoundsForKilograms, 0.45359237},
    {SlipKind::GallonsForLiters, 3.785411784},
    {SlipKind::LitersForGallons, 1 / 3.785411784},
    {SlipKind::OneDecimalTooMuch, 10},
    {SlipKind::OneDecimalTooLittle, 0.1},
};

}  // namespace

std::optional<Slip> likely_slip(double given, double expected_low, double expected_high) {
  if (!(given > 0) || !(expected_low > 0) || !(expected_high >= expected_low) || !std::isfinite(given))
    return std::nullopt;
  if (given >= expected_low * (1 - kClose) && given <= expected_high * (1 + kClose)) return std::nullopt;
  for (const Slip& slip : kSlips) {
    const double meant = given / slip.factor;
    if (meant >= expected_low * (1 - kClose) && meant <= expected_high * (1 + kClose)) return slip;
  }
  return std::nullopt;
}

}  // namespace steep
