#pragma once
/// Volumes of spray as people read them: always with what it is, always both ('0.26 gal spray (0.11 tea)').

#include <optional>
#include <string>

#include "quantity/units_shown.h"
#include "screens/page.h"
#include "trade/share.h"

namespace steep {

/// Number and words apart, so that the number can be drawn large.
struct SprayShown {
  std::string number;  ///< '~0.26'
  std::string words;   ///< 'gal spray (0.11 tea)'
  std::string text() const { return words.empty() ? number : number + " " + words; }
  bool operator==(const SprayShown&) const = default;
};

/// An amount in a cell of a form, value and unit apart.
struct CellShown {
  std::string value, unit, spoken;  ///< '1.78' 'gal' 'Tea 1.78 gallons'
};
/// Not answered: '—' with the unit in which it would be.
CellShown cell_shown(const std::string& label, const std::optional<Written>& written, const Unit& unit,
                     const UnitsShown& units, const Words& words);

/// `tea` nullopt: not known, left out; zero: a spray without tea. `estimate` puts '~' in front.
SprayShown spray_shown(Volume spray, std::optional<Volume> tea, bool estimate, const UnitsShown& units,
                       const Words& words);
/// Of a dose; 'volume not known' when it is not.
std::string spray_text(const ShownVolume& volume, const UnitsShown& units, const Words& words);
/// 'gal' or 'L': one unit for all tanks and slabs of a screen.
const Unit& tank_unit(const UnitsShown& units);
/// Number alone in the tank's unit: '0.26'. Two places below 10, one from there.
std::string tank_number(Volume volume, const UnitsShown& units, const Words& words);
std::string tank_text(Volume volume, const UnitsShown& units, const Words& words);  ///< '0.26 gal'
/// Length along a bed in whole ft or tenths of m: '50 ft'.
std::string along_text(Length length, const UnitsShown& units, const Words& words);
std::string along_number(Length length, const UnitsShown& units, const Words& words);
const Unit& along_unit(const UnitsShown& units);
/// '5.89 gal spray' spoken with units in full: '5.89 gallons'.
std::string tank_spoken(Volume volume, const UnitsShown& units, const Words& words);

}  // namespace steep
