#pragma once
/// The whole chain backward: beds → area → rates → loads → brew volume and reserve → vessels → recipe lines and stock → water
/// start → air on → ready window → spraying → use-by. Every doubt is listed; nothing is written down here.
///
/// Source:   the other functions of this folder; times and reserve are the farm's, common practice, no source.
/// Formula:  tea to brew = (tea in all loads, dead volume included) × (1 + reserve), or more where a person brews more (spare);
///           air on = spraying start − loading − brewing; use by = the first of air off + time off air, air on + greatest age
/// Changes:  hours are real hours: a clock change in the night does not shorten a brew.
/// Limits:   as plan_loads, brew_window. Vessels are filled from the largest down, the fewest that do.
/// Accuracy: that of the rates and of the brewing estimate.

#include <optional>
#include <string>
#include <vector>

#include "base/moment.h"
#include "base/result.h"
#include "base/word_id.h"
#include "base/zone.h"
#include "trade/loads.h"
#include "trade/recipe.h"
#include "trade/water.h"
#include "trade/window.h"

namespace steep {

struct PlanVessel {
  std::string key;  ///< The caller's name for it; given back.
  Volume nominal;
  Volume headroom;          ///< Empty space for foam.
  std::optional<Flow> air;  ///< What its pump delivers at its depth, if known.
};

struct PlanLine {
  std::string key;                    ///< The caller's name for the material.
  Volume reference;                   ///< The recipe is written for this volume.
  AmountRange amount;                 ///< In the line's own unit.
  std::vector<ScalingRow> table;      ///< Its own table instead, when not empty.
  std::optional<double> in_stock;     ///< In the same unit; nullopt: not known.
  std::optional<double> chosen = {};  ///< A person takes this much in all; else the recipe's.
};

struct PlanInput {
  LoadPlanInput spray;                     ///< Beds, rates, tank.
  Share reserve = Share::from_percent(5);  ///< Tea beyond the loads: filters, hoses, slips.
  std::vector<PlanVessel> vessels;         ///< Free at that time.
  std::vector<PlanLine> recipe;
  FlowPerVolume air_target = FlowPerVolume::from_liters_per_minute_per_gallon(1);
  std::optional<Volume> volume;  ///< A person brews so much in all; less than needed is a doubt.

  Moment spraying_from;                            ///< Target: the first bed.
  Duration per_load = Duration::from_minutes(45);  ///< Fill, walk, spray.
  Duration loading = Duration::from_minutes(30);   ///< From air off to the first bed.
  std::optional<Moment> air_on;                    ///< A person's time for it; else worked out backward.
  std::vector<TemperatureAt> temperatures;         ///< Expected at the brewer; empty: not known.
  std::optional<BrewPace> pace = BrewPace{};       ///< nullopt: the recipe names no brewing time.
  std::vector<PastBrew> past;
  std::optional<Duration> use_within = Duration::from_hours(4);  ///< After air off; nullopt: the farm set no limit.
  std::optional<Duration> greatest_age;                          ///< From air on; nullopt: the farm set no limit.

  Disinfectant disinfectant = Disinfectant::FreeChlorine;
  bool is_chlorinated = true;  ///< False: well or rain without chlorine.
  StandingRule standing;
  bool by_aerating = false;  ///< Aerate instead of standing.
};

struct PlannedVessel {
  std::string key;
  Volume fill;
  std::optional<Flow> air_needed;
  std::optional<bool> enough_air;
};

struct PlannedLine {
  std::string key;
  bool is_known = true;                ///< False: a fill lies outside the line's own table.
  AmountRange amount;                  ///< Over all vessels.
  std::vector<AmountRange> by_vessel;  ///< In the order of `vessels`.
  std::optional<double> short_by;      ///< Missing for what was chosen, else for the low end; 0 when the stock does.
  bool above_recipe = false;           ///< More was chosen than the recipe asks for (5 % allowed).
};

struct Doubt {
  WordId word;
  std::vector<std::string> values;
};

struct Plan {
  LoadPlan loads;
  Volume tea;  ///< To be had at the end of the brew, reserve included.
  Volume reserve;
  Volume spare;   ///< Brewed beyond `tea`, since a person chose a larger volume.
  Volume brewed;  ///< Sum of the fills; at least `tea` unless vessels or the volume chosen are too small.
  std::vector<PlannedVessel> vessels;
  std::vector<PlannedLine> lines;
  std::optional<Moment> water_from;  ///< nullopt: nothing to stand, or chloramine.
  std::optional<Moment> air_on;      ///< nullopt: neither chosen nor to be worked out.
  std::optional<BrewWindow> ready;
  Moment air_off, spraying_from, spraying_to;
  std::optional<Moment> use_by;  ///< nullopt: the farm has no limit.
  std::vector<Doubt> doubts;
};

/// Trouble: as plan_loads; BadInput  no vessels, a reserve outside 0–100 %, a volume not above 0, a recipe line that cannot be scaled.
Result<Plan> make_plan(const PlanInput& input, const Zone& zone);

}  // namespace steep
