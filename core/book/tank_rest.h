#pragma once
/// What stays in a tank from load to load of one pass. Only core/book includes this.

#include <string>

namespace steep {

/// m³; a milliliter is nothing anyone sprays.
inline constexpr double kNothing = 1e-6;

/// SQL over loads `l` and `n`: some of `l` may have been sprayed with `n`, the next of its pass, unless somebody wrote
/// that the tank was emptied or cleaned.
inline const std::string kStaysInto =
    "k_load l JOIN k_load n ON n.pass = l.pass AND n.struck IS NULL AND n.before_cleaned IS NOT 1 AND n.number_n = "
    "(SELECT min(m.number_n) FROM k_load m WHERE m.pass = l.pass AND m.number_n > l.number_n AND m.struck IS NULL) "
    "WHERE l.struck IS NULL AND (l.left_si IS NULL OR l.left_si - COALESCE((SELECT sum(d.volume_si) FROM k_discard d "
    "WHERE d.of = l.uid AND d.struck IS NULL), 0) > " +
    std::to_string(kNothing) + ')';

}  // namespace steep
