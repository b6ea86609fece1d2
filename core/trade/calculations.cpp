// The list of all calculations.
#include <algorithm>

#include "trade/calculation.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

std::vector<const Calculation*> joined() {
  std::vector<const Calculation*> all;
  for (const auto list :
       {work_plan, work_mix, work_water, work_air, work_transfer, work_brew, work_growth, work_loads, work_waits,
        work_sprayer, work_weather, work_field, work_trial, work_compost, work_counts, work_samples, work_money})
    for (const Calculation& one : list()) all.push_back(&one);
  return all;
}

}  // namespace

std::span<const Calculation* const> all_calculations() {
  static const std::vector<const Calculation*> kAll = joined();
  return kAll;
}

const Calculation* find_calculation(std::string_view name) {
  const auto all = all_calculations();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Calculation* one) { return one->name == name; });
  return found == all.end() ? nullptr : *found;
}

}  // namespace steep
