#pragma once
/// How many tankfuls does a list of beds take, what goes into each, and where does each one end?
///
/// Two rates rule a spray, and both are always named: tea per area and spray (tea and water) per area,
/// both per area of the same thing (bed top or swath). 'In the tank' and 'can be sprayed' are two
/// numbers: what the pump cannot reach is filled once, stays through every refill, and is left at the end.
///
/// Source:   arithmetic of mixing; common practice, no source.
/// Formula:  spray = spray rate × area; tea = spray × tea rate / spray rate; loads = spray / (tank − dead volume),
///           rounded up
/// Changes:  none.
/// Limits:   one rig, one strength through the whole pass. Areas are those of the beds given, in walking order.
/// Accuracy: exact arithmetic; a tank is filled to its marks. A load more for less than 1 part in 10^9 is not made.

#include <cstddef>
#include <span>
#include <vector>

#include "base/result.h"
#include "quantity/quantities.h"
#include "quantity/written.h"
#include "trade/mix.h"
#include "trade/stretch.h"

namespace steep {

enum class LoadSplit {
  Equal,        ///< All loads alike.
  FullAndRest,  ///< Full tanks and one with the rest.
};

/// How a pass walks from bed to bed.
enum class Walk {
  SameEnd,        ///< Every bed from the start of its stretch.
  TurnAtEachBed,  ///< Every second bed from its far end.
};

struct LoadBed {
  Stretch stretch;  ///< What is to be treated of it.
  Area area;        ///< Of that stretch, in the sense in which the rates are meant.
};

struct LoadPlanInput {
  std::vector<LoadBed> beds;  ///< In walking order.
  VolumePerArea tea_rate;     ///< 0 for a spray without tea.
  VolumePerArea spray_rate;
  Volume tank;  ///< What it holds at its top mark.
  Volume dead;  ///< What the pump leaves in it.
  LoadSplit split = LoadSplit::Equal;
  Walk walk = Walk::SameEnd;
};

struct LoadPlan {
  struct Load {
    Mix in_tank;                   ///< After filling, with what stayed from before.
    Mix to_add;                    ///< What goes in now.
    Volume can_spray;              ///< In the tank − dead volume.
    Area area;                     ///< What it covers.
    std::size_t last_bed = 0;      ///< Index of the bed in which it runs dry (or which it finishes).
    Length ends_at;                ///< Place along that bed, from its zero end.
    bool ends_within_bed = false;  ///< Part of that bed is left for the next load.
  };
  std::vector<Load> loads;
  Area area;
  Mix total;                ///< To be mixed in all, the dead volume included.
  Mix on_beds;              ///< What goes on the beds.
  Mix left;                 ///< Stays in the tank at the end: the dead volume.
  double tea_fraction = 0;  ///< 0–1.
};

/// Trouble: BadInput  no beds, an area that is not positive, a rate or tank that is not positive,
///                    more tea than spray per area, a dead volume that is negative or fills the tank.
/// Trouble: OutOfRange  more than 1,000 loads.
Result<LoadPlan> plan_loads(const LoadPlanInput& input);

/// How much of a product goes into `spray`, in SI of a weight or a volume. `rate` per area: what that much spray covers at
/// `spray_rate`; per volume: of the spray itself.
/// Trouble: BadInput  a rate per anything else; a spray rate that is not positive.
Result<double> product_for(const Written& rate, Volume spray, VolumePerArea spray_rate);

/// The place where `sprayed` of `area` is used up, walking the beds in order.
struct PlaceInWalk {
  std::size_t bed = 0;
  Length at;            ///< From the bed's zero end.
  bool within = false;  ///< False at the end of a bed.
};
/// `beds` must not be empty. Past the last bed gives the end of the last bed.
PlaceInWalk place_after(Area treated, std::span<const LoadBed> beds, Walk walk);

}  // namespace steep
