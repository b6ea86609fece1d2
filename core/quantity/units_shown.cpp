#include "quantity/units_shown.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"
#include "quantity/at_home.h"

namespace steep {
namespace {

/// Places after the mark that a unit deserves at most: 0.01 gal is an ounce, 0.1 °F is the
/// thermometer's last digit. Others go by three significant digits alone.
int most_places(const Unit& unit) {
  struct Row {
    std::string_view word;
    int places;
  };
  constexpr std::array<Row, 8> kRows = {
      {{"gal", 2}, {"imperial gal", 2}, {"degF", 1}, {"degC", 1}, {"%", 1}, {"mph", 1}, {"km/h", 1}, {"ft", 1}}};
  for (const Row& row : kRows) {
    if (row.word == unit.word) return row.places;
  }
  return 9;
}

int significant_places(double value) {
  const double size = std::fabs(value);
  if (!(size > 0)) return 0;
  const int magnitude = static_cast<int>(std::floor(std::log10(size)));
  const int places = 2 - magnitude;
  return places < 0 ? 0 : places > 9 ? 9 : places;
}

bool stands_close(const Unit& unit, Language language) { return unit.word == "%" && language == Language::English; }

/// The word of one unit without a bar, for an amount.
std::string simple_label(std::string_view word, bool one, const Words& words) {
  const std::string key = "unit." + std::string(word);
  if (words.has(key)) return words.stored(key, word);
  return words.stored(key + (one ? ".one" : ".other"), word);
}

std::string simple_spoken(std::string_view word, bool one, const Words& words) {
  const std::string key = "spoken." + std::string(word) + (one ? ".one" : ".other");
  return words.has(key) ? words.stored(key, word) : simple_label(word, one, words);
}

std::size_t last_bar(std::string_view word) { return word.rfind('/'); }

Shown shown_as(std::string number, const Unit& unit, bool one, const Words& words) {
  const double amount = one ? 1 : 2;
  return {std::move(number), unit_label(unit, amount, words), unit_spoken(unit, amount, words),
          stands_close(unit, words.language())};
}

const Unit& us_or(const UnitsShown& units, std::string_view us, std::string_view metric,
                  std::string_view imperial = {}) {
  if (units.system == System::Metric) return unit(metric);
  return unit(units.gallons == Gallons::Imperial && !imperial.empty() ? imperial : us);
}

/// One of 'exactly one' in the grammar of both languages: 1, or a proper fraction of it as written.
bool reads_as_one(const Fraction& amount, bool as_fraction) {
  return amount == Fraction(1) || (as_fraction && amount < Fraction(1));
}

bool is_metric_word(std::string_view word) {
  for (const std::string_view metric :
       {"m",   "cm", "mm", "km",  "m2",         "cm2",         "mm2",        "ha",
        "L",   "mL", "uL", "m3",  "metric cup", "metric tbsp", "metric tsp", "Australian tbsp",
        "kg",  "g",  "mg", "t",   "degC",       "degC diff",   "bar",        "mbar",
        "kPa", "Pa", "h",  "min", "s"}) {
    if (word == metric) return true;
  }
  return false;
}

}  // namespace

bool is_at_home(const Unit& u, const UnitsShown& units) {
  switch (u.dimension) {
    case Dimension::Number:
    case Dimension::Share:
    case Dimension::Count:
    case Dimension::Time:
    case Dimension::Conductivity: return true;
    default: break;
  }
  if (u.word == "mg/L") return true;  // Oxygen and salts are in mg/L everywhere.
  bool metric = true;
  for (const std::string_view part : split(u.word, '/')) metric = metric && is_metric_word(part);
  if (units.system == System::Metric || metric) return metric == (units.system == System::Metric);
  return u.measure != (units.gallons == Gallons::Imperial ? Measure::Us : Measure::Imperial);
}

std::string Shown::text() const {
  if (unit.empty()) return number;
  return close ? number + unit : number + " " + unit;
}

std::string Shown::speech() const { return spoken.empty() ? number : number + " " + spoken; }

std::string unit_label(const Unit& unit, double amount, const Words& words) {
  const bool one = amount == 1;
  const std::string key = "unit." + std::string(unit.word);
  const std::size_t bar = last_bar(unit.word);
  if (bar == std::string_view::npos || words.has(key) || words.has(key + ".one"))
    return simple_label(unit.word, one, words);
  const std::string_view above = unit.word.substr(0, bar);
  std::string front = simple_label(above, one, words);
  if (const std::size_t inner = last_bar(above); inner != std::string_view::npos) {
    front = simple_label(above.substr(0, inner), one, words) + "/" + simple_label(above.substr(inner + 1), true, words);
  }
  return front + "/" + simple_label(unit.word.substr(bar + 1), true, words);
}

std::string unit_spoken(const Unit& unit, double amount, const Words& words) {
  const bool one = amount == 1;
  const std::size_t bar = last_bar(unit.word);
  if (bar == std::string_view::npos || words.has("spoken." + std::string(unit.word) + ".one"))
    return simple_spoken(unit.word, one, words);
  const std::string_view above = unit.word.substr(0, bar);
  std::string front = simple_spoken(above, one, words);
  if (const std::size_t inner = last_bar(above); inner != std::string_view::npos) {
    front = words("spoken.per"_w, {simple_spoken(above.substr(0, inner), one, words),
                                   simple_spoken(above.substr(inner + 1), true, words)});
  }
  return words("spoken.per"_w, {front, simple_spoken(unit.word.substr(bar + 1), true, words)});
}

std::string show_decimal(std::string_view decimal, const UnitsShown& units) {
  const char mark = units.mark == DecimalMark::Point ? '.' : ',';
  const char thousands = units.mark == DecimalMark::Point ? ',' : '.';
  const bool negative = decimal.starts_with('-');
  if (negative) decimal.remove_prefix(1);
  const std::size_t point = decimal.find('.');
  std::string out(decimal.substr(0, point));
  // From 10,000 on: a four-digit group with a mark is what readers take for a decimal.
  if (out.size() >= 5) {
    for (std::size_t at = out.size() - 3; at > 0 && at<out.size(); at = at> 3 ? at - 3 : 0)
      out.insert(at, 1, thousands);
  }
  if (point != std::string_view::npos) {
    out += mark;
    out += decimal.substr(point + 1);
  }
  return negative ? "-" + out : out;
}

std::string show_number(double value, const UnitsShown& units, int places) {
  if (!std::isfinite(value)) return "\xE2\x80\x93";  // An en dash: nothing to show.
  const std::string little = decimal(value, significant_places(value));
  if (places < 0) return show_decimal(little, units);
  const std::string number = fixed(value, places);
  const bool vanishes = number.find_first_of("123456789") == std::string::npos;
  return show_decimal(vanishes && little != "0" ? little : number, units);
}

std::string show_count(long long value, const UnitsShown& units) { return show_decimal(std::to_string(value), units); }

Shown show_in(const Unit& unit, double si, const UnitsShown& units, const Words& words, int places) {
  const double amount = amount_in(si, unit);
  std::string number;
  if (!std::isfinite(amount))
    number = show_number(amount, units, 0);
  else if (places >= 0)
    number = fixed(amount, places);
  else
    number = decimal(amount, std::min(significant_places(amount), most_places(unit)));
  // A small share is not none: '0.02%', never '0%'. What a gauge or a thermometer cannot tell from 0 is 0.
  if (places < 0 && number == "0" && unit.dimension == Dimension::Share)
    number = decimal(amount, significant_places(amount));
  const bool one = number == "1";
  return shown_as(std::isfinite(amount) ? show_decimal(number, units) : number, unit, one, words);
}

const Unit& suited_unit(Dimension dimension, double si, const UnitsShown& units) {
  const double size = std::fabs(si);
  const bool us = units.system == System::Us;
  // Zero stands in the unit of ordinary amounts.
  const auto under = [&](double limit) { return size > 0 && size < limit * (1 - 1e-9); };
  switch (dimension) {
    case Dimension::Length:
      if (us)
        return under(Length::from_feet(3).si()) ? unit("in") : under(1609.344) || size == 0 ? unit("ft") : unit("mi");
      return under(1) ? unit("cm") : under(2000) || size == 0 ? unit("m") : unit("km");
    case Dimension::Area:
      if (us) return under(Area::from_acres(0.2).si()) || size == 0 ? unit("ft2") : unit("acre");
      return under(2000) || size == 0 ? unit("m2") : unit("ha");
    case Dimension::Volume:
      if (us && units.gallons == Gallons::Imperial)
        return under(Volume::from_imperial_gallons(0.1).si()) ? unit("imperial fl oz") : unit("imperial gal");
      if (us) return under(Volume::from_gallons(0.1).si()) ? unit("fl oz") : unit("gal");
      return under(0.001) ? unit("mL") : unit("L");
    case Dimension::Mass:
      if (us) return under(Mass::from_pounds(1).si()) ? unit("oz") : unit("lb");
      return under(0.001) ? unit("mg") : under(1) ? unit("g") : unit("kg");
    case Dimension::Time:
      return under(90) ? unit("s") : under(5400) ? unit("min") : under(172800) || size == 0 ? unit("h") : unit("day");
    case Dimension::Temperature: return us_or(units, "degF", "degC");
    case Dimension::TemperatureDifference: return us_or(units, "degF diff", "degC diff");
    case Dimension::Pressure: return us ? unit("psi") : under(50000) ? unit("kPa") : unit("bar");
    case Dimension::Speed: return us_or(units, "mph", "km/h");
    case Dimension::Flow: return us_or(units, "gal/min", "L/min", "imperial gal/min");
    case Dimension::VolumePerArea: return us_or(units, "gal/acre", "L/ha", "imperial gal/acre");
    case Dimension::MassPerArea: return us_or(units, "lb/acre", "kg/ha");
    case Dimension::MassPerVolume:
      return under(1) || size == 0 ? unit("mg/L")
             : under(100)          ? us_or(units, "oz/gal", "g/L", "oz/imperial gal")
                                   : us_or(units, "lb/yd3", "kg/m3");
    case Dimension::VolumePerVolume: return us_or(units, "fl oz/gal", "mL/L", "imperial fl oz/imperial gal");
    case Dimension::FlowPerVolume: return us_or(units, "L/min/gal", "L/min/L", "L/min/imperial gal");
    case Dimension::Conductivity: return under(0.1) ? unit("uS/cm") : unit("mS/cm");
    case Dimension::Share: return unit("%");
    case Dimension::Count:
    case Dimension::Number: break;
  }
  return unit("each");
}

const Unit& air_unit(Flow air, const UnitsShown& units) {
  const bool large = std::fabs(air.si()) >= Flow::from_cubic_feet_per_minute(1).si() * (1 - 1e-9);
  return units.system == System::Us && large ? unit("cfm") : unit("L/min");
}

namespace {

template <class Q>
Shown suited(Q quantity, const UnitsShown& units, const Words& words) {
  return show_in(suited_unit(Q::kDimension, quantity.si(), units), quantity.si(), units, words);
}

}  // namespace

Shown show_parts(Length q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Area q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Volume q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Mass q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Temperature q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(TemperatureDifference q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Pressure q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Speed q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Flow q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(VolumePerArea q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(MassPerArea q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Concentration q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(VolumePerVolume q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(FlowPerVolume q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Conductivity q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }
Shown show_parts(Share q, const UnitsShown& u, const Words& w) { return suited(q, u, w); }

Shown show_parts(const Written& written, const UnitsShown& units, const Words& words) {
  const std::string_view number =
      std::string_view(written.text).substr(0, written.text.size() - written.unit->word.size() - 1);
  const bool fraction = number.find('/') != std::string_view::npos;
  return shown_as(fraction ? std::string(number) : show_decimal(number, units), *written.unit,
                  reads_as_one(written.amount, fraction), words);
}

std::string show(const Written& written, const UnitsShown& units, const Words& words) {
  return show_parts(written, units, words).text();
}

std::string show_both(const Written& written, const UnitsShown& units, const Words& words) {
  const std::string typed = show(written, units, words);
  if (is_at_home(*written.unit, units)) return typed;
  const double si_double = si(written).to_double();
  return typed + " (" +
         show_in(suited_unit(written.unit->dimension, si_double, units), si_double, units, words).text() + ")";
}

std::string show_bed_size(Length length, Length width, const UnitsShown& units, const Words& words) {
  const bool us = units.system == System::Us;
  const Unit& long_unit = us ? unit("ft") : unit("m");
  const bool wide = width >= (us ? Length::from_feet(8) : Length::from_meters(3));
  const Unit& wide_unit = wide ? long_unit : us ? unit("in") : unit("cm");
  return words("shown.bed-size"_w, {show_in(long_unit, length.si(), units, words).text(),
                                    show_in(wide_unit, width.si(), units, words).text()});
}

std::string show_feet_inches(Length length, const UnitsShown& units, const Words& words) {
  if (units.system == System::Metric) return show(length, units, words);
  const long long inches = std::llround(std::fabs(length.inches()));
  const std::string feet =
      show_count(inches / 12, units) + " " + unit_label(unit("ft"), inches / 12 == 1 ? 1 : 2, words);
  const std::string rest =
      show_count(inches % 12, units) + " " + unit_label(unit("in"), inches % 12 == 1 ? 1 : 2, words);
  const std::string size = inches < 12 ? rest : inches % 12 == 0 ? feet : feet + " " + rest;
  return length.si() < 0 && inches != 0 ? "-" + size : size;
}

}  // namespace steep
