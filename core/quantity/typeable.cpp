#include "quantity/typeable.h"

#include <algorithm>
#include <vector>

namespace steep {
namespace {

/// The number in the reader's marks. Three digits behind a comma may be thousands; one more zero says that they are not.
std::string number_typed(const Written& amount, DecimalMark mark) {
  std::string number = amount.text.substr(0, amount.text.size() - amount.unit->word.size() - 1);
  const std::size_t point = number.find('.');
  if (point == std::string::npos || mark == DecimalMark::Point) return number;
  number[point] = ',';
  if (number.size() - point == 4) number += '0';
  return number;
}

/// 'US gal/acre', 'mL/US gal', 'lb/100 US gal', 'US fl oz/US gal': wherever a measure stands that others have too.
void add_us(std::vector<std::string>& all, const std::string& word) {
  all.push_back("US " + word);
  if (!word.ends_with("/gal") && !word.ends_with("/100 gal") && !word.ends_with("/cup")) return;
  const std::string above = word.substr(0, word.size() - 3), below = word.substr(word.size() - 3);
  for (const std::string& front :
       {above, "US " + above, "oz wt" + above.substr(std::min<std::size_t>(2, above.size()))})
    all.push_back(front + "US " + below);
}

/// Spellings from the shortest on; the stored word is known to every reader.
std::vector<std::string> spellings(const Written& amount, const Words& words) {
  const double size = amount.amount.to_double();
  const Unit& unit = *amount.unit;
  const std::string label = unit_label(unit, size, words), spoken = unit_spoken(unit, size, words);
  std::vector<std::string> all{label, spoken};
  if (const std::size_t ounce = label.find("oz"); ounce == 0)
    all.push_back(words("units.ounce_by_weight"_w) + label.substr(2));
  if (unit.measure == Measure::Us) add_us(all, std::string(unit.word));
  all.emplace_back(unit.word);
  return all;
}

/// Is this unit the only one that the spelling can mean? Which kinds a field takes is not known here, so all count.
bool says_only(const std::string& spelling, const Unit& unit, bool several_gallons, Gallons gallons) {
  bool says = false;
  for (const UnitMeant& meant : units_written(spelling)) {
    if (meant.unit == &unit) {
      says = !meant.loose;
      continue;
    }
    // No field takes a temperature and a difference of temperatures alike.
    const bool differs = (meant.unit->dimension == Dimension::TemperatureDifference) !=
                         (unit.dimension == Dimension::TemperatureDifference);
    // The farm's kind of gallon settles what 'gal' and 'cup' are, unless another kind is offered beside.
    const Measure at_home = gallons == Gallons::Imperial ? Measure::Imperial : Measure::Us;
    const bool settled = !several_gallons && gallons != Gallons::Either && unit.measure == at_home &&
                         meant.unit->measure != at_home && meant.unit->measure != Measure::Common;
    if (!differs && !settled) return false;
  }
  return says;
}

}  // namespace

std::string typeable(const Written& amount, std::span<const Written> among, const UnitsShown& units,
                     const Words& words) {
  const std::string number = number_typed(amount, units.mark);
  const bool several_gallons = std::any_of(among.begin(), among.end(), [&](const Written& one) {
    return one.unit->measure != Measure::Common && one.unit->measure != amount.unit->measure;
  });
  for (const std::string& spelling : spellings(amount, words))
    if (says_only(spelling, *amount.unit, several_gallons, units.gallons)) return number + " " + spelling;
  return number + " " + std::string(amount.unit->word);
}

}  // namespace steep
