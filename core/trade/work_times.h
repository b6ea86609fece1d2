#pragma once
/// Times as calculations take and give them: on the clock of a zone.

#include "base/zone.h"
#include "trade/calculation.h"

namespace steep {

/// '2026-06-03 18:04'
std::string local_text(const Zone& zone, Moment at);
/// None in the gap of spring, two in the hour that comes twice, unless its offset was typed.
std::vector<Moment> moments_of(const Zone& zone, const Value& value);
/// Trouble: Ask  an hour that the clock skipped, or that came twice; `place` = the input's name.
Result<Moment> moment_of(const Zone& zone, const Value& value, std::string_view place);

}  // namespace steep
