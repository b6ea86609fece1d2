#pragma once
/// How far a lane is here without a gap: what this copy may tell others that it holds.

#include <optional>

#include "book/book.h"

namespace steep {

/// The last line of the lane that follows unbroken from its first; of a fork the farthest branch. nullopt when
/// the first line is not here. Whoever said more would never be given what is missing in between, and the
/// writer would take it for confirmed.
Result<std::optional<ChangeRef>> unbroken_tip(const Book& book, const Lane& lane);

}  // namespace steep
