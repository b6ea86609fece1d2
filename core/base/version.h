#pragma once
/// The program's own version, written into handover files and shown under Settings.

namespace steep {

inline constexpr char kProgramVersion[] = "0.1.0";

}  // namespace steep
