#pragma once
/// What stays in a tank from one tankful to the next: within a pass by their numbers, and from the last of a pass into the
/// first of the rig's next one, by their starts. Only core/book includes this.
///
/// Between passes only a wash on record empties a tank, not a load's word 'cleaned before': the copy that wrote it may not
/// have known of a pass that another copy made in between.

#include <optional>
#include <vector>

#include "book/book.h"
#include "trade/mix.h"

namespace steep {

/// m³; a milliliter is nothing anyone sprays.
inline constexpr double kNothing = 1e-6;

/// Tankfuls of which some may have been sprayed with this load, unless somebody wrote that the tank was emptied or cleaned.
Result<std::vector<Id>> loads_before(const Book& book, const Id& load);
/// And those that some of it may have been sprayed with.
Result<std::vector<Id>> loads_after(const Book& book, const Id& load);
/// Those that come next in the tank, whatever is written of the rest.
Result<std::vector<Id>> loads_following(const Book& book, const Id& load);
/// The first tankfuls of the first pass with this rig that starts at `since` or later, other than `except`.
Result<std::vector<Id>> first_loads_since(const Book& book, const Id& rig, Moment since, const Id& except);

/// Passes whose tankfuls may still be in the tank of a pass.
struct PassesInTank {
  std::vector<Id> passes;  ///< Itself first, then back in time.
  bool all = true;         ///< False: there are more, further back than anyone wants to follow one by one.
};
Result<PassesInTank> passes_in_tank(const Book& book, const Id& pass);
/// Those of which it is written how much stayed, one after the other: volumes are known no further back.
Result<std::vector<Id>> passes_measured_into(const Book& book, const Id& pass);

/// The last tankful in a rig, as far as some of it may still be there.
struct TankRest {
  Id load, pass;
  std::optional<Mix> left;  ///< nullopt: nobody wrote how much.
};
/// When a pass starts at `at`; `except`: that pass.
Result<std::optional<TankRest>> tank_rest(const Book& book, const Id& rig, Moment at, const Id& except = {});

}  // namespace steep
