#pragma once
/// The farm's own numbers: which there are, in which unit and range, and what stands in where the farm set none.
///
/// Each is somebody's number, never a fact of nature: whose it is stands beside it everywhere.

#include <optional>
#include <span>
#include <string_view>

#include "base/result.h"
#include "book/places.h"
#include "quantity/written.h"

namespace steep {

enum class LimitUse { Brew, Plan, Field };

struct LimitKind {
  std::string_view which;  ///< Stored word of the kind 'limit'.
  LimitUse use;
  std::string_view unit;      ///< Of a bare number; gives the kind of unit.
  bool bare;                  ///< A number without unit says enough.
  double least, most;         ///< In `unit`, both allowed.
  std::string_view standard;  ///< Common practice, no source; empty = nothing stands in.
};

std::span<const LimitKind> limit_kinds();
/// nullptr for one that only a newer program knows.
const LimitKind* find_limit_kind(std::string_view which);

/// Trouble: BadInput  a unit of another kind, a bare number where it needs a unit; OutOfRange. One that is not in the list is
/// let pass: it is a newer program's.
Result<void> check_limit(std::string_view which, const Written& value);
Result<void> check_limit(std::string_view which, double bare);

/// SI of the farm's number; nullopt = not set, or a value that is none of its kind.
std::optional<double> limit_si(std::span<const FarmLimit> limits, std::string_view which);
/// The same as it was typed, a bare number with its unit.
std::optional<Written> limit_written(const FarmLimit& limit);

}  // namespace steep
