#include "trade/season_plan.h"

#include <algorithm>
#include <string>

namespace steep {
namespace {

constexpr std::size_t kMostRounds = 400;

/// The same clock time `days` later; in the gap of spring the first moment after it.
Moment days_later(const Zone& zone, Moment at, int days) {
  LocalTime local = zone.local(at);
  local.date = local.date + days;
  const auto moments = zone.instants(local);
  if (!moments.empty()) return moments.front();
  return at + days * kDay;
}

void add_round(const Plan& round, SeasonPlan& season) {
  season.tea += round.brewed;
  season.spray += round.loads.on_beds.spray();
  for (std::size_t i = 0; i < season.lines.size(); ++i) {
    season.lines[i].amount.low += round.lines[i].amount.low;
    season.lines[i].amount.high += round.lines[i].amount.high;
  }
}

}  // namespace

Result<SeasonPlan> make_season_plan(const PlanInput& first, int every_days, Date until, const Zone& zone) {
  if (every_days < 1 || every_days > 366)
    return refuse(Trouble::BadInput, "plan.every"_w, {std::to_string(every_days)}, "every");
  if (until < zone.local(first.spraying_from).date) return refuse(Trouble::BadInput, "plan.until"_w, {}, "until");
  SeasonPlan season;
  for (const PlanLine& line : first.recipe) {
    season.lines.emplace_back();
    season.lines.back().key = line.key;
  }
  std::vector<double> taken(first.recipe.size());
  PlanInput input = first;
  for (int days = 0;; days += every_days) {
    input.spraying_from = days_later(zone, first.spraying_from, days);
    if (zone.local(input.spraying_from).date > until) break;
    if (season.rounds.size() == kMostRounds) return refuse(Trouble::OutOfRange, "plan.too-many-rounds"_w, {}, "until");
    if (first.air_on) input.air_on = days_later(zone, *first.air_on, days);
    TRY_ASSIGN(Plan round, make_plan(input, zone));
    add_round(round, season);
    for (std::size_t i = 0; i < input.recipe.size(); ++i) {
      const double takes = input.recipe[i].chosen.value_or(round.lines[i].amount.low);
      taken[i] += takes;
      if (auto& stock = input.recipe[i].in_stock) *stock = std::max(0.0, *stock - takes);
    }
    season.rounds.push_back(std::move(round));
  }
  for (std::size_t i = 0; i < season.lines.size(); ++i)
    if (first.recipe[i].in_stock) season.lines[i].short_by = std::max(0.0, taken[i] - *first.recipe[i].in_stock);
  return season;
}

}  // namespace steep
