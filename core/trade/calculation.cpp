#include "trade/calculation.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdint>

#include "base/text.h"
#include "quantity/home_amount.h"
#include "quantity/unit.h"

namespace steep {
namespace {

/// Every kind that has units, for inputs of any kind.
constexpr Dimension kAnyKind[] = {Dimension::Length,        Dimension::Area,
                                  Dimension::Volume,        Dimension::Mass,
                                  Dimension::Time,          Dimension::Temperature,
                                  Dimension::Pressure,      Dimension::Speed,
                                  Dimension::Flow,          Dimension::Share,
                                  Dimension::VolumePerArea, Dimension::MassPerArea,
                                  Dimension::MassPerVolume, Dimension::VolumePerVolume,
                                  Dimension::FlowPerVolume, Dimension::Conductivity};

bool is_density(const InputSpec& spec) { return spec.name == "density"; }

auto unreadable(WordId word, std::string_view typed, std::string_view name) {
  return refuse(Trouble::BadInput, word, {typed}, name);
}

/// '18:04'; hours 0–23.
std::optional<LocalTime> parse_clock(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos || colon == 0 || text.size() != colon + 3) return std::nullopt;
  const auto hour = parse_int(text.substr(0, colon)), minute = parse_int(text.substr(colon + 1));
  if (!hour || !minute || *hour < 0 || *hour > 23 || *minute < 0 || *minute > 59) return std::nullopt;
  LocalTime time;
  time.hour = static_cast<int>(*hour);
  time.minute = static_cast<int>(*minute);
  return time;
}

std::string two_digits(int n) { return (n < 10 ? "0" : "") + std::to_string(n); }

/// '18:04', '01:30 -04:00', '01:30-04:00': clock and, where it stands behind, the offset in minutes.
bool take_offset(std::string_view& clock, std::optional<int>& offset) {
  const std::size_t sign = clock.find_first_of("+-");
  if (sign == std::string_view::npos) return true;
  const auto typed = parse_clock(clock.substr(sign + 1));
  if (!typed || typed->hour > 14) return false;
  offset = (typed->hour * 60 + typed->minute) * (clock[sign] == '-' ? -1 : 1);
  clock = trim(clock.substr(0, sign));
  return true;
}

bool is_choice(std::string_view words, std::string_view word) {
  const auto choices = split(words, '|');
  return std::find(choices.begin(), choices.end(), word) != choices.end();
}

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

std::string with_commas(std::string_view words) {
  std::string list;
  for (const std::string_view word : split(words, '|')) list += (list.empty() ? "" : ", ") + std::string(word);
  return list;
}

Result<Value> read_as_quantity(const InputSpec& spec, std::string_view typed, const Habits& habits,
                               const Unit* unit_if_bare) {
  const Dimension two[] = {spec.dimension, spec.other};
  const std::span<const Dimension> wanted = spec.dimension == Dimension::Number ? std::span<const Dimension>(kAnyKind)
                                            : spec.other == Dimension::Number   ? std::span(two, 1)
                                                                                : std::span(two);
  // What is dissolved in water is told in mg/L, which is ppm; a density has no such unit.
  if (!unit_if_bare && spec.dimension == Dimension::MassPerVolume && !is_density(spec)) unit_if_bare = &unit("mg/L");
  auto written = read_quantity(typed, wanted, habits, unit_if_bare);
  if (!written) {
    if (is_density(spec) && read_number(typed, habits.mark))
      return refuse(Trouble::Ask, "work.density-unit"_w, {typed}, spec.name);
    Problem problem = std::move(written.error());
    problem.place = std::string(spec.name);
    return tl::unexpected<Problem>(std::move(problem));
  }
  Value value;
  value.text = written->text;
  value.number = si(*written).to_double();
  value.written = std::move(*written);
  return value;
}

/// Nobody counts further; a double still tells each from the next.
constexpr std::int64_t kMostWhole = 9'000'000'000'000'000;

/// '1.2e6', '1.2 x 10^6', '1.2×10^6', as laboratories write: what stands before, and the power of ten.
struct PowerOfTen {
  std::string_view before;
  int power = 0;
};
PowerOfTen take_power(std::string_view typed) {
  constexpr int kMost = 30;
  for (const std::string_view mark : {"e", "E", "x10^", "x 10^", "×10^", "× 10^", "*10^", "* 10^", "·10^", "· 10^"}) {
    const std::size_t at = typed.find(mark);
    if (at == std::string_view::npos || at == 0) continue;
    std::string_view exponent = typed.substr(at + mark.size());
    if (exponent.starts_with('+')) exponent.remove_prefix(1);
    const auto power = parse_int(exponent);
    if (power && *power >= -kMost && *power <= kMost) return {trim(typed.substr(0, at)), static_cast<int>(*power)};
  }
  return {typed};
}

Result<Value> read_as_number(const InputSpec& spec, std::string_view typed, const Habits& habits) {
  const PowerOfTen parts = take_power(typed);
  auto read = read_number(parts.before, habits.mark);
  if (!read && read.error().kind == Trouble::BadInput) return unreadable("work.not-a-number"_w, typed, spec.name);
  if (!read) {
    Problem problem = std::move(read.error());
    problem.place = std::string(spec.name);
    return tl::unexpected<Problem>(std::move(problem));
  }
  Value value;
  value.text = read->text;
  if (parts.power != 0) value.text += "e" + std::to_string(parts.power);
  const double scale = std::pow(10.0, std::abs(parts.power)), amount = read->amount.to_double();
  value.number = parts.power < 0 ? amount / scale : amount * scale;
  if (spec.kind == InputKind::Whole && (value.number < 0 || value.number != std::floor(value.number)))
    return unreadable("work.not-whole"_w, typed, spec.name);
  if (spec.kind == InputKind::Whole && value.number > static_cast<double>(kMostWhole))
    return refuse(Trouble::OutOfRange, "work.too-many"_w, {typed, std::to_string(kMostWhole)}, spec.name);
  return value;
}

Result<Value> read_as_row(const InputSpec& spec, std::string_view typed, const Habits& habits) {
  const auto cells = split(typed, ';');
  if (cells.size() > spec.columns.size()) return unreadable("work.too-many-columns"_w, typed, spec.name);
  Value row;
  row.text = std::string(typed);
  for (std::size_t i = 0; i < spec.columns.size(); ++i) {
    const std::string_view cell = i < cells.size() ? trim(cells[i]) : std::string_view{};
    const InputSpec& column = spec.columns[i];
    const std::string_view text = cell.empty() ? column.standard : cell;
    if (text.empty()) {
      if (column.required) return refuse(Trouble::BadInput, "work.missing-column"_w, {typed, column.name}, spec.name);
      row.columns.emplace_back();
      continue;
    }
    TRY_ASSIGN(Value value, read_value(column, text, habits));
    row.columns.emplace_back(std::move(value));
  }
  return row;
}

const InputSpec* find_spec(const Calculation& calculation, std::string_view name) {
  for (const InputSpec& spec : calculation.inputs)
    if (spec.name == name) return &spec;
  return nullptr;
}

}  // namespace

