#include "quantity/unit.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <string>

#include "base/text.h"

namespace steep {
namespace {

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
}

/// Lower case, signs of one meaning made one, single spaces.
std::string simplified(std::string_view written) {
  std::string text = lower(trim(written));
  constexpr std::array<std::array<std::string_view, 2>, 17> kSame = {{
      {"\xC2\xA0", " "},
      {"\xE2\x80\xAF", " "},
      {"\xE2\x80\x89", " "},
      {"\t", " "},
      {"\xC2\xB2", "2"},
      {"\xC2\xB3", "3"},  // ² ³
      {"\xC2\xB5", "u"},
      {"\xCE\xBC", "u"},         // micro sign, mu
      {"\xC2\xBA", "\xC2\xB0"},  // º typed for °
      {".", ""},
      {",", ""},
      {"\xE2\x81\x84", "/"},
      {" /", "/"},
      {"/ ", "/"},
      {"(us)", "us"},
      {"(imp)", "imperial"},
      {"(imperial)", "imperial"},
  }};
  for (const auto& [from, to] : kSame) replace_all(text, from, to);
  while (text.find("  ") != std::string::npos) replace_all(text, "  ", " ");
  if (text.ends_with("\xC2\xB0")) text.replace(text.size() - 2, 2, "deg");
  replace_all(text, "\xC2\xB0 ", "\xC2\xB0");
  replace_all(text, "\xC2\xB0", "deg ");  // '°C' is no cup.
  return std::string(trim(text));
}

void add(std::vector<UnitMeant>& found, const Unit& unit, bool loose) {
  for (UnitMeant& meant : found) {
    if (meant.unit == &unit) {
      meant.loose = meant.loose && loose;
      return;
    }
  }
  found.push_back({&unit, loose});
}

/// `text` is lower case already.
bool is_word(std::string_view word, std::string_view text) {
  return word.size() == text.size() && std::equal(word.begin(), word.end(), text.begin(), [](char w, char t) {
           return (w >= 'A' && w <= 'Z' ? static_cast<char>(w + ('a' - 'A')) : w) == t;
         });
}

enum class Spelled { No, Loosely, Plainly };
Spelled spelled(std::string_view spellings, std::string_view text) {
  Spelled found = Spelled::No;
  for (std::size_t at = spellings.find(text); at != std::string_view::npos; at = spellings.find(text, at + 1)) {
    const std::size_t end = at + text.size();
    if (end < spellings.size() && spellings[end] != '|') continue;
    if (at == 0 || spellings[at - 1] == '|') return Spelled::Plainly;
    if (spellings[at - 1] == '~') found = Spelled::Loosely;
  }
  return found;
}

void add_direct(std::vector<UnitMeant>& found, std::string_view text) {
  if (text.empty() || text.find_first_of("|~") != std::string_view::npos) return;
  for (const Unit& unit : all_units()) {
    if (is_word(unit.word, text)) {
      add(found, unit, false);
      continue;
    }
    const Spelled how = spelled(unit.spellings, text);
    if (how != Spelled::No) add(found, unit, how == Spelled::Loosely);
  }
}

const UnitMeant* with_word(const std::vector<UnitMeant>& meant, std::string_view word) {
  const auto at = std::find_if(meant.begin(), meant.end(), [&](const UnitMeant& m) { return m.unit->word == word; });
  return at != meant.end() ? &*at : nullptr;
}

/// 'qt per 100 gal': how labels write what goes into the spray.
constexpr std::string_view kHundred = "100 ";

/// 'galones/ac': both sides are read apart, then the table is asked for 'gal/acre'. A depth, since
/// 'L/min/gal' has two bars and nothing has three.
std::vector<UnitMeant> meant_by(std::string_view text, int depth) {
  std::vector<UnitMeant> found;
  add_direct(found, text);
  const std::size_t bar = text.rfind('/');
  if (bar == std::string_view::npos || depth == 0) return found;
  const std::vector<UnitMeant> above = meant_by(text.substr(0, bar), depth - 1);
  const std::string_view under = text.substr(bar + 1);
  const bool hundred = under.starts_with(kHundred);
  const std::vector<UnitMeant> below = meant_by(hundred ? under.substr(kHundred.size()) : under, 0);
  if (above.empty() || below.empty()) return found;
  for (const Unit& unit : all_units()) {
    const std::size_t unit_bar = unit.word.rfind('/');
    if (unit_bar == std::string_view::npos) continue;
    std::string_view unit_under = unit.word.substr(unit_bar + 1);
    if (unit_under.starts_with(kHundred) != hundred) continue;
    if (hundred) unit_under.remove_prefix(kHundred.size());
    const UnitMeant* a = with_word(above, unit.word.substr(0, unit_bar));
    const UnitMeant* b = with_word(below, unit_under);
    if (a && b) add(found, unit, a->loose || b->loose);
  }
  return found;
}

}  // namespace

