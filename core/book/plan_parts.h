#pragma once
/// What the sheet of a plan reads beside the pass: the farm's figures, earlier brews, and doubts that only the book knows.
/// Only core/book includes this.

#include <span>
#include <string>
#include <vector>

#include "book/plan_sheet.h"

namespace steep {

/// The farm's limits of planning; where it set none, common practice without a name beside it. 'air-off' and 'brew-age' are
/// in it only when the farm set them: a use-by has no stand-in.
std::vector<PlanFigure> plan_figures(std::span<const FarmLimit> limits);

/// As in the newest brew of the last two weeks that has temperatures: their mean.
struct ExpectedTemperature {
  std::vector<TemperatureAt> temperatures;
  std::string code;
};
Result<ExpectedTemperature> expected_temperature(const Book& book, Moment now);
/// Brews of this recipe that a person found ready, with their mean temperature until then; the newest 40.
Result<std::vector<PastBrew>> past_brews(const Book& book, const Id& recipe);

/// Another plan's brew stands in the vessel at some time between filling and spraying.
bool is_vessel_planned(std::span<const PlannedWork> others, const Id& vessel, Moment spray_from,
                       std::int64_t brewing_ms);

/// What is on record of this tea before it is made: its materials, water and hours in the water.
TeaFacts planned_tea(const PlanSheet& sheet);

/// Vessels, water, lots, beds, hours, calibration, rule: each with its record.
Result<void> add_book_doubts(const Book& book, const BedStates& states, Moment now, PlanSheet& sheet);
/// Shortages of later rounds, each once, with the day on which it runs out.
void add_season_doubts(PlanSheet& sheet);

}  // namespace steep
