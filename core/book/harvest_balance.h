#pragma once
/// What was picked less what was sold of it. Only core/book includes this.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/taken.h"
#include "quantity/written.h"

namespace steep {

/// Sales in another kind of amount than the picking's own (boxes against weight) are not compared.
struct HarvestBalance {
  std::string code;
  Taken<Stamp> picked_at;
  Taken<Written> picked;       ///< As typed.
  std::optional<double> left;  ///< In the unit of `picked`; nullopt when that is not known. May be negative.
  bool is_oversold() const { return left && *left < -1e-9; }
};
Result<HarvestBalance> read_harvest_balance(const Book& book, const Id& harvest);

/// One sale as it is being entered: more than is left of the picking, or before it. `counted`: what it had sold of this
/// picking, when it is corrected.
Result<std::vector<Caution>> sale_cautions(const Book& book, const Id& harvest, const std::optional<Written>& amount,
                                           const std::optional<Moment>& at, const std::optional<Written>& counted = {});

/// Sold before it was picked? A time is typed to the minute.
bool is_before_picking(Moment sold, Moment picked);

}  // namespace steep
