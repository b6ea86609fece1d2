#pragma once
/// Times as calculations take and give them: on the clock of a zone.

#include "base/zone.h"
#include "trade/calculation.h"

namespace steep {

/// '2026-06-03 18:04'
std::string local_text(const Zone& zone, Moment at);
/// Of a clock that came twice, the earlier. Trouble: Ask  an hour that the clock skipped; `place` = the input's name.
Result<Moment> moment_of(const Zone& zone, const Value& value, std::string_view place);

}  // namespace steep
