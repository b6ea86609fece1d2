#pragma once
/// What do the readings of a gassing-out test say of transfer and uptake, and what do they leave open?
///
/// The air is stopped for some minutes and started again while oxygen is read. The fall shows the uptake, the way back the
/// transfer.
///
/// Source:   [GASSING-OUT] dynamic method (textbook; steps read at rpi.edu and bioprocesstools.com); least squares by
///           [MARQUARDT-1963].
/// Formula:  as in transfer.h; falling C = C0 − OUR t, rising C = Cs − (Cs − C1) exp(−kLa t), Cs = C* − OUR/kLa
/// Changes:  the whole record is fitted at once, instead of slopes read from two plots.
/// Limits:   5 readings or more, all oxygen above 0, kLa 0.1–500 per h. Leave out the first seconds after switching, while
///           bubbles rise. A slow probe makes kLa read low: its lag should be under a fifth of 1/kLa. Stop the fall well above
///           the level at which uptake itself slows.
/// Accuracy: standard errors by linear theory. A number whose error is more than half of it is not given; of an uptake near 0
///           one that is more than 5 % of what the air can bring.

#include <optional>
#include <span>
#include <vector>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

struct OxygenAt {
  Duration at;
  Concentration oxygen;
  bool air_on = true;  ///< Since the reading before.
};

struct TransferFit {
  /// Each with its standard error, or nullopt: the readings leave it open.
  std::optional<double> kla_per_h, kla_error;
  std::optional<Concentration> uptake_per_h, uptake_error;
  std::optional<Concentration> saturation, saturation_error;  ///< Only when none was given.
  Concentration deviation;                                    ///< Standard deviation of the residuals.
  bool has_both() const { return kla_per_h && uptake_per_h; }
};
/// `saturation`: of this water at this place; nullopt to find it from the readings too.
/// Trouble: BadInput  too few readings, two at one time, oxygen not above 0; OutOfRange  no curve fits.
Result<TransferFit> fit_transfer(std::span<const OxygenAt> readings, std::optional<Concentration> saturation);

struct UptakeAt {
  Duration at;
  Concentration uptake_per_h;
};
/// Uptake between neighboring readings of a brew on air, at their middle: kLa (C* − C) − ΔC/Δt. It rises as they multiply.
/// Trouble: BadInput  fewer than 2 readings, two at one time; OutOfRange  no uptake shows between two of them.
Result<std::vector<UptakeAt>> uptake_of_trace(std::span<const OxygenAt> trace, double kla_per_h,
                                              Concentration saturation);

}  // namespace steep
