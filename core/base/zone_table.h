#pragma once
/// The table that make_zones.py writes at build time from the system's zone files.

#include <span>
#include <string_view>

namespace steep {

struct ZoneRow {
  std::string_view name;  ///< IANA name, sorted by bytes.
  std::string_view rule;  ///< POSIX rule in force after the last listed change.
};

std::span<const ZoneRow> zone_table();

}  // namespace steep
