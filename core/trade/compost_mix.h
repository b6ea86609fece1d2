#pragma once
/// What C:N and moisture does a pile have, and how much of one material brings it to a goal?
///
/// Source:   [CORNELL-MIX] Cornell Composting, calculations of moisture and C:N (Richard & Trautmann), formula symbols read at
///           compost.css.cornell.edu/calc; process ranges [NRAES-114] p. 8.
/// Formula:  R = Σ Q (100 − M) C / Σ Q (100 − M) N;  G = Σ Q M / Σ Q;  with Q as-is mass, M moisture %, C and N % of dry matter
/// Changes:  none. The average of ratios ('two parts at 20:1 and one at 60:1') is a shortcut, not a mass balance, and not offered.
/// Limits:   masses above 0; moisture 0 to below 100 %; C and N 0–100 % of dry matter, nitrogen in all above 0.
/// Accuracy: that of the analyses; C:N of a real pile to ± 3.

#include <optional>
#include <span>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

struct Feedstock {
  Mass mass;  ///< As it is, wet.
  Share moisture;
  std::optional<Share> carbon;    ///< Of dry matter.
  std::optional<Share> nitrogen;  ///< Of dry matter.
};

struct CompostMix {
  Mass mass;
  Share moisture;
  std::optional<double> carbon_to_nitrogen;  ///< nullopt when a carbon or nitrogen share is missing.
};

/// Trouble: BadInput  no materials, or a value outside the limits above.
Result<CompostMix> compost_mix(std::span<const Feedstock> materials);

/// Mass of `second` to add to `first` for a moisture goal. Trouble: BadInput as above; OutOfRange  the goal does not lie
/// between the two.
Result<Mass> to_reach_moisture(const Feedstock& first, Share second_moisture, Share goal);
/// Mass of `second` (its own mass is not used) to add to `first` for a C:N goal. Trouble as above; BadInput  shares missing.
Result<Mass> to_reach_ratio(const Feedstock& first, const Feedstock& second, double goal);
/// Water to add for a moisture goal. Trouble: OutOfRange  the mix is wetter already.
Result<Volume> water_to_reach_moisture(const CompostMix& mix, Share goal);

/// From a sample dried to constant weight. Trouble: BadInput  dry above wet, wet not above 0.
Result<Share> moisture_of_sample(Mass wet, Mass dry);

}  // namespace steep
