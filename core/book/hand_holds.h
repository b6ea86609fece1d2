#pragma once
/// Holds that a person set, each at its most cautious over all that anybody said of it. Only core/book includes this.

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "book/doubts.h"
#include "trade/stretch.h"

namespace steep {

/// Either way round: some count from the other end.
inline std::optional<Stretch> stretch_between(std::optional<Length> from, std::optional<Length> to) {
  if (!from || !to) return std::nullopt;
  return Stretch{std::min(*from, *to), std::max(*from, *to)};
}

struct SetHold {
  Id hold;
  std::vector<Id> beds;  ///< More than one where people named different ones.
  bool harvest = false, entry = false;
  Moment set;
  std::optional<Moment> until;     ///< nullopt: until it is released.
  std::optional<Stretch> stretch;  ///< nullopt: all of the bed.
  std::string who, why;
  bool in_question = false;
};

/// Those that are not struck for good, and those known only from lines that wait. `bed`: that lie on it under any reading;
/// nil = all.
Result<std::vector<SetHold>> hand_holds(const Book& book, const Doubts& doubts, const Id& bed = {});

}  // namespace steep
