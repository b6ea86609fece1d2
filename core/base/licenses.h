#pragma once
/// Whose work is in the program, and under which licences: made at build time from LICENSE and
/// assets/licenses.txt. Shown in Settings and by `steepbook licenses`.

#include <string_view>

namespace steep {

/// Plain text in lines, in English as the licences are. Lives as long as the program.
std::string_view third_party_licenses();

}  // namespace steep
