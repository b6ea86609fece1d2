#pragma once
/// What goes into the stock tank of a proportional injector, for how long does it run, and what ratio does it really have?
///
/// Two conventions for '1:R' are in use, and both are named: 1 part in R parts of what comes out ('on final volume'), or
/// 1 part to R parts of water.
///
/// Source:   [UMASS-INJ] (1:100: a gallon of concentrate gives 100 gallons, on final volume); [HUMMERT-INJ] and [GT-23641]
///           (parts to parts, ppm rule).
/// Formula:  concentrate = final / R  or  final / (R + 1);  g/L stock = ppm × R / (1000 × fraction)
/// Changes:  none.
/// Limits:   R from 1 to 10,000.
/// Accuracy: a siphon injector wanders by a quarter of its ratio; the bucket test says what it does today.

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

enum class InjectorRatio { OnFinalVolume, ToPartsOfWater };

/// Volume drawn from the stock tank. Trouble: OutOfRange  R outside 1–10,000, volume not above 0.
Result<Volume> concentrate_for(Volume final_volume, double ratio, InjectorRatio meaning);
/// Volume that comes out for a volume drawn. Trouble as above.
Result<Volume> final_from(Volume concentrate, double ratio, InjectorRatio meaning);
/// Part of concentrate in what comes out, as a share. Trouble as above.
Result<Share> injected_share(double ratio, InjectorRatio meaning);
/// Time the injector runs. Trouble: OutOfRange  a value not above 0.
Result<Duration> running_time(Volume final_volume, Flow outflow);
/// The ratio of a bucket test: what was drawn from a measure while so much came out. Trouble: OutOfRange  drawn not above 0,
/// or more drawn than came out.
Result<double> measured_ratio(Volume drawn, Volume came_out, InjectorRatio meaning);
/// Fertilizer per volume of stock for a concentration in the final water; `fraction` = share of the nutrient in the product.
/// Trouble: OutOfRange  fraction not within 0–1, ratio outside 1–10,000, concentration not above 0.
Result<Concentration> stock_strength(Concentration in_final, Share fraction, double ratio);

}  // namespace steep
