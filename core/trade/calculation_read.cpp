// What was typed, read as the inputs of a calculation.
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "quantity/unit.h"
#include "trade/calculation.h"

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

std::vector<const Unit*> units_to_offer(const InputSpec& spec) {
  if (is_density(spec)) return {&unit("lb/yd3"), &unit("kg/L"), &unit("g/cup")};
  return usual_units(spec.dimension);
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

}  // namespace steep
