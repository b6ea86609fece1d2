#pragma once
/// A bed as every list and map shows it: texts, fill, flags and tape for look's bed strip.

#include <string>
#include <string_view>
#include <vector>

#include "book/bed_states.h"
#include "look/bed_map.h"
#include "look/bed_strip.h"
#include "screens/page.h"

namespace steep {

struct StripOfBed {
  Id bed;
  std::string number, first, second, end_first, end_second, spoken;
  float fill = -1;
  int interval_days = 0;
  std::vector<StripStretch> stretches;
  StripHold hold = StripHold::None;
  StripEnd end = StripEnd::None;
  int late_days = 0;
  float length_m = 0;
  bool question = false;
  bool operator==(const StripOfBed&) const;

  /// Both point into this.
  BedStrip strip() const;
  MapBed on_map() const;
};

StripOfBed strip_of_bed(const BedState& state, const Surroundings& around);

/// 'Fri 6:46 pm'; of one that ends with a day the day alone. Only of a hold whose end is known.
std::string until_text(const Hold& hold, const Surroundings& around);
/// 'Fri 6:46 pm'; of a hold without a known end its reason in short; over entries in dispute
/// 'held: 2 entries to settle'.
std::string hold_end_text(const HeldWait& held, const Surroundings& around);
/// '3 d ago', 'today'; 'none on record'.
std::string last_tea_text(const BedState& state, const Surroundings& around);
/// Stretches as in words: '60–100 ft', or 'half' where one end half is meant.
std::string stretch_text(Stretch stretch, Stretch whole, const Surroundings& around);

}  // namespace steep
