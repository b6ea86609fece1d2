#pragma once
/// The program's own version, written into handover files and shown under Settings.

#include <cstdint>

namespace steep {

inline constexpr char kProgramVersion[] = "0.1.0";
/// No copy of the program existed before this moment (8 November 2025, UTC): a clock that shows an earlier one is wrong.
inline constexpr std::int64_t kProgramBornMs = std::int64_t{20'400} * 86'400'000;

}  // namespace steep
