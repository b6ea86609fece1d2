#pragma once
/// What does the record of one dose show under two sets of rules, and which papers are missing?
///
/// Both are shown side by side and the stricter governs; nothing here says that something is allowed. What is not known
/// counts as its cautious reading and is listed as a paper that is missing.
///
/// Source:   [NOSB-2004] Compost Tea Task Force Report, 6 April 2004 (recommendation 1–9; from memory, several clauses
///           confirmed from quotations): no restriction without additives or within an hour, else a passed test of the system
///           (2 batches, mean E. coli 126 CFU or enterococci 33 CFU per 100 mL), else 90/120 days. [CFR-112.51] 21 CFR 112.51
///           (read as reproduced in La. Admin. Code 7:V.1211, Nov 2024), [CFR-112.54], [CFR-112.55], [CFR-112.56], [CFR-112.60].
/// Formula:  decision tables, first row that fits
/// Changes:  'held no more than 1 hour' is judged by minutes from compost meeting water to the dose's finish.
/// Limits:   texts as of 2026-06; the certifier, the state and the buyer's scheme decide.
/// Accuracy: exact at the limits: a mean of exactly 126 counts as not above it (the report gives the bare number; from memory).

#include <optional>
#include <vector>

#include "base/word_id.h"

namespace steep {

enum class CompostSource { PlantOnly, WithAnimal, RawManure, Leachate, NotKnown };
enum class WaterKind { Municipal, Well, Rain, Surface, NotKnown };  ///< Surface: untreated.
enum class CropUse { Food, NotFood, Grain, Sprouts };               ///< NotFood: ornamentals, cover crops, fiber.
enum class MicrobialStandard { NotKnown, FecalColiform, ThreePathogens };  ///< 21 CFR 112.55(b), (a).

struct SystemTest {
  int batches = 0;                    ///< Tea batches tested of this compost batch, additives and equipment.
  std::optional<double> mean_e_coli;  ///< CFU per 100 mL, arithmetic mean.
  std::optional<double> mean_enterococci;
};

struct TeaFacts {
  CompostSource compost = CompostSource::NotKnown;
  std::optional<bool>
      organic_process_shown;  ///< 205.203(c)(2) or the 2002 task force guidelines, by record or certificate.
  std::optional<bool> psr_process_shown;  ///< 112.54, by record or yearly certificate.
  MicrobialStandard standard = MicrobialStandard::NotKnown;
  std::optional<bool> has_additive;  ///< Molasses, kelp, yeast, fish …
  bool additive_of_animal_origin = false;
  std::optional<long long> minutes_in_water;  ///< nullopt: not known, treated as tea.
  WaterKind water = WaterKind::NotKnown;
  std::optional<bool> e_coli_detected;  ///< In 100 mL of the water used; nullopt: no result.
  std::optional<bool> equipment_sanitized;
  bool contaminated_after = false;  ///< Re-contaminated, mixed with untreated material, or suspected.
  std::optional<SystemTest> test;
  CropUse crop = CropUse::Food;
  std::optional<bool> touches_soil;  ///< Edible part; nullopt: not known, the longer interval.
};

enum class NosbOutcome { NoInterval, Interval, SoilOnlyInterval, NotForSprouts };
enum class PsrOutcome { NotAnimal, NotATea, Untreated, TreatedB, TreatedA, NotCovered };

struct TeaStatus {
  NosbOutcome nosb = NosbOutcome::Interval;
  int nosb_days = 0;   ///< 90 or 120 with Interval and SoilOnlyInterval, counted from the dose.
  WordId nosb_reason;  ///< Which row decided.
  PsrOutcome psr = PsrOutcome::Untreated;
  WordId psr_reason;
  WordId psr_application;       ///< How 112.56 lets it be applied.
  std::vector<WordId> missing;  ///< Papers and facts that the record lacks, in the order in which they matter.
};

TeaStatus tea_status(const TeaFacts& facts);

/// Stored words: 'no-interval', 'treated-b' …
const char* outcome_word(NosbOutcome outcome);
const char* outcome_word(PsrOutcome outcome);

}  // namespace steep
