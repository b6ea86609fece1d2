#pragma once
/// Things that move, by time and not by frames; instant with 'reduce motion'. Asks for frames
/// itself while something moves; at rest none is asked for.

#include <cstdint>

namespace steep {

constexpr double kFillMotion_s = 0.18;   ///< Strip fill after 'done', tank level.
constexpr double kSheetMotion_s = 0.16;  ///< Sheet coming up.

/// The value shown now for something whose value is `target`. The first time an id is seen it
/// stands at its target at once; after a change it goes there in `seconds`, fast first.
float moving(std::uint32_t id, float target, double seconds = kFillMotion_s);
/// The same, but an id seen for the first time starts at `from`.
float moving_from(std::uint32_t id, float from, float target, double seconds);

}  // namespace steep
