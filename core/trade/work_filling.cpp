#include "trade/work_filling.h"

namespace steep {

void explain_filling(Answer& answer, const LoadPlanInput& input, const LoadPlan& plan, int number) {
  const LoadPlan::Load& load = plan.loads[static_cast<std::size_t>(number) - 1];
  const std::string fraction = figure(plan.tea_fraction), in_all = gallons(load.to_add.spray()) + " gal";
  answer.step("load-*-add-tea", "to add · tea / spray",
              in_all + " × " + fraction + " = " + gallons(load.to_add.tea) + " gal", number);
  answer.step("load-*-add-water", "to add · (1 − tea / spray)",
              in_all + " × (1 − " + fraction + ") = " + gallons(load.to_add.water) + " gal", number);
  answer.step("load-*-last-bed load-*-ends-at", "area = can be sprayed / spray rate",
              gallons(load.can_spray) + " gal / " + figure(input.spray_rate.gallons_per_acre()) +
                  " gal/acre = " + figure(load.area.square_feet()) + " ft2 → " + std::to_string(load.last_bed + 1) +
                  ", " + figure(load.ends_at.feet()) + " ft",
              number);
}

}  // namespace steep