const Unit* find_unit(std::string_view word) {
  const auto units = all_units();
  const auto at = std::find_if(units.begin(), units.end(), [&](const Unit& u) { return u.word == word; });
  return at != units.end() ? &*at : nullptr;
}

const Unit& unit(std::string_view word) {
  const Unit* found = find_unit(word);
  assert(found && "not a word of the table of units");
  return *found;
}

std::vector<UnitMeant> units_written(std::string_view written) {
  if (written.size() > 80) return {};
  std::string text = simplified(written);
  if (text.empty()) return {};
  std::vector<UnitMeant> found = meant_by(text, 2);
  if (!found.empty()) return found;
  for (const std::string_view per : {" per ", " por cada ", " por "}) replace_all(text, per, "/");
  return meant_by(text, 2);
}

std::vector<const Unit*> usual_units(Dimension dimension) {
  const auto pair = [](std::string_view us, std::string_view metric) { return std::vector{&unit(us), &unit(metric)}; };
  switch (dimension) {
    case Dimension::Number: return {};
    case Dimension::Share: return {&unit("%")};
    case Dimension::Count: return {&unit("each")};
    case Dimension::Length: return pair("ft", "m");
    case Dimension::Area: return pair("ft2", "m2");
    case Dimension::Volume: return pair("gal", "L");
    case Dimension::Mass: return pair("lb", "kg");
    case Dimension::Time: return pair("h", "min");
    case Dimension::Temperature: return pair("degF", "degC");
    case Dimension::TemperatureDifference: return pair("degF diff", "degC diff");
    case Dimension::Pressure: return pair("psi", "bar");
    case Dimension::Speed: return pair("mph", "km/h");
    case Dimension::Flow: return pair("gal/min", "L/min");
    case Dimension::VolumePerArea: return pair("gal/acre", "L/ha");
    case Dimension::MassPerArea: return pair("lb/acre", "kg/ha");
    case Dimension::MassPerVolume: return {&unit("mg/L")};  // Oxygen, chlorine and salts, in both systems.
    case Dimension::VolumePerVolume: return pair("fl oz/gal", "mL/L");
    case Dimension::FlowPerVolume: return pair("L/min/gal", "L/min/L");
    case Dimension::Conductivity: return pair("mS/cm", "uS/cm");
  }
  return {};
}

std::optional<Fraction> exact_si(const Fraction& amount, const Unit& unit) {
  const auto shifted = amount.plus(unit.offset);
  return shifted ? shifted->times(unit.factor) : std::nullopt;
}

std::optional<Fraction> convert(const Fraction& amount, const Unit& from, const Unit& to) {
  if (from.dimension != to.dimension || (from.dimension == Dimension::Count && &from != &to)) return std::nullopt;
  // The ratio of the factors first: it is small where SI itself would have many digits.
  const auto shifted = amount.plus(from.offset);
  const auto ratio = from.factor.over(to.factor);
  if (!shifted || !ratio) return std::nullopt;
  const auto scaled = shifted->times(*ratio);
  return scaled ? scaled->minus(to.offset) : std::nullopt;
}

double si_of(double amount, const Unit& unit) { return (amount + unit.offset.to_double()) * unit.factor.to_double(); }
double amount_in(double si, const Unit& unit) { return si / unit.factor.to_double() - unit.offset.to_double(); }

}  // namespace steep
