#pragma once
/// The calculations of each `work_*.cpp`, in the order in which they are offered. calculations.cpp joins them.

#include <span>

#include "trade/calculation.h"

namespace steep {

std::span<const Calculation> work_mix();       ///< convert, ratio, recipe, injector
std::span<const Calculation> work_water();     ///< water, standing
std::span<const Calculation> work_air();       ///< air, oxygen
std::span<const Calculation> work_transfer();  ///< transfer
std::span<const Calculation> work_brew();      ///< tea-time, window, tea-status
std::span<const Calculation> work_growth();    ///< growth, growth-temperature
std::span<const Calculation> work_sprayer();   ///< course, calibrate, nozzle
std::span<const Calculation> work_loads();     ///< loads, share
std::span<const Calculation> work_waits();     ///< due, hold
std::span<const Calculation> work_weather();   ///< wet-bulb, delta-t, sun, spray-time
std::span<const Calculation> work_field();     ///< area
std::span<const Calculation> work_trial();     ///< trial
std::span<const Calculation> work_compost();   ///< compost-mix, compost-heat
std::span<const Calculation> work_counts();    ///< fields, plates
std::span<const Calculation> work_samples();   ///< mpn, gm
std::span<const Calculation> work_money();     ///< cost
std::span<const Calculation> work_plan();      ///< plan

}  // namespace steep
