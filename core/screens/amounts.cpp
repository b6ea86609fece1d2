#include "screens/amounts.h"

#include <cmath>

namespace steep {
namespace {

int places_for(double amount) { return std::abs(amount) < 9.995 ? 2 : std::abs(amount) < 99.95 ? 1 : 0; }

Shown in_tank_unit(Volume volume, const UnitsShown& units, const Words& words) {
  const Unit& unit = tank_unit(units);
  return show_in(unit, volume.si(), units, words, places_for(amount_in(volume.si(), unit)));
}

}  // namespace

const Unit& tank_unit(const UnitsShown& units) {
  if (units.system == System::Metric) return unit("L");
  return unit(units.gallons == Gallons::Imperial ? "imperial gal" : "gal");
}

const Unit& along_unit(const UnitsShown& units) { return unit(units.system == System::Metric ? "m" : "ft"); }

std::string tank_number(Volume volume, const UnitsShown& units, const Words& words) {
  return in_tank_unit(volume, units, words).number;
}
std::string tank_text(Volume volume, const UnitsShown& units, const Words& words) {
  return in_tank_unit(volume, units, words).text();
}
std::string tank_spoken(Volume volume, const UnitsShown& units, const Words& words) {
  return in_tank_unit(volume, units, words).speech();
}

static Shown along(Length length, const UnitsShown& units, const Words& words) {
  const Unit& unit = along_unit(units);
  const double amount = amount_in(length.si(), unit);
  const bool whole = units.system == System::Us || std::abs(amount - std::round(amount)) < 0.05;
  return show_in(unit, length.si(), units, words, whole ? 0 : 1);
}
std::string along_text(Length length, const UnitsShown& units, const Words& words) {
  return along(length, units, words).text();
}
std::string along_number(Length length, const UnitsShown& units, const Words& words) {
  return along(length, units, words).number;
}

CellShown cell_shown(const std::string& label, const std::optional<Written>& written, const Unit& unit,
                     const UnitsShown& units, const Words& words) {
  if (!written) return {"—", unit_label(unit, 2, words), words("start.not_answered"_w, {label})};
  const Shown shown = show_parts(*written, units, words);
  return {shown.number, shown.unit, label + " " + shown.speech()};
}

SprayShown spray_shown(Volume spray, std::optional<Volume> tea, bool estimate, const UnitsShown& units,
                       const Words& words) {
  const Shown shown = in_tank_unit(spray, units, words);
  SprayShown text;
  text.number = (estimate ? "~" : "") + shown.number;
  if (tea && tea->si() > 0) {
    text.words = words("spray.unit_spray_tea"_w, {shown.unit, tank_number(*tea, units, words)});
  } else {
    text.words = words("spray.unit_spray"_w, {shown.unit});
  }
  return text;
}

std::string spray_text(const ShownVolume& volume, const UnitsShown& units, const Words& words) {
  if (volume.how == HowKnown::Skipped) return words("spray.skipped"_w);
  if (!volume.spray) return words("spray.volume_not_known"_w);
  return spray_shown(*volume.spray, volume.tea, volume.is_estimate(), units, words).text();
}

}  // namespace steep
