#include "quantity/home_amount.h"

#include <algorithm>
#include <cmath>

#include "quantity/at_home.h"

namespace steep {

const Unit& home_unit(double amount, const Unit& unit, const UnitsShown& units) {
  const bool weighed = unit.dimension == Dimension::Mass || unit.dimension == Dimension::Volume;
  if (!weighed || (is_at_home(unit, units) && (amount >= 0.5 || !(amount > 0)))) return unit;
  return suited_unit(unit.dimension, si_of(amount, unit), units);
}

Written home_amount(double amount, const Unit& unit, const Unit& to) {
  if (to.word == unit.word) return write_quantity(amount, unit, 2);
  const double converted = amount_in(si_of(amount, unit), to);
  const int magnitude = converted > 0 ? static_cast<int>(std::floor(std::log10(converted))) : 0;
  return write_quantity(converted, to, std::clamp(2 - magnitude, 0, 3));
}

std::string show_home_range(double low, double high, const Unit& unit, const UnitsShown& units, const Words& words) {
  const Unit& to = home_unit(high, unit, units);
  const Written from = home_amount(low, unit, to), end = home_amount(high, unit, to);
  if (from == end) return show(end, units, words);
  return words("plan.range"_w, {show_parts(from, units, words).number, show(end, units, words)});
}

std::string show_at_home(const Written& written, const UnitsShown& units, const Words& words) {
  if (is_at_home(*written.unit, units)) return show(written, units, words);
  const double in_si = si(written).to_double();
  return show_in(suited_unit(written.unit->dimension, in_si, units), in_si, units, words).text();
}

}  // namespace steep
