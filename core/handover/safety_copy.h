#pragma once
/// A copy of the whole stored book, set aside before a file is applied: always when much comes, else at most once a day.

#include "handover/take.h"
#include "host/platform.h"

namespace steep {

/// Local setting of this book: when the last copy was set aside, ms.
inline constexpr std::string_view kSafetyCopySetting = "safety-copy";

/// Is one to be made before this is applied? A file that brings no change asks for none.
bool safety_copy_due(Platform& platform, const TakePlan& plan);
void note_safety_copy(Platform& platform);

}  // namespace steep