const Value* Inputs::find(std::string_view name) const {
  for (const Given& one : given_)
    if (one.spec->name == name) return &one.value;
  return nullptr;
}

std::vector<const Value*> Inputs::all(std::string_view name) const {
  std::vector<const Value*> values;
  for (const Given& one : given_)
    if (one.spec->name == name) values.push_back(&one.value);
  return values;
}

const Value& Inputs::operator[](std::string_view name) const {
  const Value* value = find(name);
  assert(value && "an input that is required or has a standard");
  return *value;
}

namespace {

const OutputSpec* find_output(const Calculation& calculation, std::string_view name) {
  for (const OutputSpec& spec : calculation.outputs)
    if (spec.name == name) return &spec;
  return nullptr;
}

}  // namespace

std::string Step::below() const {
  const std::size_t equals = numbers.find(" = ");
  const bool names_itself = equals != std::string::npos && numbers.find_first_of(" 0123456789") == equals;
  return names_itself ? numbers : "= " + numbers;
}

ResultValue& Answer::add(std::string_view name, int ordinal) {
  const OutputSpec* found = find_output(*of_, name);
  assert(found && "a result that the calculation declares");
  ResultValue value;
  value.spec = found;
  value.ordinal = ordinal;
  value.name = std::string(name);
  if (const std::size_t star = value.name.find('*'); star != std::string::npos)
    value.name.replace(star, 1, std::to_string(ordinal));
  results.push_back(std::move(value));
  return results.back();
}

