#pragma once
/// A season of rounds: the same spray every so many days, and what that takes of tea and of each thing in stock.
///
/// Source:   plan.h, round by round; how often is the farm's own.
/// Formula:  round n = the first one, n × days later at the same clock time; stock of a round = stock − what the rounds before take
/// Changes:  days are civil days: a clock change moves no round by an hour.
/// Limits:   1–366 days between rounds, 400 rounds; the same beds, rates and expected temperature throughout.
/// Accuracy: that of the first round; a season ahead it is a shopping list.

#include <vector>

#include "trade/plan.h"

namespace steep {

struct SeasonPlan {
  std::vector<Plan> rounds;        ///< The first one too; each with the doubts and shortages of its own day.
  Volume tea, spray;               ///< Brewed, and on beds, over all rounds.
  std::vector<PlannedLine> lines;  ///< Over all rounds; `by_vessel` stays empty.
};

/// `until`: no round begins after this day. A time chosen for air on moves along.
/// Trouble: as make_plan; BadInput  days outside 1–366, `until` before the first round; OutOfRange  more than 400 rounds.
Result<SeasonPlan> make_season_plan(const PlanInput& first, int every_days, Date until, const Zone& zone);

}  // namespace steep
