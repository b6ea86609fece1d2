#pragma once
/// A bed as a strip: what the state of a bed says on it, in words. For every list of beds.

#include <string>
#include <vector>

#include "book/bed_states.h"
#include "look/bed_strip.h"
#include "screens/page.h"

namespace steep {

struct StripShown {
  Id bed;
  std::string number, first, second;
  float fill = -1;
  int interval_days = 0;
  std::vector<StripStretch> stretches;
  StripHold hold = StripHold::None;
  StripEnd end = StripEnd::None;
  std::string end_first, end_second;
  int late_days = 0;
  bool question = false;
  std::string spoken;          ///< 'C2 kale, 100 ft, last tea 16 days ago, 2 days late'

  BedStrip strip() const;      ///< Points into this.
  bool operator==(const StripShown& other) const;
};

StripShown strip_of(const BedState& state, const Surroundings& around);

}  // namespace steep
