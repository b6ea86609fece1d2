#pragma once
/// How one load's filling came about, for the calculations that plan loads: 'load-*-add-tea', 'load-*-add-water',
/// 'load-*-last-bed', 'load-*-ends-at'.

#include "trade/calculation.h"
#include "trade/loads.h"

namespace steep {

/// `number` from 1.
void explain_filling(Answer& answer, const LoadPlanInput& input, const LoadPlan& plan, int number);

/// '2.32438', in US gallons.
inline std::string gallons(Volume volume) { return figure(volume.gallons()); }

}  // namespace steep
