#pragma once
/// How does the rate of growth follow the temperature?
///
/// Two models: the square-root line, for temperatures below the best, and the cardinal temperatures, for the whole range.
///
/// Source:   [RATKOWSKY-1982] Ratkowsky et al., J. Bacteriol. 149, 1 (1982); [ROSSO-1993] Rosso, Lobry & Flandrois,
///           J. Theor. Biol. 162, 447 (1993), 'CTMI'.
/// Formula:  √μ = b (T − Tmin);
///           μ = μopt (T − Tmax)(T − Tmin)² / {(To − Tmin) [(To − Tmin)(T − To) − (To − Tmax)(To + Tmin − 2T)]} between Tmin and
///           Tmax, else 0
/// Changes:  none. Both are fitted to √μ, as usual: the scatter of √μ is much the same at all temperatures.
/// Limits:   cardinal temperatures need Tmin < To < Tmax and To > (Tmin + Tmax)/2, −20 to 130 °C. The line is not for
///           temperatures near or above the best, which it does not know.
/// Accuracy: of one organism in one medium. A brew is a crowd: what was fitted to it holds for such a brew.

#include <optional>
#include <span>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

struct SquareRootLine {
  double b = 0;  ///< √(1/h) per °C.
  Temperature least;
};
/// Per hour; 0 at and below the least. Trouble: OutOfRange  b not above 0, a temperature outside −20 to 130 °C.
Result<double> rate_by_line(const SquareRootLine& line, Temperature temperature);

struct CardinalTemperatures {
  double best_rate_per_h = 0;  ///< At `best`.
  Temperature least, best, most;
};
/// Per hour; 0 outside. Trouble: OutOfRange  outside the limits above.
Result<double> rate_by_cardinals(const CardinalTemperatures& cardinals, Temperature temperature);

struct RateAt {
  Temperature temperature;
  double rate_per_h = 0;  ///< 0 or more.
};

struct SquareRootFit {
  SquareRootLine line;
  double b_error = 0;    ///< Standard error.
  double deviation = 0;  ///< Of √(1/h).
};
/// 3 rates or more. Trouble: BadInput  too few, all at one temperature, or none faster when warmer; OutOfRange  a value.
Result<SquareRootFit> fit_square_root(std::span<const RateAt> rates);

struct CardinalFit {
  CardinalTemperatures cardinals;
  /// Standard errors; nullopt = left open by the rates.
  std::optional<double> best_rate_error;
  std::optional<TemperatureDifference> least_error, best_error, most_error;
  double deviation = 0;  ///< Of √(1/h).
};
/// 5 rates or more, from below and above the best. Trouble: as above; OutOfRange  when no curve fits.
Result<CardinalFit> fit_cardinals(std::span<const RateAt> rates);

}  // namespace steep
