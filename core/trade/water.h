#pragma once
/// What does it take to make chlorinated water fit for brewing: hours, or grams?
///
/// Standing and aerating drive off free chlorine only, never chloramine; for that a neutralizer (or a filter made
/// for it) is needed. Humic acid is used so by common practice, but no dose has a source, so none is given.
///
/// Source:   [AWWA-DECHLOR] field guide on pipeline disinfection, tables 7-2 and 7-5 (field doses, pH 7); molar masses
///           from [IUPAC-2007] atomic weights. [USFS-0523] ascorbic acid for chlorinated water.
/// Formula:  mass = chlorine (as Cl2) × volume × molar mass × mol agent per mol Cl2 / 70.906
/// Changes:  both doses are given, the molar one and the printed field dose: they differ for thiosulfate (0.56 by the
///           full reaction, 2.23 by the short one, 1.9 printed) since its reaction depends on pH.
/// Limits:   chlorine up to 50 mg/L. For chloramine the ascorbic acid reaction is 1:1 as well and frees ammonia.
/// Accuracy: test strips step by a factor of two; two digits deserve to be shown.

#include <optional>

#include "base/result.h"
#include "quantity/quantities.h"

namespace steep {

enum class Disinfectant { FreeChlorine, Chloramine };

enum class Neutralizer {
  AscorbicAcid,
  SodiumAscorbate,
  Thiosulfate,              ///< Sodium thiosulfate, anhydrous.
  ThiosulfatePentahydrate,  ///< The crystals usually sold.
  Sulfite,
  Bisulfite,
  Metabisulfite,
};

struct NeutralizerDose {
  Mass molar;                      ///< By the full reaction with 1 mol Cl2 (thiosulfate: to sulfate).
  std::optional<Mass> molar_high;  ///< Thiosulfate by its short reaction (to sulfur), the upper end.
  std::optional<Mass> field;       ///< By the printed field dose, where one is printed.
};

/// Trouble: OutOfRange  chlorine not within 0–50 mg/L, volume not above 0; Unsupported  chloramine with an agent for
/// which no reaction with chloramine is at hand (all but ascorbic acid and ascorbate).
Result<NeutralizerDose> neutralizer_dose(Neutralizer agent, Disinfectant what, Concentration chlorine, Volume water);

/// mg of agent per mg of chlorine as Cl2: molar, and printed field dose (nullopt where none is printed).
double molar_ratio(Neutralizer agent);
std::optional<double> field_ratio(Neutralizer agent);
/// Ammonia nitrogen set free per mg of chloramine chlorine (as Cl2).
constexpr double kAmmoniaPerChlorine = 14.0067 / 70.906;

/// Chlorine left after standing, first order. Source: first-order decay; the half-life is the farm's own measurement, no
/// value fits all water. Trouble: OutOfRange  half-life not above 0, negative time; Unsupported  chloramine.
Result<Concentration> chlorine_after(Disinfectant what, Concentration start, Duration half_life, Duration standing);
/// Hours of standing until `target`. Trouble as above, and BadInput when target is not above 0.
Result<Duration> standing_time(Disinfectant what, Concentration start, Duration half_life, Concentration target);

/// The farm's rule of thumb, common practice, no source: stand 24 h or aerate 12 h, free chlorine only.
struct StandingRule {
  Duration stand = Duration::from_hours(24);
  Duration aerate = Duration::from_hours(12);
};
/// Has the water stood or been aerated long enough by the farm's rule? Hours of each add up as shares of their rule.
/// Trouble: Unsupported  chloramine: it never counts.
Result<double> standing_share(Disinfectant what, const StandingRule& rule, Duration stood, Duration aerated);

}  // namespace steep
