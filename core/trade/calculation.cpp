#include "trade/calculation.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "base/text.h"
#include "quantity/unit.h"

namespace steep {
namespace {

std::string two_digits(int n) { return (n < 10 ? "0" : "") + std::to_string(n); }

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

std::string figure(double value, int digits) {
  if (value == 0) return "0";
  if (!std::isfinite(value)) return value > 0 ? "∞" : value < 0 ? "-∞" : "?";
  const int power = static_cast<int>(std::floor(std::log10(std::abs(value))));
  if (power >= 9 || power < -5)
    return decimal(value / std::pow(10.0, power), digits - 1) + "·10^" + std::to_string(power);
  return decimal(value, std::max(0, digits - 1 - power));
}

}  // namespace steep
