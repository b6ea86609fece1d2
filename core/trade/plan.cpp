#include "trade/plan.h"

#include <algorithm>
#include <cmath>

#include "base/sorting.h"
#include "trade/air.h"

namespace steep {
namespace {

constexpr double kSame = 1e-9;

std::int64_t ms(Duration d) { return std::llround(d.milliseconds()); }

/// The fewest vessels that hold `tea`, largest working volume first; the last one only as full as needed, and the
/// smallest that does.
Result<std::vector<PlannedVessel>> choose_vessels(const PlanInput& input, Volume tea) {
  struct Room {
    const PlanVessel* vessel;
    Volume working;
  };
  std::vector<Room> rooms;
  for (const PlanVessel& vessel : input.vessels) {
    TRY_ASSIGN(const Volume working, working_volume(vessel.nominal, vessel.headroom));
    rooms.push_back({&vessel, working});
  }
  if (rooms.empty()) return refuse(Trouble::BadInput, "plan.no-vessel"_w, {}, "vessel");
  sort_list(rooms, [](const Room& a, const Room& b) { return a.working > b.working; });
  std::vector<PlannedVessel> chosen;
  Volume left = tea;
  while (left > tea * kSame && !rooms.empty()) {
    auto room = rooms.begin();
    for (auto other = rooms.begin(); other != rooms.end(); ++other)
      if (other->working >= left * (1 - kSame) && other->working < room->working) room = other;
    const Volume fill = std::min(room->working, left);
    chosen.push_back({room->vessel->key, fill, std::nullopt, std::nullopt});
    TRY_ASSIGN(chosen.back().air_needed, air_needed(input.air_target, fill));
    if (room->vessel->air) chosen.back().enough_air = *room->vessel->air >= *chosen.back().air_needed * (1 - kSame);
    left -= fill;
    rooms.erase(room);
  }
  return chosen;
}

Result<PlannedLine> plan_line(const PlanLine& line, const std::vector<PlannedVessel>& vessels) {
  PlannedLine planned;
  planned.key = line.key;
  for (const PlannedVessel& vessel : vessels) {
    AmountRange amount;
    if (line.table.empty()) {
      TRY_ASSIGN(const double factor, scale_factor(line.reference, vessel.fill));
      TRY_ASSIGN(amount, scaled_in_proportion(line.amount, factor));
    } else if (auto from_table = scaled_by_table(line.table, vessel.fill)) {
      amount = *from_table;
    } else if (from_table.error().kind == Trouble::OutOfRange) {
      planned.is_known = false;
    } else {
      return tl::unexpected<Problem>(from_table.error());
    }
    planned.amount.low += amount.low;
    planned.amount.high += amount.high;
    planned.by_vessel.push_back(amount);
  }
  if (line.in_stock) planned.short_by = std::max(0.0, line.chosen.value_or(planned.amount.low) - *line.in_stock);
  planned.above_recipe =
      line.chosen && planned.is_known && compare_use(*line.chosen, planned.amount) == UseCheck::Above;
  return planned;
}

/// Air on, so that the expected ready time falls on `air_off`: the brew's length depends on when it starts.
Result<BrewWindow> window_ending_at(const PlanInput& input, Moment air_off, Moment& air_on) {
  const BrewPace& pace = *input.pace;
  air_on = air_off - ms(pace.recipe_time);
  for (int i = 0; i < 20; ++i) {
    TRY_ASSIGN(const BrewWindow& window, brew_window(air_on, air_on, input.temperatures, pace, input.past));
    const std::int64_t off = air_off - window.expected;
    if (std::abs(off) <= 2 * kSecond) break;
    air_on = air_on + off;
  }
  air_on.ms -= air_on.ms % kMinute;
  return brew_window(air_on, air_on, input.temperatures, pace, input.past);
}

/// When it is ready: from the time a person chose, else so that it is ready at air off.
void plan_brewing(const PlanInput& input, Plan& plan) {
  plan.air_on = input.air_on;
  if (!input.pace) {
    plan.doubts.push_back({"plan.doubt-no-time"_w, {}});
    return;
  }
  if (input.temperatures.empty()) {
    plan.doubts.push_back({"plan.doubt-temperature"_w, {}});
    return;
  }
  Moment air_on = input.air_on.value_or(Moment{});
  auto window = input.air_on ? brew_window(air_on, air_on, input.temperatures, *input.pace, input.past)
                             : window_ending_at(input, plan.air_off, air_on);
  if (!window) {
    plan.doubts.push_back({window.error().word, window.error().values});
    return;
  }
  plan.air_on = air_on;
  plan.ready = *window;
}

void plan_times(const PlanInput& input, Plan& plan) {
  plan.spraying_from = input.spraying_from;
  plan.spraying_to = input.spraying_from + ms(input.per_load) * static_cast<std::int64_t>(plan.loads.loads.size());
  plan.air_off = input.spraying_from - ms(input.loading);
  plan_brewing(input, plan);
  if (input.use_within) plan.use_by = plan.air_off + ms(*input.use_within);
  if (input.greatest_age && plan.air_on) {
    const Moment too_old = *plan.air_on + ms(*input.greatest_age);
    plan.use_by = plan.use_by ? std::min(*plan.use_by, too_old) : too_old;
  }
  if (!input.is_chlorinated) return;
  if (input.disinfectant == Disinfectant::Chloramine) {
    plan.doubts.push_back({"plan.doubt-chloramine"_w, {}});
  } else if (plan.air_on) {
    plan.water_from = *plan.air_on - ms(input.by_aerating ? input.standing.aerate : input.standing.stand);
  }
}

void list_doubts(const PlanInput& input, const Zone& zone, Plan& plan) {
  const auto doubt = [&](WordId word, std::vector<std::string> values = {}) {
    plan.doubts.push_back({word, std::move(values)});
  };
  const bool chosen_less = input.volume && *input.volume < plan.tea * (1 - kSame);
  if (chosen_less) doubt("plan.doubt-volume"_w);
  if (plan.brewed < input.volume.value_or(plan.tea) * (1 - kSame)) doubt("plan.doubt-vessels"_w);
  for (const PlannedVessel& vessel : plan.vessels) {
    if (!vessel.enough_air)
      doubt("plan.doubt-air-unknown"_w, {vessel.key});
    else if (!*vessel.enough_air)
      doubt("plan.doubt-air"_w, {vessel.key});
  }
  for (const PlannedLine& line : plan.lines) {
    if (!line.is_known) doubt("plan.doubt-table"_w, {line.key});
    if (line.above_recipe) doubt("plan.doubt-above-recipe"_w, {line.key});
    if (!line.short_by)
      doubt("plan.doubt-stock-unknown"_w, {line.key});
    else if (*line.short_by > 0)
      doubt("plan.doubt-stock"_w, {line.key});
  }
  if (plan.air_on && *plan.air_on >= plan.air_off) doubt("plan.doubt-air-on"_w);
  if (!plan.use_by)
    doubt("plan.doubt-no-use-by"_w);
  else if (*plan.use_by < plan.spraying_to)
    doubt("plan.doubt-use-by"_w);
  if (plan.ready) {
    if (plan.ready->latest > plan.air_off) doubt("plan.doubt-late"_w);
    if (plan.ready->own_brews_unusable) doubt("plan.doubt-own-brews"_w);
    if (plan.ready->outside_own_range) doubt("plan.doubt-own-range"_w);
  }
  if (plan.air_on && zone.offset_minutes(*plan.air_on) != zone.offset_minutes(plan.spraying_to))
    doubt("plan.doubt-clock"_w);
}

}  // namespace

Result<Plan> make_plan(const PlanInput& input, const Zone& zone) {
  if (!(input.reserve.ratio() >= 0 && input.reserve.ratio() <= 1))
    return refuse(Trouble::BadInput, "plan.reserve"_w, {}, "reserve");
  if (input.volume && !(input.volume->si() > 0)) return refuse(Trouble::BadInput, "recipe.volume"_w, {}, "volume");
  Plan plan;
  TRY_ASSIGN(plan.loads, plan_loads(input.spray));
  plan.reserve = plan.loads.total.tea * input.reserve.ratio();
  plan.tea = plan.loads.total.tea + plan.reserve;
  if (!(plan.tea.si() > 0)) return refuse(Trouble::BadInput, "plan.no-tea"_w, {}, "tea-rate");
  TRY_ASSIGN(plan.vessels, choose_vessels(input, input.volume.value_or(plan.tea)));
  for (const PlannedVessel& vessel : plan.vessels) plan.brewed += vessel.fill;
  if (plan.brewed > plan.tea * (1 + kSame)) plan.spare = plan.brewed - plan.tea;
  for (const PlanLine& line : input.recipe) {
    TRY_ASSIGN(PlannedLine planned, plan_line(line, plan.vessels));
    plan.lines.push_back(std::move(planned));
  }
  plan_times(input, plan);
  list_doubts(input, zone, plan);
  return plan;
}

}  // namespace steep
