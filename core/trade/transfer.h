#pragma once
/// How fast does air bring oxygen into the water, where does that settle against what is used up, and how long does it last
/// when the air stops?
///
/// Source:   two-film model (textbook; form read at rpi.edu and bioprocesstools.com); [ASCE-2] for kLa at 20 °C, θ = 1.024 and
///           the standard transfer, from memory.
/// Formula:  dC/dt = kLa (C* − C) − OUR, without air dC/dt = −OUR;  C settles at C* − OUR/kLa;  kLa(T) = α kLa20 θ^(T − 20);
///           kLa20 C*20 V = E d W,  W = Q × 0.2095 P M / (R T) with P = 1 atm, T = 20 °C
/// Changes:  none. Uptake is written as the concentration used up in one hour.
/// Limits:   rates above 0, depth 0–10 m, α 0.2–1, θ 1–1.1. Water takes up some oxygen at its surface without bubbles: left
///           out, so that the real time without air is a little longer. Uptake falls when oxygen gets scarce: near 0 all times
///           and levels are too low.
/// Accuracy: kLa from a pump's air some ± 30 % (E is a maker's or a handbook's figure); from a test see transfer_fit.h.

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

/// Oxygen in dry air, mass per volume. Trouble: OutOfRange  temperature outside −50 to 60 °C, pressure not above 0.
Result<Concentration> oxygen_in_air(Temperature air, Pressure pressure);

/// kLa at 20 °C, per hour, that a flow of air (free air at 20 °C, 1 atm) gives. `per_meter` = part of the air's oxygen that
/// clean water without oxygen takes from bubbles for each meter of depth (coarse bubbles 2.5–3.3 %, from memory).
/// Trouble: OutOfRange  a value not above 0, depth above 10 m, or more than all of the oxygen.
Result<double> kla20_from_air(Flow air, Share per_meter, Length depth, Volume water);

/// kLa at a temperature. `alpha` = kLa of the brew against clean water. Trouble: OutOfRange  outside the limits, 0–40 °C.
Result<double> kla_at(double kla20_per_h, Temperature water, double alpha = 1, double theta = 1.024);

/// Oxygen that comes into the water in one hour. Negative above saturation.
Mass oxygen_brought_per_h(double kla_per_h, Concentration saturation, Concentration oxygen, Volume water);

struct SteadyOxygen {
  Concentration oxygen;   ///< 0 when it runs out.
  bool runs_out = false;  ///< More is used than the air can bring.
};
/// Trouble: OutOfRange  kLa or saturation not above 0, uptake negative.
Result<SteadyOxygen> steady_oxygen(double kla_per_h, Concentration saturation, Concentration uptake_per_h);

/// Oxygen after a time on air (kLa above 0) or without (kLa = 0). May come out below 0: then none is left.
Concentration oxygen_after(Concentration first, double kla_per_h, Concentration saturation, Concentration uptake_per_h,
                           Duration elapsed);

/// Time without air until a floor is reached; 0 when it lies below already. Trouble: OutOfRange  uptake not above 0, a level
/// negative.
Result<Duration> time_to_floor(Concentration oxygen, Concentration floor, Concentration uptake_per_h);

}  // namespace steep
