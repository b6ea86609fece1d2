#include <algorithm>

#include "base/text.h"
#include "quantity/at_home.h"
#include "quantity/typeable.h"
#include "quantity/unit.h"
#include "screens/form_text.h"
#include "screens/work_form.h"
#include "screens/work_known.h"
#include "screens/work_page.h"

namespace steep {
namespace {

using Cell = WorkPageView::Cell;

struct Making {
  const Surroundings& around;
  const WorkPageInput& input;
  const CellUnits& units;
  const FormRead& read;
};

std::string choice_text(std::string_view word, const Words& words) {
  std::string plain(word);
  std::replace(plain.begin(), plain.end(), '-', ' ');
  return sentence_case(words.stored("choice." + std::string(word), words.stored("answer." + std::string(word), plain)));
}

/// How it may look: the farm's usual number, or an example of the way it is written.
std::string hint_of(const InputSpec& cell, const Making& making) {
  const Words& words = making.around.words;
  const auto typed = [&](std::string_view normal) -> std::string {
    const auto value = read_value(cell, normal, {});
    if (!value) return std::string(normal);
    if (value->written && !is_at_home(*value->written->unit, making.around.units))
      if (const Unit* bare = making.units.bare(cell)) {
        const Written own = write_quantity(amount_in(value->number, *bare), *bare, 1);
        return show(own, making.around.units, words);
      }
    return as_typed(cell, *value, making.around.units, words);
  };
  if (!cell.standard.empty()) return words("work.usual"_w, {typed(cell.standard)});
  if (!cell.required) return words("work.if_known"_w);
  const Value* example = making.units.example(cell);
  return example ? words("work.example"_w, {typed(example->text)}) : std::string();
}

void say_choices(Cell& cell, const InputSpec& spec, const std::string& value, const Words& words) {
  const auto choices =
      spec.kind == InputKind::YesNo ? std::vector<std::string_view>{"yes", "no"} : split(spec.words, '|');
  // What is taken when nothing is chosen stands chosen.
  const std::string_view now = value.empty() ? spec.standard : std::string_view(value);
  for (const std::string_view word : choices) {
    if (word == now) cell.chosen = static_cast<int>(cell.words.size());
    cell.words.push_back({std::string(word), choice_text(word, words)});
  }
  if (spec.required || !spec.standard.empty()) return;
  if (cell.chosen < 0) cell.chosen = static_cast<int>(cell.words.size());
  cell.words.push_back({"", words("work.not_known"_w)});
}

void say_now(Cell& cell, const InputSpec& spec, const Making& making) {
  const Words& words = making.around.words;
  const std::string stamp = stamp_text(making.around.zone.stamp(making.around.now));
  if (spec.kind == InputKind::Date) {
    cell.now = words("work.today"_w);
    cell.now_text = stamp.substr(0, 10);
  } else if (spec.kind == InputKind::LocalTime) {
    cell.now = words("work.now"_w);
    cell.now_text = stamp.substr(0, 10) + " " + stamp.substr(11, 5);
  }
}

/// Where two readings are possible, both to choose from.
void say_readings(Cell& cell, const InputSpec& spec, const Problem& problem, const Making& making) {
  const Words& words = making.around.words;
  if (problem.kind != Trouble::Ask) return;
  std::vector<Written> amounts;
  for (std::size_t i = 1; i < problem.values.size(); ++i)
    if (auto amount = parse_written(problem.values[i])) amounts.push_back(std::move(*amount));
  for (const Written& amount : amounts)
    cell.readings.push_back(
        {typeable(amount, amounts, making.around.units, words), show(amount, making.around.units, words)});
  for (std::size_t i = 1; i < problem.values.size() && amounts.empty(); ++i) {
    const auto value = read_value(spec, problem.values[i], {}, making.units.bare(spec));
    if (!value) continue;
    cell.readings.push_back({as_typed(spec, *value, making.around.units, words), value->text});
  }
  if (!cell.readings.empty()) cell.which = words("work.which_meant"_w);
}

/// A refusal of what was typed: the sentence, and what could be meant.
void say_problem(Cell& cell, const InputSpec& spec, const Problem& problem, const Making& making) {
  if (making.input.editing != cell.key) cell.error = making.around.sentence(problem);
  say_readings(cell, spec, problem, making);
}

Cell cell_of(const InputSpec& spec, const std::string& key, std::string label, const Making& making) {
  const Words& words = making.around.words;
  Cell cell;
  cell.spec = &spec;
  cell.key = key;
  cell.label = std::move(label);
  cell.value = form_text(making.input.form, key);
  if (spec.kind == InputKind::Word || spec.kind == InputKind::YesNo) {
    say_choices(cell, spec, cell.value, words);
    return cell;
  }
  cell.hint = hint_of(spec, making);
  if (const Unit* bare = making.units.bare(spec)) {
    // The unit stands beside a number alone; a text with its own unit needs none.
    const bool alone = cell.value.find_first_not_of("0123456789.,-/ ½¼¾⅓⅔") == std::string::npos;
    if (alone) cell.unit = unit_label(*bare, 2, words);
    cell.pad = words("work.pad"_w, {cell.label});
    cell.units = making.units.offered(spec);
  }
  if (spec.kind == InputKind::Number) cell.kind = FieldKind::Decimal;
  if (spec.kind == InputKind::Whole) cell.kind = FieldKind::Integer;
  say_now(cell, spec, making);
  if (const auto problem = making.read.problems.find(key); problem != making.read.problems.end())
    say_problem(cell, spec, problem->second, making);
  if (const auto value = making.read.values.find(key); value != making.read.values.end() && value->second.written) {
    const Written& written = *value->second.written;
    if (!is_at_home(*written.unit, making.around.units))
      cell.in_own_units = show_both(written, making.around.units, words);
  }
  return cell;
}

/// Is another input, or a column of one, called as this column is?
bool is_called_elsewhere(const Calculation& calculation, const InputSpec& row, const InputSpec& column) {
  return std::any_of(calculation.inputs.begin(), calculation.inputs.end(), [&](const InputSpec& other) {
    if (&other == &row) return false;
    return other.help.key == column.help.key ||
           std::any_of(other.columns.begin(), other.columns.end(),
                       [&](const InputSpec& one) { return one.help.key == column.help.key; });
  });
}

/// Each field has a name of its own: with its row's number, and with what the row is where rows of two kinds have it.
WorkPageView::Group group_of(const Calculation& calculation, const InputSpec& spec, const Making& making) {
  const Words& words = making.around.words;
  WorkPageView::Group group;
  group.spec = &spec;
  group.label = sentence_case(words(spec.help));
  // 'bed: length; width; how many' names its columns; they have fields of their own here.
  if (spec.kind == InputKind::Row) group.label = group.label.substr(0, group.label.find(':'));
  const std::size_t count = item_count(making.input.form, spec);
  for (std::size_t i = 0; i < count; ++i) {
    WorkPageView::Item item;
    const std::string number = spec.many && count > 1 ? " " + std::to_string(i + 1) : std::string();
    if (spec.kind != InputKind::Row)
      item.cells.push_back(cell_of(spec, cell_key(spec, i), group.label + number, making));
    for (const InputSpec& column : spec.columns) {
      const std::string own(words(column.help));
      const std::string label =
          is_called_elsewhere(calculation, spec, column) ? group.label + ": " + own : sentence_case(own);
      item.cells.push_back(cell_of(column, cell_key(spec, i, &column), label + number, making));
    }
    group.items.push_back(std::move(item));
  }
  if (spec.many) {
    group.add = words("work.add"_w, {words(spec.help).substr(0, words(spec.help).find(':'))});
    if (count > 1) group.remove = words("work.remove"_w, {group.label});
  }
  return group;
}

std::string missing_text(const std::vector<const InputSpec*>& missing, const Words& words) {
  std::vector<std::string> names;
  for (const InputSpec* spec : missing) {
    const std::string help = words(spec->help);
    const std::string name = spec->kind == InputKind::Row ? help.substr(0, help.find(':')) : help;
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return words("work.still_needed"_w, {join(names, ", ")});
}

/// A refusal of the calculation stands beside the input that it names.
void place_problem(WorkPageView& view, const Problem& problem, const Making& making) {
  const Surroundings& around = making.around;
  const std::string sentence = around.sentence(problem);
  if (making.read.is_blank) {  // Nothing typed yet: what is wanted is no fault.
    view.missing = sentence;
    return;
  }
  for (WorkPageView::Group& group : view.groups)
    if (group.spec->name == problem.place && group.items.size() == 1 && group.items.front().cells.size() == 1) {
      Cell& cell = group.items.front().cells.front();
      if (cell.words.empty() && !cell.value.empty()) {
        cell.error = sentence;
        say_readings(cell, *group.spec, problem, making);
        view.missing = around.words("work.no_answer"_w);
        return;
      }
    }
  view.problem = sentence;
}

Result<void> say_answer(WorkPageView& view, const Calculation& calculation, const Making& making) {
  const Surroundings& around = making.around;
  const FormRead& read = making.read;
  if (!read.missing.empty()) {
    view.missing = missing_text(read.missing, around.words);
    return {};
  }
  if (!read.problems.empty()) {
    view.missing = around.words("work.no_answer"_w);
    return {};
  }
  const auto inputs = read_inputs(calculation, read.typed, {});
  if (!inputs) {
    place_problem(view, inputs.error(), making);
    return {};
  }
  const auto answer = calculation.run(*inputs);
  if (!answer) {
    place_problem(view, answer.error(), making);
    return {};
  }
  view.answer = shown_answer(calculation, *answer, around);
  TRY_ASSIGN(view.uses, work_uses(around, calculation, *inputs, *answer));
  return {};
}

}  // namespace

DraftFields draft_fields(const WorkPageInput& input) {
  DraftFields typed;
  for (const auto& [key, value] : input.form) {
    const auto known = input.known.find(key);
    if (!value.empty() && (known == input.known.end() || known->second != value)) typed.emplace(key, value);
  }
  return typed;
}
void from_draft(WorkPageInput& input, const DraftFields& fields) {
  for (const auto& [key, value] : fields) input.form[key] = value;
}

Result<WorkPageView> work_page_view(const Surroundings& around, const WorkPageInput& input) {
  const Calculation* calculation = find_calculation(around.word);
  if (!calculation) return refuse(Trouble::NotFound, "work.none_so_called"_w, {around.word});
  const Words& words = around.words;
  WorkPageView view;
  view.name = calculation->name;
  view.words = words;
  view.units = around.units;
  view.title = words("work.title"_w);
  view.second = words(calculation->title);
  view.given_head = words("work.given"_w);
  view.answer_head = words("work.answer"_w);
  view.example = words("work.show_example"_w);
  view.start_over = words("work.start_over"_w);
  view.close = words("work.close"_w);
  TRY_ASSIGN(view.known, known_inputs(around, *calculation));
  view.example_form = form_from_line(*calculation, calculation->example, around.units, words);
  view.list = work_list(words, {});

  const CellUnits units(*calculation, around.units);
  const FormRead read = read_form(*calculation, units, input.form, around);
  const Making making{around, input, units, read};
  for (const InputSpec& spec : calculation->inputs) view.groups.push_back(group_of(*calculation, spec, making));
  TRY(say_answer(view, *calculation, making));
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

}  // namespace steep
