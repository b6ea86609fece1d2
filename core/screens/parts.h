#pragma once
/// Small things that several pages draw alike.

#include "look/caution.h"
#include "look/layout.h"

namespace steep {

/// Forms and texts are no wider than a column that is read: on wide screens they stand in the middle.
/// A pen of at most `most` wide in the middle of `pen`; close it with pen.below().
Pen reading_column(const Pen& pen, float most = size::kReading);

}  // namespace steep
