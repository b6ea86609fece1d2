#pragma once
/// The sheet of a plan: from beds and a target time back to the water, out of what the book knows.
///
/// Beds, rates and rig are proposed as for a pass; recipe, vessels, water, stock and the farm's own figures are read here;
/// trade's make_plan does the arithmetic. What is not known is a doubt, and every doubt is listed.

#include <optional>
#include <string>
#include <vector>

#include "book/bed_states.h"
#include "book/book.h"
#include "book/caution.h"
#include "book/pass_start.h"
#include "book/recipe_scaled.h"
#include "book/things.h"
#include "book/work.h"
#include "trade/plan.h"
#include "trade/season_plan.h"
#include "trade/teastatus.h"

namespace steep {

/// What a person has chosen so far; what is empty is proposed.
struct PlanChoices {
  Id farm, person;
  Id pass_plan;          ///< An intended pass: its beds, rates, rig and time. It is not written anew.
  std::vector<Id> beds;  ///< Empty = those due by then, of the block with most of them.
  Id rig;
  std::optional<Aim> aim;
  std::optional<Written> tea_rate, spray_rate;
  std::optional<RateArea> rate_area;
  Id recipe;
  std::vector<Id> vessels;  ///< Empty = all that no other plan needs then.
  Id water_source;
  std::optional<Written> reserve;           ///< Share of the tea.
  std::optional<Written> volume;            ///< Of tea to brew in all; empty = what is needed.
  std::optional<Moment> spray_from;         ///< The first bed.
  std::optional<Moment> air_on;             ///< Empty = worked out backward.
  std::vector<TemperatureAt> temperatures;  ///< Expected at the brewer; empty = as in the last brew.
  std::vector<PlannedAmount> amounts;       ///< Of materials or lots, for the whole brew.
  int every_days = 0;                       ///< A season: again every so many days …
  std::optional<Date> until;                ///< … up to this day.
};

/// A figure of planning, and whose it is.
struct PlanFigure {
  std::string which;  ///< Stored word of the kind 'limit'.
  Written value;
  std::string by;  ///< Empty = common practice, no source.
};

enum class PlanMissing { Beds, Rig, Rates, Vessel };

struct PlanSheet {
  PlanChoices chosen;               ///< With the proposals filled in.
  StartSheet pass;                  ///< Beds, rig, rates, area, crops.
  std::vector<BrewRecipe> recipes;  ///< To choose from.
  std::vector<Vessel> vessels;
  std::vector<WaterSource> waters;
  std::optional<BrewRecipe> recipe;
  std::vector<RecipeStock> stock;  ///< One for each of `plan->lines`.
  std::optional<WaterSource> water;
  std::vector<PlanFigure> figures;
  std::string temperature_code;      ///< Code of the brew whose mean is expected again; empty = typed, or not known.
  std::optional<PlanInput> input;    ///< What was computed with; vessels and lines by id text.
  std::optional<Plan> plan;          ///< nullopt while something is missing, or it cannot be computed.
  std::optional<SeasonPlan> season;  ///< With `every_days`; its first round is `plan`.
  std::vector<PlanMissing> missing;  ///< In the order of the sheet; empty = can be written.
  std::optional<Problem> problem;    ///< Nothing is missing, and still there is no plan.
  std::vector<Caution> doubts;       ///< All of them, for `spell`.
  std::optional<TeaStatus> status;   ///< What the record would show of this tea on leaves, both regimes.

  const PlanFigure* figure(std::string_view which) const;
  const Vessel* vessel(std::string_view key) const;  ///< By PlannedVessel::key.
  bool can_write() const { return missing.empty() && plan.has_value(); }
};

/// `states`: of the farm at `now`. Trouble: NotFound  farm, plan or recipe not here.
Result<PlanSheet> plan_sheet(const Book& book, const BedStates& states, const PlanChoices& choices, Moment now);

}  // namespace steep
