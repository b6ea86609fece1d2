// What people type, read without guessing.
#include <algorithm>
#include <cassert>

#include "base/text.h"
#include "quantity/number_reading.h"
#include "quantity/written.h"
#include "quantity/written_make.h"

namespace steep {
namespace {

using Wanted = std::span<const Dimension>;

bool is_wanted(const Unit& unit, Wanted wanted) {
  return std::find(wanted.begin(), wanted.end(), unit.dimension) != wanted.end();
}

bool starts_with_digit(std::string_view text) { return !text.empty() && text[0] >= '0' && text[0] <= '9'; }

/// Leaves the units that this person may mean: where a spelling names US, imperial and kitchen
/// measures alike, the farm's kind of gallon decides, or nobody does.
std::vector<UnitMeant> by_habit(std::vector<UnitMeant> meant, Gallons gallons) {
  const auto has = [&](Measure measure) {
    return std::any_of(meant.begin(), meant.end(), [&](const UnitMeant& m) { return m.unit->measure == measure; });
  };
  const auto drop = [&](Measure measure) {
    meant.erase(
        std::remove_if(meant.begin(), meant.end(), [&](const UnitMeant& m) { return m.unit->measure == measure; }),
        meant.end());
  };
  if (gallons == Gallons::Us && has(Measure::Us)) {
    drop(Measure::Imperial);
    drop(Measure::Kitchen);
  }
  if (gallons == Gallons::Imperial && has(Measure::Imperial)) drop(Measure::Us);
  return meant;
}

/// '-3', '– 3', 'to 3', 'a 3' and what follows: a second amount begins here.
bool begins_second_amount(std::string_view rest) {
  const std::string_view text = trim(rest);
  for (const std::string_view sign : {"-", "\xE2\x80\x93", "\xE2\x80\x94", "to ", "TO ", "To ", "a ", "hasta "}) {
    if (!text.starts_with(sign)) continue;
    const std::string_view after = trim(text.substr(sign.size()));
    if (starts_with_digit(after) || after.starts_with("\xC2") || after.starts_with("\xE2\x85")) return true;
  }
  return false;
}

/// 'cups - 3 cups' behind the first number.
bool names_second_amount(std::string_view rest) {
  for (std::size_t at = 0; at < rest.size(); ++at) {
    const bool after_space = at == 0 || rest[at - 1] == ' ' || static_cast<unsigned char>(rest[at]) >= 0xE2;
    if (after_space && rest[at] != ' ' && begins_second_amount(rest.substr(at))) return true;
  }
  return false;
}

/// What a number without its unit may have meant.
std::vector<const Unit*> units_to_ask(Dimension dimension) {
  std::vector<const Unit*> units = usual_units(dimension);
  if (dimension == Dimension::Length) units.insert(units.begin() + 1, &unit("in"));  // Widths are measured in inches.
  if (dimension == Dimension::Time) units.push_back(&unit("day"));                   // Waits are counted in days.
  return units;
}

auto ask(std::string_view typed, const std::vector<Written>& readings) {
  std::vector<std::string> values{quoted(typed)};
  for (const Written& reading : readings) values.push_back(reading.text);
  const WordId word = readings.size() == 1   ? "quantity.ask-one"_w
                      : readings.size() == 2 ? "quantity.ask-two"_w
                      : readings.size() == 3 ? "quantity.ask-three"_w
                                             : "quantity.ask-four"_w;
  return refuse(Trouble::Ask, word, std::move(values));
}

/// An amount in the smaller unit as normal form: a decimal where it ends, else a fraction.
Result<Written> in_small_unit(const Fraction& amount, const Unit& unit, std::string_view typed) {
  if (const auto text = amount.decimal(9)) return make_written(*text, amount, unit, typed);
  const Int128 whole = amount.numerator() / amount.denominator();
  const Fraction part(amount.numerator() % amount.denominator(), amount.denominator());
  const std::string text = whole == 0 ? part.text() : Fraction(whole, 1).text() + " " + part.text();
  if (!parse_normal_number(text)) return refuse(Trouble::BadInput, "quantity.digits"_w, {quoted(typed)});
  return make_written(text, amount, unit, typed);
}

/// Without what may stand between two amounts: '5 ft, 6 in', `5'-6"`, '1 h y 20 min'.
std::string_view without_joint(std::string_view text) {
  text = trim(text);
  for (const std::string_view joint : {",", "-", " and", " y", " con"}) {
    if (text.ends_with(joint)) return trim(text.substr(0, text.size() - joint.size()));
  }
  return text;
}

/// `8' 6"`, '1 h 20 min', '2 lb 4 oz': two amounts of one kind, the second under one of the first.
/// Every reading in the smaller unit; empty when it is nothing of that form.
Result<std::vector<Written>> read_in_two_units(const LeadingNumber& first, std::string_view typed, Wanted wanted,
                                               const Habits& habits) {
  std::vector<Written> readings;
  const std::string_view rest = first.rest;
  for (std::size_t at = 1; at < rest.size() && readings.empty() && first.readings.size() == 1; ++at) {
    if (rest[at] < '0' || rest[at] > '9' || (rest[at - 1] >= '0' && rest[at - 1] <= '9')) continue;
    const auto second = take_number(rest.substr(at), habits.mark);
    if (!second || second->readings.size() != 1 || second->readings[0].amount.is_negative()) continue;
    for (const UnitMeant& big : units_meant(without_joint(rest.substr(0, at)), habits.gallons)) {
      if (!is_wanted(*big.unit, wanted) || big.loose) continue;
      std::vector<UnitMeant> small = units_meant(second->rest, habits.gallons);
      // `5' 6` and '1 h 20' leave out what everybody knows.
      if (trim(second->rest).empty() && big.unit->word == "ft") small = {{find_unit("in"), false}};
      if (trim(second->rest).empty() && big.unit->word == "h") small = {{find_unit("min"), false}};
      for (const UnitMeant& s : small) {
        if (s.loose || s.unit->dimension != big.unit->dimension || s.unit->dimension == Dimension::Count ||
            may_be_negative(s.unit->dimension))
          continue;
        if (s.unit->measure != big.unit->measure || !(s.unit->factor < big.unit->factor)) continue;
        const auto one_big = convert(1, *big.unit, *s.unit);
        const auto above = convert(first.readings[0].amount, *big.unit, *s.unit);
        if (!one_big || !above || !(second->readings[0].amount < *one_big)) continue;
        const auto total = above->plus(second->readings[0].amount);
        if (!total) continue;
        TRY_ASSIGN(Written made, in_small_unit(*total, *s.unit, typed));
        readings.push_back(std::move(made));
      }
    }
  }
  return readings;
}

}  // namespace

std::vector<UnitMeant> units_meant(std::string_view written, Gallons gallons) {
  return by_habit(units_written(written), gallons);
}

WordId wrong_kind_word(std::span<const Dimension> wanted) {
  const bool weighed = wanted.empty() || wanted.front() == Dimension::Mass || wanted.front() == Dimension::Volume;
  if (wanted.size() != 1 && weighed) return "quantity.not-weight-or-volume"_w;
  switch (wanted.front()) {
    case Dimension::Share: return "quantity.not-share"_w;
    case Dimension::Count: return "quantity.not-count"_w;
    case Dimension::Length: return "quantity.not-length"_w;
    case Dimension::Area: return "quantity.not-area"_w;
    case Dimension::Volume: return "quantity.not-volume"_w;
    case Dimension::Mass: return "quantity.not-mass"_w;
    case Dimension::Time: return "quantity.not-time"_w;
    case Dimension::Temperature: return "quantity.not-temperature"_w;
    case Dimension::TemperatureDifference: return "quantity.not-temperature-difference"_w;
    case Dimension::Pressure: return "quantity.not-pressure"_w;
    case Dimension::Speed: return "quantity.not-speed"_w;
    case Dimension::Flow: return "quantity.not-flow"_w;
    case Dimension::VolumePerArea: return "quantity.not-volume-per-area"_w;
    case Dimension::MassPerArea: return "quantity.not-mass-per-area"_w;
    case Dimension::MassPerVolume: return "quantity.not-mass-per-volume"_w;
    case Dimension::VolumePerVolume: return "quantity.not-volume-per-volume"_w;
    case Dimension::FlowPerVolume: return "quantity.not-flow-per-volume"_w;
    case Dimension::Conductivity: return "quantity.not-conductivity"_w;
    case Dimension::Number: break;
  }
  return "quantity.unreadable"_w;
}

Result<Written> read_quantity(std::string_view typed, Dimension wanted, const Habits& habits,
                              const Unit* unit_if_bare) {
  return read_quantity(typed, Wanted(&wanted, 1), habits, unit_if_bare);
}

Result<Written> read_quantity(std::string_view typed, Wanted wanted, const Habits& habits, const Unit* unit_if_bare) {
  assert(!unit_if_bare || is_wanted(*unit_if_bare, wanted));
  if (typed.size() > 200 || !is_utf8(typed)) return refuse(Trouble::BadInput, "quantity.unreadable"_w, {quoted(typed)});
  const auto taken = take_number(typed, habits.mark);
  if (!taken && taken.error().word == "quantity.unreadable"_w && wanted.size() == 1 &&
      typed.find_first_of("0123456789") == std::string_view::npos)
    return refuse(Trouble::BadInput, wrong_kind_word(wanted), {quoted(typed)});
  TRY_ASSIGN(const LeadingNumber& number, taken);
  const std::string_view unit_text = trim(number.rest);
  if (names_second_amount(number.rest)) return refuse(Trouble::BadInput, "quantity.range"_w, {quoted(typed)});

  std::vector<UnitMeant> meant;
  const bool bare = unit_text.empty() || (unit_if_bare && (unit_text == "\xC2\xB0" || unit_text == "\xC2\xBA"));
  if (bare && unit_if_bare) {
    meant.push_back({unit_if_bare, false});
  } else if (bare) {
    // Nobody said which unit: the usual ones are offered, never taken.
    for (const Dimension dimension : wanted) {
      for (const Unit* usual : units_to_ask(dimension)) meant.push_back({usual, true});
    }
  } else {
    meant = units_written(unit_text);
    if (meant.empty()) {
      TRY_ASSIGN(const std::vector<Written>& readings, read_in_two_units(number, typed, wanted, habits));
      if (readings.size() == 1) return readings.front();
      if (!readings.empty()) return ask(typed, readings);
      const bool no_word = unit_text[0] > 0 && unit_text[0] < 'A';  // ':4', '5', '*'
      if (no_word) return refuse(Trouble::BadInput, "quantity.unreadable"_w, {quoted(typed)});
      return refuse(Trouble::BadInput, "quantity.unknown-unit"_w, {quoted(typed), quoted(unit_text)});
    }
    meant.erase(
        std::remove_if(meant.begin(), meant.end(), [&](const UnitMeant& m) { return !is_wanted(*m.unit, wanted); }),
        meant.end());
    if (meant.empty()) return refuse(Trouble::BadInput, wrong_kind_word(wanted), {quoted(typed)});
    const auto of_field =
        std::find_if(meant.begin(), meant.end(), [&](const UnitMeant& m) { return m.unit == unit_if_bare; });
    const UnitMeant field = of_field != meant.end() ? *of_field : UnitMeant{};
    meant = by_habit(std::move(meant), habits.gallons);
    // 'gal' typed where the field says imperial gal, on a farm of US gallons: both are in the air.
    if (field.unit && std::find(meant.begin(), meant.end(), field) == meant.end()) meant.push_back(field);
  }

  std::vector<Written> readings;
  bool loose = number.spaced;
  for (const NumberReading& reading : number.readings) {
    for (const UnitMeant& m : meant) {
      TRY_ASSIGN(Written made, make_written(reading.text, reading.amount, *m.unit, typed));
      readings.push_back(std::move(made));
      loose = loose || m.loose;
    }
  }
  if (readings.empty()) return refuse(Trouble::BadInput, wrong_kind_word(wanted), {quoted(typed)});
  if (readings.size() == 1 && !loose) return readings.front();
  return ask(typed, readings);
}

}  // namespace steep