std::vector<const Unit*> units_to_offer(const InputSpec& spec) {
  if (is_density(spec)) return {&unit("lb/yd3"), &unit("kg/L"), &unit("g/cup")};
  return usual_units(spec.dimension);
}

std::string offset_text(int minutes) {
  const int size = std::abs(minutes);
  return (minutes < 0 ? "-" : "+") + two_digits(size / 60) + ":" + two_digits(size % 60);
}

void Answer::number(std::string_view name, double value, int ordinal) { add(name, ordinal).number = value; }

void Answer::si(std::string_view name, double si, int ordinal) {
  ResultValue& result = add(name, ordinal);
  result.number = amount_in(si, unit(result.spec->unit));
}

void Answer::text(std::string_view name, std::string text, int ordinal) { add(name, ordinal).text = std::move(text); }

void Answer::amount(std::string_view name, std::string_view named, const NamedAmount& amount, std::string text,
                    int ordinal) {
  ResultValue& result = add(name, ordinal);
  result.named = named;
  result.amount = amount;
  result.text = std::string(named) + ": " + std::move(text);
}

void Answer::call(int ordinal, std::string_view named) {
  for (ResultValue& result : results)
    if (result.ordinal == ordinal) result.named = named;
}

void Answer::note(WordId word, Values values) {
  notes.push_back({word, {values.begin(), values.end()}, Remark::Tone::Plain, {}});
}

void Answer::caution(WordId word, Values values, std::vector<std::pair<std::size_t, NamedAmount>> amounts) {
  notes.push_back({word, {values.begin(), values.end()}, Remark::Tone::Caution, std::move(amounts)});
}

void Answer::reading(std::string_view input, std::string_view text, WordId word, Values values) {
  readings.push_back({input, std::string(text), word, {values.begin(), values.end()}});
}

void Answer::step(std::string_view of, std::string_view formula, std::string_view numbers, int ordinal) {
  for ([[maybe_unused]] const std::string_view name : split(of, ' '))
    assert(find_output(*of_, name) && "a result that the calculation declares");
  steps.push_back({std::string(of), ordinal, std::string(formula), std::string(numbers), false});
}

void Answer::named_step(std::string_view of, std::string_view name, std::string_view numbers, int ordinal) {
  step(of, name, numbers, ordinal);
  steps.back().named = true;
}

std::vector<const Step*> Answer::steps_of(const ResultValue& result) const {
  std::vector<const Step*> own;
  for (const Step& step : steps) {
    if (step.ordinal != 0 && step.ordinal != result.ordinal) continue;
    const auto names = split(step.of, ' ');
    if (std::find(names.begin(), names.end(), result.spec->name) != names.end()) own.push_back(&step);
  }
  return own;
}

