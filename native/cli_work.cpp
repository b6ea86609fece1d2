/// work: any calculation of the trade, by its name.

#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>
#include <vector>

#include "book/work_typed.h"
#include "native/cli.h"
#include "trade/step_words.h"

namespace steep {
namespace {

using Json = nlohmann::ordered_json;

void list_all(const Words& words) {
  std::vector<std::string_view> topics;  // In the order in which they first come.
  std::size_t width = 0;
  for (const Calculation* one : all_calculations()) {
    if (std::find(topics.begin(), topics.end(), one->topic) == topics.end()) topics.push_back(one->topic);
    width = std::max(width, one->name.size());
  }
  for (const std::string_view topic : topics) {
    std::cout << "\n" << words.stored("topic." + std::string(topic), topic) << "\n";
    for (const Calculation* one : all_calculations())
      if (one->topic == topic)
        std::cout << "  " << one->name << std::string(width + 2 - one->name.size(), ' ') << words(one->title) << "\n";
  }
}

std::string input_shape(const InputSpec& input) {
  if (!input.words.empty()) return std::string(input.words);
  if (!input.columns.empty()) {
    std::string columns;
    for (const InputSpec& column : input.columns) columns += (columns.empty() ? "" : "; ") + std::string(column.name);
    return "\"" + columns + "\"";
  }
  return "";
}

void help(const Calculation& calculation, const Words& words) {
  std::cout << calculation.name << ": " << words(calculation.title) << "\n\n";
  for (const InputSpec& input : calculation.inputs) {
    std::cout << "  --" << input.name << "  " << words(input.help);
    if (const auto shape = input_shape(input); !shape.empty()) std::cout << "  [" << shape << "]";
    if (!input.standard.empty())
      std::cout << "  (" << input.standard << ")";
    else if (!input.required)
      std::cout << "  " << words("cli.work.optional"_w);
    if (input.many) std::cout << "  " << words("cli.work.many"_w);
    std::cout << "\n";
  }
  std::cout << "\n" << words("cli.work.results"_w) << "\n";
  for (const OutputSpec& output : calculation.outputs)
    std::cout << "  " << output.name << (output.unit.empty() ? "" : "  " + std::string(output.unit)) << "  "
              << label_text(output, words) << "\n";
  std::cout << "\n" << words("cli.work.source"_w, {source_text(calculation, words)}) << "\n";
  std::cout << "\n  steepbook work " << calculation.name << " " << calculation.example << "\n";
}

Json as_json(const Calculation& calculation, const Inputs& inputs, const Answer& answer, const Words& words) {
  Json given = Json::object(), results = Json::array(), notes = Json::array();
  for (const auto& input : inputs.given()) {
    Json& place = given[std::string(input.spec->name)];
    if (!input.spec->many)
      place = input.value.text;
    else
      place.push_back(input.value.text);
  }
  for (const ResultValue& result : answer.results) {
    Json value{{"name", result.name}};
    const OutputKind kind = result.spec->kind;
    const bool is_number = kind == OutputKind::Quantity || kind == OutputKind::Air || kind == OutputKind::Number ||
                           kind == OutputKind::Fixed;
    if (kind == OutputKind::Whole)
      value["value"] = static_cast<std::int64_t>(result.number + (result.number < 0 ? -0.5 : 0.5));
    else if (is_number)
      value["value"] = result.number;
    else
      value["value"] = result.text;
    value["unit"] = result.spec->unit.empty() ? Json(nullptr) : Json(std::string(result.spec->unit));
    results.push_back(std::move(value));
  }
  for (const Remark& note : answer.notes) notes.push_back(words(note.word, note.values));
  return {{"name", std::string(calculation.name)},
          {"inputs", given},
          {"results", results},
          {"notes", notes},
          {"source", std::string(calculation.source)}};
}

void print(const Calculation& calculation, const Answer& answer, const Words& words, const UnitsShown& units,
           bool explain) {
  for (const ResultValue* result : results_to_read(answer, units, words))
    std::cout << label_text(*result, words) << ": " << result_text(*result, units, words) << "\n";
  for (const Remark& note : answer.notes)
    std::cout << (note.tone == Remark::Tone::Caution ? "! " : "· ")
              << words(note.word, remark_values(note, units, words)) << "\n";
  if (!explain) return;
  std::cout << "\n";
  for (const Step& step : answer.steps) {
    const StepShown shown = show_step(step, units, words);
    std::cout << "  " << shown.formula << "\n  " << shown.below << "\n";
  }
  std::cout << words("cli.work.limits"_w, {limits_text(calculation, words)}) << "\n";
  std::cout << words("cli.work.source"_w, {source_text(calculation, words)}) << "\n";
}

/// 'temperature is missing' with the option to type and what it is.
Problem named(Problem problem, const Calculation& calculation, const Words& words) {
  if (problem.word != "work.missing"_w) return problem;
  for (const InputSpec& input : calculation.inputs)
    if (input.name == problem.place)
      return {problem.kind, "cli.work.missing"_w, {"--" + problem.place, words(input.help)}, {}};
  return problem;
}

Result<void> do_work(Cli& cli, const std::vector<std::string>& rest) {
  if (rest.empty() || rest.front() == "--help") {
    list_all(cli.words());
    return {};
  }
  const Calculation* calculation = find_calculation(rest.front());
  if (!calculation) return refuse(Trouble::BadInput, "cli.work.unknown"_w, {rest.front()});
  std::vector<Typed> typed;
  bool explain = false;
  for (std::size_t i = 1; i < rest.size(); ++i) {
    const std::string& word = rest[i];
    if (word == "--help" || word == "-h") {
      help(*calculation, cli.words());
      return {};
    }
    if (word == "--explain")
      explain = true;
    else if (word == "--json")
      cli.json = true;
    else if (word == "--units" && i + 1 < rest.size())
      cli.units_word = rest[++i];
    else if (word == "--language" && i + 1 < rest.size())
      cli.language_word = rest[++i];
    else if (!word.starts_with("--"))
      return refuse(Trouble::BadInput, "cli.work.option"_w, {word});
    else if (const auto mark = word.find('='); mark != std::string::npos)
      typed.push_back({word.substr(2, mark - 2), word.substr(mark + 1)});
    else if (++i < rest.size())
      typed.push_back({word.substr(2), rest[i]});
    else
      return refuse(Trouble::BadInput, "cli.work.no_value"_w, {word});
  }
  const auto is_one_of = [](const std::string& word, std::string_view a, std::string_view b) {
    return word.empty() || word == a || word == b;
  };
  if (!is_one_of(cli.units_word, "us", "metric"))
    return refuse(Trouble::BadInput, "work.not-a-choice"_w, {cli.units_word, "us, metric"}, "units");
  if (!is_one_of(cli.language_word, "en", "es"))
    return refuse(Trouble::BadInput, "work.not-a-choice"_w, {cli.language_word, "en, es"}, "language");
  const Words words = cli.words();
  const Stamp now = cli.platform().now();
  // No book is asked, so 'today' and a time without a day are those of this device's clock.
  const Moment on_clock = now.at + now.offset_minutes * kMinute;
  const Habits habits = cli.habits();
  TRY_ASSIGN(typed, in_normal_form(*calculation, std::move(typed), habits, Zone(), on_clock));
  const auto read = read_inputs(*calculation, typed, habits);
  if (!read) return tl::unexpected<Problem>(named(read.error(), *calculation, words));
  const Inputs& inputs = *read;
  TRY_ASSIGN(const Answer answer, calculation->run(inputs));
  if (cli.json)
    std::cout << as_json(*calculation, inputs, answer, words).dump() << "\n";
  else
    print(*calculation, answer, words, cli.units(), explain);
  return {};
}

}  // namespace

void add_work_verb(Cli& cli) {
  // Only for the help of the whole: its own options are those of each calculation, so `run_work` reads them.
  cli.app.add_subcommand("work",
                         "work a number out; without a name lists all calculations\n"
                         "  steepbook work oxygen --temperature \"68 F\" --explain");
}

void run_work(Cli& cli, const std::vector<std::string>& rest) {
  if (auto done = do_work(cli, rest); !done) cli.fail(done.error());
}

}  // namespace steep
