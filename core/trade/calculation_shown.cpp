// How results, labels and remarks of a calculation are read by a person.
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "quantity/home_amount.h"
#include "quantity/unit.h"
#include "trade/calculation.h"

namespace steep {
namespace {

/// `digits` significant digits with the reader's mark: '3,400,000', '0.500'; powers of ten only far off, as in `figure`.
std::string significant(double value, int digits, const UnitsShown& units) {
  if (value == 0 || !std::isfinite(value)) return show_number(value, units, 0);
  const auto power_of = [](double x) { return static_cast<int>(std::floor(std::log10(std::abs(x)))); };
  const double last = std::pow(10.0, power_of(value) - digits + 1);
  const double rounded = std::round(value / last) * last;
  const int power = power_of(rounded * (1 + 1e-12));
  if (power >= 9 || power < -5)
    return show_number(rounded / std::pow(10.0, power), units, digits - 1) + "·10^" + std::to_string(power);
  return show_number(rounded, units, std::max(0, digits - 1 - power));
}

/// Stored words, one or several with a blank between.
std::string words_of_answer(std::string_view stored, const Words& words) {
  std::vector<std::string> shown;
  for (const std::string_view word : split(stored, ' '))
    shown.push_back(words.stored("answer." + std::string(word), word));
  return join(shown, ", ");
}

/// '2026-06-03T04:59:58-04:00' → '2026-06-03 05:00': nobody walks out to the second.
std::string to_the_minute(const std::string& text) {
  const auto stamp = parse_stamp(text);
  if (!stamp) return text;
  std::string minute = stamp_text({stamp->at + 30 * kSecond, stamp->offset_minutes}).substr(0, 16);
  minute[10] = ' ';
  return minute;
}

/// Tea, water and the spray that they make: as many places as make the sum right, two at most; 3.75 + 11.25, not 11.2.
bool is_part_of_mix(const OutputSpec& spec) {
  static constexpr std::string_view kParts[] = {"tea",         "water",         "spray",
                                                "concentrate", "reading-*-tea", "reading-*-water"};
  return std::find(std::begin(kParts), std::end(kParts), spec.name) != std::end(kParts);
}

int places_of_part(double amount) {
  constexpr double kRounding = 1e-6;
  if (std::abs(amount) < 1 || std::abs(amount) >= 1000) return -1;
  for (const int places : {0, 1})
    if (const double scale = places == 0 ? 1 : 10; std::abs(amount * scale - std::round(amount * scale)) < kRounding)
      return places;
  return 2;
}

/// A catch is read in fluid ounces, which on its course are gal/acre.
bool is_catch(const OutputSpec& spec) { return spec.name == "mean-catch" || spec.name == "caught"; }

bool is_days(const OutputSpec& spec) { return spec.name == "interval-days" || spec.name == "stretch-*-days-left"; }

std::string days_text(double number, const Words& words) {
  const long long days = std::llround(number);
  return days < 0 ? words.count("work.days-overdue"_w, -days) : words.count("work.days"_w, days);
}

const Unit& unit_to_show(const OutputSpec& spec, double si, const UnitsShown& units) {
  if (spec.kind == OutputKind::Air) return air_unit(Flow::from_si(si), units);
  if (is_catch(spec)) return unit(units.system == System::Metric ? "mL" : "fl oz");
  return suited_unit(unit(spec.unit).dimension, si, units);
}

}  // namespace

Shown result_shown(const ResultValue& result, const UnitsShown& units, const Words& words, bool fixed_units) {
  const OutputSpec& spec = *result.spec;
  const auto plain = [](std::string text) {
    Shown shown;
    shown.number = std::move(text);
    return shown;
  };
  if (is_days(spec)) return plain(days_text(result.number, words));
  if (const auto& amount = result.amount)
    return plain(show_home_range(amount->low, amount->high, *amount->unit, units, words));
  switch (spec.kind) {
    case OutputKind::Quantity:
    case OutputKind::Air: {
      const Unit& fixed = unit(spec.unit);
      const double si = si_of(result.number, fixed);
      if (fixed_units) return show_in(fixed, si, units, words, spec.places);
      const Unit& shown_in = unit_to_show(spec, si, units);
      return show_in(shown_in, si, units, words, is_part_of_mix(spec) ? places_of_part(amount_in(si, shown_in)) : -1);
    }
    case OutputKind::Fixed: {
      Shown shown = plain(significant(result.number, spec.places, units));
      const Unit* known = find_unit(spec.unit);
      shown.unit = known ? unit_label(*known, result.number, words) : std::string(spec.unit);
      if (known) shown.spoken = unit_spoken(*known, result.number, words);
      shown.close = shown.unit.starts_with('/');
      return shown;
    }
    case OutputKind::Number: return plain(show_number(result.number, units, spec.places));
    case OutputKind::Whole: return plain(show_count(std::llround(result.number), units));
    case OutputKind::Word: return plain(words_of_answer(result.text, words));
    case OutputKind::LocalTime: return plain(to_the_minute(result.text));
    default: return plain(result.text);
  }
}

std::string result_text(const ResultValue& result, const UnitsShown& units, const Words& words, bool fixed_units) {
  return result_shown(result, units, words, fixed_units).text();
}

namespace {

/// 'line-*-low-weight' for 'line-*-high-weight': the other end of a range; empty for what is no upper end.
std::string lower_end(std::string_view name) {
  const std::size_t high = name.find("-high-");
  return high == std::string_view::npos ? std::string() : std::string(name).replace(high, 6, "-low-");
}

}  // namespace

std::vector<const ResultValue*> results_to_read(const Answer& answer, const UnitsShown& units, const Words& words) {
  std::vector<const ResultValue*> kept;
  for (const ResultValue& result : answer.results) {
    const auto reads_alike = [&](const ResultValue* other) {
      const bool one_thing =
          other->spec->label == result.spec->label || other->spec->name == lower_end(result.spec->name);
      return one_thing && other->ordinal == result.ordinal &&
             result_text(*other, units, words) == result_text(result, units, words);
    };
    if (std::none_of(kept.begin(), kept.end(), reads_alike)) kept.push_back(&result);
  }
  return kept;
}

std::vector<std::string> remark_values(const Remark& remark, const UnitsShown& units, const Words& words) {
  std::vector<std::string> values = remark.values;
  for (const auto& [at, amount] : remark.amounts) {
    const Shown low = show_in(*amount.unit, si_of(amount.low, *amount.unit), units, words);
    const Shown high = show_in(*amount.unit, si_of(amount.high, *amount.unit), units, words);
    values[at] = low.number == high.number ? high.text() : words("plan.range"_w, {low.number, high.text()});
  }
  return values;
}

std::string label_text(const ResultValue& result, const Words& words) {
  const std::string ordinal = std::to_string(result.ordinal);
  return words(result.spec->label, {result.named.empty() ? ordinal : result.named, ordinal});
}

std::string label_text(const OutputSpec& spec, const Words& words) {
  if (spec.name.starts_with("line-")) return words(spec.label, {words("work-result.line-number"_w, {"1"})});
  if (spec.name.ends_with("-product")) return words(spec.label, {words("work-input.product-name"_w), "1"});
  return words(spec.label, {"1"});
}

std::string source_text(const Calculation& calculation, const Words& words) {
  return words.stored("work-source." + std::string(calculation.name), calculation.source);
}

std::string limits_text(const Calculation& calculation, const Words& words) {
  return words.stored("work-limits." + std::string(calculation.name), {});
}

}  // namespace steep
