#pragma once
/// Did somebody type one unit and mean another? 22 kg where the recipe says 22 lb.
///
/// Answers only 'it looks like': the caller asks, changes nothing, and keeps what was typed if told so.
///
/// Source:   ratios of units, [NIST-811]; common practice, no source for which slips happen.
/// Formula:  given / expected close to kg/lb 2.205, gal/L 3.785, imperial/US gal 1.201, oz/fl oz …, or a decimal place
/// Limits:   within 5 % of a ratio, and only when the amount is outside the expected range.
/// Accuracy: a hint.

#include <optional>

namespace steep {

enum class SlipKind {
  KilogramsForPounds,   ///< ×2.205
  PoundsForKilograms,   ///< ×0.454
  GallonsForLiters,     ///< ×3.785
  LitersForGallons,     ///< ×0.264
  OneDecimalTooMuch,    ///< ×10
  OneDecimalTooLittle,  ///< ×0.1
};

struct Slip {
  SlipKind kind;
  double factor;  ///< given / factor = what was probably meant.
};

/// `given` against the expected range, both in the same unit. nullopt: within the range (5 % allowed), or no
/// usual slip explains it. Amounts not above 0 give nullopt.
std::optional<Slip> likely_slip(double given, double expected_low, double expected_high);

}  // namespace steep
