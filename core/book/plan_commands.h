#pragma once
/// A plan written into the book: each brew in the house, the pass on its farm, both in their year of the work.

#include <string_view>
#include <vector>

#include "book/bed_states.h"
#include "book/book.h"
#include "book/caution.h"
#include "book/plan_sheet.h"

namespace steep {

/// Writes what plan_sheet works out from the choices: one plan for each vessel's brew, one for the pass that takes their
/// tea; of a season all rounds. An intended pass (`pass_plan`) is kept and gets the brews.
/// A plan is no work done: doubts hinder nothing, Outcome::cautions lists them. Outcome::record = the (first) pass's plan.
/// Trouble: BadInput "plan.missing"; what make_plan refuses.
Result<Outcome> write_plan(Book& book, const BedStates& states, const PlanChoices& choices, const Going& going);

/// What a person chose, before anything is worked out of it: days that are past, amounts and temperatures far from what is
/// usual. Trouble::Ask; with Going::reason they are cautions, and write_plan keeps the reason.
Result<std::vector<Caution>> check_choices(const PlanChoices& choices, Moment now, const Going& going);

/// Planned work that was not done: the reason is kept ('rain', 'wind', 'no time', or the person's own words).
/// Trouble: BadInput  no reason, no open plan.
Result<Outcome> plan_not_done(Book& book, const Id& plan, std::string_view why, const Going& going);

/// The brew's plan that is nearest to `now` within a day; nullopt = none. `plans`: open ones.
std::optional<PlannedWork> due_brew_plan(const std::vector<PlannedWork>& plans, Moment now);

}  // namespace steep
