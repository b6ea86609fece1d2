#pragma once
/// Days of a wait as somebody wrote them.

#include <optional>

namespace steep {

/// As they count: part of a day is a whole one. nullopt: none given, or none that can be right.
std::optional<int> whole_wait_days(std::optional<double> days);

}  // namespace steep
