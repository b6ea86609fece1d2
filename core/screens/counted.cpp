#include "screens/counted.h"

#include "base/text.h"
#include "screens/work_uses.h"

namespace steep {
namespace {

struct Asked {
  const Inputs& inputs;
  const Answer& answer;
  std::optional<double> result(std::string_view name) const {
    const ResultValue* found = find_result(answer, name);
    return found ? std::optional(found->number) : std::nullopt;
  }
  std::string_view word(std::string_view name) const {
    const ResultValue* found = find_result(answer, name);
    return found ? std::string_view(found->text) : std::string_view();
  }
  std::optional<double> number(std::string_view name) const {
    const Value* value = inputs.find(name);
    return value ? std::optional(value->number) : std::nullopt;
  }
  double sum(std::string_view name, std::size_t column) const {
    double all = 0;
    for (const Value* row : inputs.all(name)) all += row->columns[column]->number;
    return all;
  }
};

/// As shown: so many significant digits, with '<' or '>' of a bound.
bool set_value(CountResult& result, const std::optional<double>& value, int digits, std::string_view reading) {
  const auto text = value ? count_number(*value, digits) : std::nullopt;
  if (!text) return false;
  result.value = (reading == "fewer-than" ? "<" : reading == "more-than" ? ">" : "") + *text;
  return true;
}

bool by_fields(const Asked& asked, CountGiven& count) {
  count.behind.method = asked.inputs.find("square") ? "chamber" : "microscope";
  count.result.per = "ml";
  count.result.low = asked.result("low");
  count.result.high = asked.result("high");
  double counted = 0;
  for (const Value* one : asked.inputs.all("count")) counted += one->number;
  count.behind.counted = counted;
  count.behind.looked_at = asked.number("fields").value_or(static_cast<double>(asked.inputs.all("count").size()));
  count.behind.objective = asked.number("objective");
  count.behind.dilution = asked.number("dilution");
  if (const Value* drop = asked.inputs.find("drop")) count.behind.drop = drop->written;
  return set_value(count.result, asked.result("per-ml"), 3, {});
}

bool by_plates(const Asked& asked, CountGiven& count) {
  count.behind.method = "plates";
  count.result.per = "ml";
  count.result.low = asked.result("low");
  count.result.high = asked.result("high");
  count.result.estimated = asked.word("reading") == "estimated";
  count.behind.counted = asked.result("colonies");
  count.behind.looked_at = asked.result("plates");
  return set_value(count.result, asked.result("reported"), 2, asked.word("reading"));
}

/// By volume per 100 mL, as water is reported.
bool by_tubes(const Asked& asked, CountGiven& count) {
  const bool by_weight = asked.result("mpn-per-g").has_value();
  const std::string per = by_weight ? "per-g" : "per-100ml";
  count.behind.method = "mpn";
  count.result.per = by_weight ? "g" : "100ml";
  count.result.low = asked.result("low-" + per);
  count.result.high = asked.result("high-" + per);
  count.behind.looked_at = asked.sum("dilution", 1);
  count.behind.counted = asked.sum("dilution", 2);
  return set_value(count.result, asked.result("mpn-" + per), 2, asked.word("reading"));
}

bool by_samples(const Asked& asked, CountGiven& count) {
  count.behind.method = "geometric-mean";
  count.result.per = "100ml";
  count.behind.looked_at = asked.result("samples");
  return set_value(count.result, asked.result("gm"), 3, asked.inputs.all("above").empty() ? "" : "more-than");
}

/// As behind `work NAME`: only what a person gave.
std::string inputs_text(const Calculation& calculation, const Inputs& inputs) {
  std::string line(calculation.name);
  for (const Inputs::Given& given : inputs.given()) {
    if (given.is_standard) continue;
    const bool quoted = given.value.text.find_first_of(" ;") != std::string::npos;
    const std::string mark = quoted ? "\"" : "";
    line += " --" + std::string(given.spec->name) + " " + mark + given.value.text + mark;
  }
  return line;
}

struct Method {
  std::string_view calculation;
  bool (*by)(const Asked&, CountGiven&);
};
constexpr Method kMethods[] = {{"fields", by_fields}, {"plates", by_plates}, {"mpn", by_tubes}, {"gm", by_samples}};

}  // namespace

std::optional<CountGiven> count_given(const Calculation& calculation, const Inputs& inputs, const Answer& answer) {
  for (const Method& method : kMethods) {
    if (method.calculation != calculation.name) continue;
    CountGiven count;
    if (!method.by({inputs, answer}, count)) return std::nullopt;
    if (count.result.low || count.result.high) count.result.confidence = 100 * inputs["confidence"].number;
    count.behind.inputs = inputs_text(calculation, inputs);
    return count;
  }
  return std::nullopt;
}

std::string count_text(const Count& count, const Surroundings& around) {
  const Words& words = around.words;
  const auto number = [&](double value) { return show_number(value, around.units); };
  const std::string& value = count.result.value;
  const bool bound = value.starts_with('<') || value.starts_with('>');
  const auto read = parse_decimal(bound ? std::string_view(value).substr(1) : std::string_view(value));
  const std::string shown = (bound ? value.substr(0, 1) + " " : "") + (read ? number(*read) : value);
  std::string text =
      words("count-record.number"_w, {shown, words.stored("word." + count.result.per, count.result.per)});
  if (count.result.estimated) text = words("count-record.estimated"_w, {text});
  if (!count.result.low || !count.result.high) return text;
  return words("count-record.with_interval"_w, {text, number(*count.result.low), number(*count.result.high),
                                                number(count.result.confidence.value_or(95))});
}

std::string count_title(const Count& count, const Words& words) {
  const std::string method = words.stored("word." + count.behind.method, count.behind.method);
  return count.what.empty() ? sentence_case(method) : sentence_case(count.what + ", " + method);
}

}  // namespace steep
