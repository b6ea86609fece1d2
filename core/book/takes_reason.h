#pragma once
/// Which questions end with a reason.

#include "base/result.h"

namespace steep {

/// An Ask about a value that is hardly right and yet may be: the command takes it when Going::reason says why. What has two
/// readings, or lacks an answer, needs that answer instead.
bool takes_reason(const Problem& problem);

}  // namespace steep