Result<Value> read_value(const InputSpec& spec, std::string_view typed, const Habits& habits,
                         const Unit* unit_if_bare) {
  typed = trim(typed);
  if (typed.empty()) return refuse(Trouble::BadInput, "work.missing"_w, {spec.name}, spec.name);
  Value value;
  value.text = std::string(typed);
  switch (spec.kind) {
    case InputKind::Quantity: return read_as_quantity(spec, typed, habits, unit_if_bare);
    case InputKind::Number:
    case InputKind::Whole: return read_as_number(spec, typed, habits);
    case InputKind::Row: return read_as_row(spec, typed, habits);
    case InputKind::Text: return value;
    case InputKind::Date: {
      const auto date = parse_date(typed);
      if (!date) return unreadable("work.not-a-date"_w, typed, spec.name);
      value.date = *date;
      return value;
    }
    case InputKind::Clock: {
      const auto time = parse_clock(typed);
      if (!time) return unreadable("work.not-a-clock"_w, typed, spec.name);
      value.time = *time;
      value.text = clock_text(*time);
      return value;
    }
    case InputKind::LocalTime: {
      const std::size_t gap = typed.find_first_of(" T");
      if (gap == std::string_view::npos) return unreadable("work.not-a-time"_w, typed, spec.name);
      const auto date = parse_date(typed.substr(0, gap));
      std::string_view clock = trim(typed.substr(gap + 1));
      const bool readable = take_offset(clock, value.offset_minutes);
      const auto time = parse_clock(clock);
      if (!date || !time || !readable) return unreadable("work.not-a-time"_w, typed, spec.name);
      value.date = *date;
      value.time = *time;
      value.time.date = *date;
      value.text = date_text(*date) + " " + clock_text(*time);
      if (value.offset_minutes) value.text += " " + offset_text(*value.offset_minutes);
      return value;
    }
    case InputKind::Word: {
      const std::string word = lower(typed);
      if (!is_choice(spec.words, word))
        return refuse(Trouble::BadInput, "work.not-a-choice"_w, {typed, with_commas(spec.words)}, spec.name);
      value.text = word;
      return value;
    }
    case InputKind::YesNo: {
      const std::string word = lower(typed);
      if (word == "yes" || word == "sí" || word == "si")
        value.number = 1;
      else if (word != "no")
        return unreadable("work.not-yes-or-no"_w, typed, spec.name);
      value.text = value.number != 0 ? "yes" : "no";
      return value;
    }
  }
  return value;
}

Result<Inputs> read_inputs(const Calculation& calculation, std::span<const Typed> typed, const Habits& habits) {
  Inputs inputs(habits);
  for (const Typed& one : typed) {
    const InputSpec* spec = find_spec(calculation, one.name);
    if (!spec) return refuse(Trouble::BadInput, "work.no-such-input"_w, {calculation.name, one.name}, one.name);
    if (!spec->many && inputs.find(one.name))
      return refuse(Trouble::BadInput, "work.given-twice"_w, {one.name}, one.name);
    TRY_ASSIGN(Value value, read_value(*spec, one.text, habits));
    inputs.add({spec, std::move(value), false});
  }
  for (const InputSpec& spec : calculation.inputs) {
    if (inputs.find(spec.name)) continue;
    if (!spec.standard.empty()) {
      // Standards are ours, written with a point.
      TRY_ASSIGN(Value value, read_value(spec, spec.standard, Habits{}));
      inputs.add({&spec, std::move(value), true});
    } else if (spec.required) {
      return refuse(Trouble::BadInput, "work.missing"_w, {spec.name}, spec.name);
    }
  }
  return inputs;
}

std::vector<Typed> read_command_line(std::string_view line) {
  std::vector<std::string> pieces;
  bool quoted = false, open = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
      if (!open) pieces.emplace_back();
      open = true;
    } else if (c == ' ' && !quoted) {
      open = false;
    } else {
      if (!open) pieces.emplace_back();
      open = true;
      pieces.back() += c;
    }
  }
  std::vector<Typed> typed;
  for (const std::string& piece : pieces) {
    if (piece.starts_with("--")) {
      const std::size_t sign = piece.find('=');
      if (sign == std::string::npos)
        typed.push_back({piece.substr(2), ""});
      else
        typed.push_back({piece.substr(2, sign - 2), piece.substr(sign + 1)});
    } else if (!typed.empty()) {
      std::string& text = typed.back().text;
      text += (text.empty() ? "" : " ") + piece;
    }
  }
  return typed;
}

std::string figure(double value, int digits) {
  if (value == 0) return "0";
  if (!std::isfinite(value)) return value > 0 ? "∞" : value < 0 ? "-∞" : "?";
  const int power = static_cast<int>(std::floor(std::log10(std::abs(value))));
  if (power >= 9 || power < -5)
    return decimal(value / std::pow(10.0, power), digits - 1) + "·10^" + std::to_string(power);
  return decimal(value, std::max(0, digits - 1 - power));
}

namespace {

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
