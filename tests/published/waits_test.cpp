#include "trade/hold.h"
#include "trade/tea_time.h"
#include "trade/teastatus.h"

#include <algorithm>
#include <vector>

#include "published/published.h"

using namespace steep;
using namespace steep::published;

namespace {

Zone eastern() { return *Zone::from_rule("America/New_York", "EST5EDT,M3.2.0,M11.1.0"); }

Date first_day(Date applied, int days) {
  const Moment finish = eastern().instants({applied, 12, 0, 0}).front();
  return eastern().local(wait_end(Wait::days(days), finish, DayCounting::Dates, eastern())).date;
}

TEST_CASE("waits: 90 and 120 days as civil dates") {
  struct Row {
    Date applied, after_90, after_120;
  };
  for (const Row& row :
       {Row{{2026, 3, 1}, {2026, 5, 30}, {2026, 6, 29}}, Row{{2026, 4, 15}, {2026, 7, 14}, {2026, 8, 13}},
        Row{{2027, 12, 1}, {2028, 2, 29}, {2028, 3, 30}}, Row{{2028, 1, 15}, {2028, 4, 14}, {2028, 5, 14}},
        Row{{2027, 11, 1}, {2028, 1, 30}, {2028, 2, 29}}, Row{{2026, 11, 1}, {2027, 1, 30}, {2027, 3, 1}}}) {
    PUBLISHED("waits", "7 CFR 205.203(c)(1), dates by a calendar program", date_text(row.applied) + " + 90",
              first_day(row.applied, 90) == row.after_90);
    PUBLISHED("waits", "7 CFR 205.203(c)(1), dates by a calendar program", date_text(row.applied) + " + 120",
              first_day(row.applied, 120) == row.after_120);
  }
  PUBLISHED("waits", "dates by a calendar program", "25 Feb 2028 + 7", first_day({2028, 2, 25}, 7) == Date{2028, 3, 3});
  PUBLISHED("waits", "dates by a calendar program", "25 Feb 2027 + 7", first_day({2027, 2, 25}, 7) == Date{2027, 3, 4});
}

TEST_CASE("waits: 60 minutes are extract, 61 are tea") {
  const Moment met{0};
  constexpr const char* kRule = "NOSB 2004 (from memory); 21 CFR 112.3: held longer than 1 hour";
  PUBLISHED("waits", kRule, "60 min", tea_time(met, met + 60 * kMinute)->liquid != Liquid::Tea);
  PUBLISHED("waits", kRule, "61 min", tea_time(met, met + 61 * kMinute)->liquid == Liquid::Tea);
}

/// Compost shown compliant, well water tested and clean, equipment sanitized, edible part off the soil.
TeaFacts facts(CompostSource compost, bool additive, long long minutes) {
  TeaFacts f;
  f.compost = compost;
  f.organic_process_shown = f.psr_process_shown = true;
  f.has_additive = additive;
  f.minutes_in_water = minutes;
  f.water = WaterKind::Well;
  f.e_coli_detected = false;
  f.equipment_sanitized = true;
  f.touches_soil = false;
  return f;
}

constexpr SystemTest kPassed{2, 126.0, std::nullopt};  // Exactly at the bare number counts as not above it.

TEST_CASE("waits: both sets of rules side by side") {
  using enum CompostSource;
  struct Row {
    const char* name;
    TeaFacts facts;
    NosbOutcome nosb;
    PsrOutcome psr;
  };
  std::vector<Row> rows{
      {"A plant compost, no additive, 24 h", facts(PlantOnly, false, 1440), NosbOutcome::NoInterval,
       PsrOutcome::NotAnimal},
      {"B plant compost, molasses, not tested", facts(PlantOnly, true, 1440), NosbOutcome::Interval,
       PsrOutcome::NotAnimal},
      {"C plant compost, molasses, system passed", facts(PlantOnly, true, 1440), NosbOutcome::NoInterval,
       PsrOutcome::NotAnimal},
      {"D manure compost, no additive, 24 h", facts(WithAnimal, false, 1440), NosbOutcome::NoInterval,
       PsrOutcome::TreatedB},
      {"E manure compost, molasses, system passed", facts(WithAnimal, true, 1440), NosbOutcome::NoInterval,
       PsrOutcome::Untreated},
      {"F manure compost, molasses, not tested", facts(WithAnimal, true, 1440), NosbOutcome::Interval,
       PsrOutcome::Untreated},
      {"G as F within 45 min", facts(WithAnimal, true, 45), NosbOutcome::NoInterval, PsrOutcome::NotATea},
      {"H raw manure tea", facts(RawManure, false, 1440), NosbOutcome::SoilOnlyInterval, PsrOutcome::Untreated},
      {"I leachate", facts(Leachate, false, 1440), NosbOutcome::SoilOnlyInterval, PsrOutcome::Untreated},
      {"J manure compost, untreated pond water", facts(WithAnimal, false, 1440), NosbOutcome::SoilOnlyInterval,
       PsrOutcome::Untreated},
      {"K plant compost, fish emulsion, not tested", facts(PlantOnly, true, 1440), NosbOutcome::Interval,
       PsrOutcome::Untreated},
      {"L on ornamentals", facts(WithAnimal, true, 1440), NosbOutcome::NoInterval, PsrOutcome::NotCovered},
  };
  rows[2].facts.test = rows[4].facts.test = kPassed;
  rows[9].facts.water = WaterKind::Surface;
  rows[10].facts.additive_of_animal_origin = true;
  rows[11].facts.crop = CropUse::NotFood;
  for (const Row& row : rows) {
    const TeaStatus status = tea_status(row.facts);
    PUBLISHED("waits", "NOSB Compost Tea Task Force Report 2004 (from memory, clauses confirmed from quotations)",
              row.name, status.nosb == row.nosb);
    PUBLISHED("waits", "21 CFR 112.51-112.56 (112.51 as in La. Admin. Code 7:V.1211)", row.name, status.psr == row.psr);
  }
  TeaFacts sprouts = facts(PlantOnly, false, 1440);
  sprouts.crop = CropUse::Sprouts;
  PUBLISHED("waits", "NOSB Compost Tea Task Force Report 2004 (from memory, clauses confirmed from quotations)",
            "M sprouts", tea_status(sprouts).nosb == NosbOutcome::NotForSprouts);
}

TEST_CASE("waits: limits of the system test") {
  const auto outcome = [](SystemTest test) {
    TeaFacts f = facts(CompostSource::PlantOnly, true, 1440);
    f.test = test;
    return tea_status(f).nosb;
  };
  constexpr const char* kLimit = "NOSB 2004: E. coli 126 or enterococci 33 CFU/100 mL, mean of 2 batches";
  PUBLISHED("waits", kLimit, "126", outcome({2, 126, std::nullopt}) == NosbOutcome::NoInterval);
  PUBLISHED("waits", kLimit, "126.1", outcome({2, 126.1, std::nullopt}) == NosbOutcome::Interval);
  PUBLISHED("waits", kLimit, "enterococci 33", outcome({2, std::nullopt, 33}) == NosbOutcome::NoInterval);
  PUBLISHED("waits", kLimit, "enterococci 34", outcome({2, std::nullopt, 34}) == NosbOutcome::Interval);
  PUBLISHED("waits", kLimit, "one batch is not enough", outcome({1, 10, std::nullopt}) == NosbOutcome::Interval);
}

TEST_CASE("waits: the same tea from four composts") {
  // All brewed 26 h with well water without E. coli: (a) leaves and molasses, (b) cow manure, heat record complete,
  // nothing added, (c) as b with kelp and molasses, (d) as b from a pile with one turning short.
  const TeaStatus a = tea_status(facts(CompostSource::PlantOnly, true, 1560));
  CHECK(a.psr == PsrOutcome::NotAnimal);
  CHECK(a.nosb == NosbOutcome::Interval);
  CHECK(a.nosb_days == 90);
  const TeaStatus b = tea_status(facts(CompostSource::WithAnimal, false, 1560));
  CHECK(b.psr == PsrOutcome::TreatedB);
  CHECK(std::find(b.missing.begin(), b.missing.end(), "tea-status.missing-standard"_w) != b.missing.end());
  TeaFacts with_standard = facts(CompostSource::WithAnimal, false, 1560);
  with_standard.standard = MicrobialStandard::ThreePathogens;
  CHECK(tea_status(with_standard).psr == PsrOutcome::TreatedA);
  const TeaStatus c = tea_status(facts(CompostSource::WithAnimal, true, 1560));
  CHECK(c.psr == PsrOutcome::Untreated);
  CHECK(c.psr_reason == "tea-status.psr-additive"_w);
  CHECK(c.psr_application == "tea-status.apply-untreated"_w);
  TeaFacts d = facts(CompostSource::WithAnimal, false, 1560);
  d.psr_process_shown = false;
  CHECK(tea_status(d).psr == PsrOutcome::Untreated);
  CHECK(tea_status(d).psr_reason == "tea-status.psr-process"_w);
  for (const TeaStatus& status : {a, b, c, tea_status(d)})
    CHECK(std::find(status.missing.begin(), status.missing.end(), "tea-status.missing-process-papers"_w) !=
          status.missing.end());
}

TEST_CASE("waits: nothing known is the most cautious of all") {
  const TeaStatus status = tea_status(TeaFacts{});
  CHECK(status.nosb == NosbOutcome::SoilOnlyInterval);
  CHECK(status.nosb_days == 120);
  CHECK(status.psr == PsrOutcome::Untreated);
  CHECK(status.missing.size() >= 6);
}

}  // namespace
