#pragma once
/// Where a spray is meant to land. Waits and intervals ask for it.

namespace steep {

enum class Aim {
  Leaf,    ///< On leaves.
  Soil,    ///< On the ground.
  Drench,  ///< Poured into the root zone.
};

/// Intervals know two aims, 'on leaf' and 'on soil': a drench reaches the soil and counts there.
constexpr bool is_on_soil(Aim aim) { return aim != Aim::Leaf; }

}  // namespace steep
