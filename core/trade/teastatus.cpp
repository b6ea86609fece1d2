#include "trade/teastatus.h"

#include "trade/tea_time.h"

namespace steep {
namespace {

constexpr double kMostEColi = 126, kMostEnterococci = 33;
constexpr int kLeastBatches = 2;

bool is_extract(const TeaFacts& f) { return f.minutes_in_water && *f.minutes_in_water <= kExtractMinutes; }
bool is_raw(CompostSource s) { return s == CompostSource::RawManure || s == CompostSource::Leachate; }
bool is_potable(const TeaFacts& f) {
  const bool tested_clean = f.e_coli_detected && !*f.e_coli_detected;
  return f.water == WaterKind::Municipal ||
         ((f.water == WaterKind::Well || f.water == WaterKind::Rain) && tested_clean);
}
bool passed_test(const std::optional<SystemTest>& test) {
  if (!test || test->batches < kLeastBatches) return false;
  return (test->mean_e_coli && *test->mean_e_coli <= kMostEColi) ||
         (test->mean_enterococci && *test->mean_enterococci <= kMostEnterococci);
}

struct Nosb {
  NosbOutcome outcome;
  WordId reason;
};

Nosb nosb(const TeaFacts& f) {
  using enum NosbOutcome;
  if (f.crop == CropUse::Sprouts) return {NotForSprouts, "tea-status.nosb-sprouts"_w};
  if (is_raw(f.compost)) return {SoilOnlyInterval, "tea-status.nosb-raw"_w};
  if (f.compost == CompostSource::NotKnown || !f.organic_process_shown.value_or(false))
    return {SoilOnlyInterval, "tea-status.nosb-compost-not-shown"_w};
  if (!is_potable(f)) return {SoilOnlyInterval, "tea-status.nosb-water"_w};
  if (!f.equipment_sanitized.value_or(false)) return {SoilOnlyInterval, "tea-status.nosb-equipment"_w};
  if (f.crop == CropUse::NotFood || f.crop == CropUse::Grain) return {NoInterval, "tea-status.nosb-not-food"_w};
  if (is_extract(f)) return {NoInterval, "tea-status.nosb-extract"_w};
  if (f.has_additive && !*f.has_additive) return {NoInterval, "tea-status.nosb-no-additive"_w};
  if (passed_test(f.test)) return {NoInterval, "tea-status.nosb-tested"_w};
  return {Interval, "tea-status.nosb-additive"_w};
}

struct Psr {
  PsrOutcome outcome;
  WordId reason;
};

Psr psr(const TeaFacts& f) {
  using enum PsrOutcome;
  if (f.crop == CropUse::NotFood) return {NotCovered, "tea-status.psr-not-produce"_w};
  const bool animal = f.compost != CompostSource::PlantOnly || f.additive_of_animal_origin;
  if (!animal) return {NotAnimal, "tea-status.psr-not-animal"_w};
  const bool extract = is_extract(f);
  // Within the hour an additive is part of no tea, but still an amendment of animal origin when it is one.
  if (!extract && f.has_additive.value_or(true)) return {Untreated, "tea-status.psr-additive"_w};
  if (is_raw(f.compost) || !f.psr_process_shown.value_or(false)) return {Untreated, "tea-status.psr-process"_w};
  if (f.additive_of_animal_origin && f.has_additive.value_or(true))
    return {Untreated, "tea-status.psr-animal-additive"_w};
  if (f.contaminated_after) return {Untreated, "tea-status.psr-contaminated"_w};
  if (extract) return {NotATea, "tea-status.psr-extract"_w};
  if (f.water == WaterKind::Surface || f.water == WaterKind::NotKnown) return {Untreated, "tea-status.psr-surface"_w};
  if (f.e_coli_detected.value_or(true)) return {Untreated, "tea-status.psr-water-test"_w};
  if (f.standard == MicrobialStandard::ThreePathogens) return {TreatedA, "tea-status.psr-treated-a"_w};
  return {TreatedB, "tea-status.psr-treated-b"_w};
}

WordId application(const TeaFacts& f, PsrOutcome outcome) {
  switch (outcome) {
    case PsrOutcome::NotCovered:
    case PsrOutcome::NotAnimal: return "tea-status.apply-outside"_w;
    case PsrOutcome::Untreated: return "tea-status.apply-untreated"_w;
    case PsrOutcome::TreatedA: return "tea-status.apply-treated-a"_w;
    case PsrOutcome::TreatedB: return "tea-status.apply-treated-b"_w;
    case PsrOutcome::NotATea: break;
  }
  return f.standard == MicrobialStandard::ThreePathogens ? "tea-status.apply-treated-a"_w
                                                         : "tea-status.apply-treated-b"_w;
}

std::vector<WordId> missing_papers(const TeaFacts& f) {
  std::vector<WordId> missing;
  if (f.compost == CompostSource::NotKnown) missing.push_back("tea-status.missing-source"_w);
  if (!f.minutes_in_water) missing.push_back("tea-status.missing-minutes"_w);
  if (!f.has_additive) missing.push_back("tea-status.missing-additive"_w);
  // A certificate no older than a year, or the own heat record, reviewed and signed.
  missing.push_back("tea-status.missing-process-papers"_w);
  if (f.compost != CompostSource::PlantOnly && f.standard == MicrobialStandard::NotKnown &&
      f.psr_process_shown.value_or(false))
    missing.push_back("tea-status.missing-standard"_w);
  if (!f.e_coli_detected) missing.push_back("tea-status.missing-water-test"_w);
  if (!f.equipment_sanitized) missing.push_back("tea-status.missing-cleaning"_w);
  if (f.has_additive.value_or(true) && !is_extract(f) && !passed_test(f.test))
    missing.push_back("tea-status.missing-system-test"_w);
  if (!f.touches_soil) missing.push_back("tea-status.missing-touches-soil"_w);
  return missing;
}

}  // namespace

TeaStatus tea_status(const TeaFacts& facts) {
  TeaStatus status;
  const Nosb organic = nosb(facts);
  status.nosb = organic.outcome;
  status.nosb_reason = organic.reason;
  if (status.nosb == NosbOutcome::Interval || status.nosb == NosbOutcome::SoilOnlyInterval)
    status.nosb_days = facts.crop == CropUse::NotFood ? 0 : facts.touches_soil.value_or(true) ? 120 : 90;
  const Psr produce = psr(facts);
  status.psr = produce.outcome;
  status.psr_reason = produce.reason;
  status.psr_application = application(facts, produce.outcome);
  status.missing = missing_papers(facts);
  return status;
}

const char* outcome_word(NosbOutcome outcome) {
  switch (outcome) {
    case NosbOutcome::NoInterval: return "no-interval";
    case NosbOutcome::Interval: return "interval";
    case NosbOutcome::SoilOnlyInterval: return "soil-only-interval";
    case NosbOutcome::NotForSprouts: return "not-for-sprouts";
  }
  return "";
}

const char* outcome_word(PsrOutcome outcome) {
  switch (outcome) {
    case PsrOutcome::NotAnimal: return "not-of-animal-origin";
    case PsrOutcome::NotATea: return "not-a-tea";
    case PsrOutcome::Untreated: return "untreated";
    case PsrOutcome::TreatedB: return "treated-b";
    case PsrOutcome::TreatedA: return "treated-a";
    case PsrOutcome::NotCovered: return "not-covered-produce";
  }
  return "";
}

}  // namespace steep
