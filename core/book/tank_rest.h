#pragma once
/// What stays in a tank from load to load of one pass, as SQL. Only core/book includes this.

#include <string>

namespace steep {

/// Of a load `l`: is anything in the tank when the next one is filled? Unless somebody wrote that it was emptied.
/// From a milliliter on; less is nothing anyone sprays.
inline const std::string kMayStay =
    "(l.left_si IS NULL OR l.left_si - COALESCE((SELECT sum(d.volume_si) FROM k_discard d WHERE d.of = l.uid AND "
    "d.struck IS NULL), 0) > 1e-6)";

/// Loads `l` and `n` such that some of `l` may have been sprayed with `n`, the next of its pass.
inline const std::string kStaysInto =
    "k_load l JOIN k_load n ON n.pass = l.pass AND n.struck IS NULL AND n.before_cleaned IS NOT 1 AND n.number_n = "
    "(SELECT min(m.number_n) FROM k_load m WHERE m.pass = l.pass AND m.number_n > l.number_n AND m.struck IS NULL) "
    "WHERE l.struck IS NULL AND " +
    kMayStay;

}  // namespace steep
