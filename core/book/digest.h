#pragma once
/// The equality code of a folded book: a sum, so that it is kept up as records change.

#include <cstdint>
#include <string>
#include <string_view>

#include "base/id.h"
#include "base/sha256.h"
#include "book/kinds.h"

namespace steep {

/// One head of one group: SHA-256 over part, record, group key, hash of the head, is it the winner.
Hash digest_term(const Part& part, const Id& record, std::string_view group, const Hash& head, bool wins);
/// Modulo 2^256, the first byte being the most significant.
void digest_add(Hash& sum, const Hash& term);
void digest_subtract(Hash& sum, const Hash& term);
/// '7f3a 91c2 d04e'
std::string digest_code(const Hash& sum);

}  // namespace steep
