#pragma once
/// How every bed of a farm stands at a moment: crops, last tea, what is due, what holds, what is in question.
///
/// One reading for the whole farm (10 seasons × 200 beds natively in under 50 ms). Waits never use a
/// stand-in: over all heads in conflict, entries in question, entries struck while somebody else edited
/// them, and readable waiting changes, the most cautious governs ('held: 2 entries to settle').

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/places.h"
#include "trade/due.h"
#include "trade/hold.h"
#include "trade/share.h"
#include "trade/stretch.h"

namespace steep {

/// A treatment behind a hold, for the line that explains it.
struct HoldSource {
  Id dose, pass, brew, hand_hold;  ///< Nil where it doesn't apply.
  std::string who;                 ///< Of a hold set by hand: the person.
  std::string why;                 ///< Of a hold set by hand.
};

/// One hold with everything that explains it.
struct HeldWait {
  Hold hold;                          ///< As trade computed it; governing contributor first.
  std::vector<Treatment> treatments;  ///< `hold.contributors` index into these.
  std::vector<HoldSource> sources;    ///< One for each treatment.
  /// Of the governing contributor; nullptr when nothing holds.
  const RuleWait* rule() const;
  const HoldSource* source() const;
  Wait wait() const;      ///< Its most cautious reading.
  bool is_entry = false;  ///< Which list of the treatments the indices mean.
};

/// Last tea that reached a stretch with one aim.
struct LastTea {
  Id dose, brew;
  Moment finish;
  Aim aim = Aim::Leaf;
};

struct PlantingState {
  Id planting;  ///< Nil = the bare bed.
  std::string crop;
  Stretch stretch;
  HeldWait harvest;  ///< The longest over its length.
};

/// A part of the bed with one history throughout.
struct StretchState {
  Stretch stretch;
  std::optional<LastTea> leaf, soil;
  HeldWait harvest;  ///< The longest over the plantings that stand on it.
  HeldWait entry;
};

/// What the end cell of the strip says, the most pressing first.
enum class StripSays { Nothing, NoEntry, NoHarvest, Late, Due, DaysLeft };

struct BedState {
  Bed bed;
  std::string crops;  ///< 'Lettuce, radish'; empty = nothing grows there.
  std::vector<PlantingState> plantings;
  std::vector<StretchState> stretches;  ///< From the zero end; more than one = cut line.
  std::optional<LastTea> last_tea;      ///< The last one anywhere on the bed, any aim.
  std::optional<Due> leaf, soil;        ///< nullopt = no interval set.
  HeldWait harvest, entry;              ///< The longest over all of it.
  int to_settle = 0;                    ///< Entries whose facts are in dispute.
  bool set_by_hand = false;             ///< A hold set by hand is among those that hold now.
  bool rule_undecided = false;          ///< The farm's tea rule is not decided and holds: 'Set the farm's rule'.
  std::vector<Id> questions;            ///< Doses of 'Same bed, twice?' not yet answered.
  StripSays says = StripSays::Nothing;
  /// The one of leaf and soil that is due first; nullptr = none set.
  const Due* due_first() const;
  int days_left() const;  ///< Of due_first(), the least of its stretches; 0 when none.
  bool is_due() const;    ///< Anything due or late today.
  bool holds_harvest(Moment now) const { return harvest.hold.holds_at(now); }
  bool holds_entry(Moment now) const { return entry.hold.holds_at(now); }
};

struct BedStates {
  Places places;
  Moment at;
  Date today;
  std::vector<BedState> beds;  ///< In walking order.
  const BedState* bed(const Id& id) const;
  int due = 0, late = 0, no_entry = 0, no_harvest = 0, with_question = 0;
  /// Doses that point to a bed which is not on this copy: counted in totals, listed.
  int on_unknown_beds = 0;
};

/// Trouble::NotFound "place.no-farm"; System, Damaged from the store.
Result<BedStates> bed_states(const Book& book, const Id& farm, Moment at);

/// Keeps the last answer until the book changes, the day turns or a wait runs out.
class BedStatesCache {
 public:
  Result<const BedStates*> get(const Book& book, const Id& farm, Moment now);

 private:
  std::unique_ptr<BedStates> states_;
  Id farm_;
  std::uint64_t counter_ = 0;
  Moment good_until_;
};

}  // namespace steep
