#include "screens/work_form.h"

#include <algorithm>

#include "base/text.h"
#include "book/work_typed.h"
#include "quantity/at_home.h"
#include "quantity/unit.h"
#include "screens/form_text.h"

namespace steep {
namespace {

std::string count_key(const InputSpec& spec) { return "n:" + std::string(spec.name); }

void set_count(DraftFields& form, const InputSpec& spec, std::size_t count) {
  form[count_key(spec)] = std::to_string(count);
}

/// All cells of one item: the columns of a row, else the input itself.
std::vector<const InputSpec*> cells_of(const InputSpec& spec) {
  std::vector<const InputSpec*> cells;
  if (spec.kind != InputKind::Row) return {&spec};
  for (const InputSpec& column : spec.columns) cells.push_back(&column);
  return cells;
}

std::string key_of_cell(const InputSpec& spec, std::size_t item, const InputSpec* cell) {
  return cell_key(spec, item, cell == &spec ? nullptr : cell);
}

Result<Value> read_cell(const InputSpec& cell, std::string_view typed, const Unit* bare, const Surroundings& around) {
  return read_as_typed(cell, typed, {around.units.mark, around.units.gallons}, bare, around.zone, around.now);
}

}  // namespace

std::string cell_key(const InputSpec& spec, std::size_t item, const InputSpec* column) {
  std::string key(spec.name);
  if (spec.many) key += "." + std::to_string(item);
  if (column) key += "." + std::string(column->name);
  return key;
}

std::size_t item_count(const DraftFields& form, const InputSpec& spec) {
  const auto count = parse_int(form_text(form, count_key(spec)));
  return spec.many && count && *count > 1 ? static_cast<std::size_t>(*count) : 1;
}

void add_item(DraftFields& form, const InputSpec& spec) { set_count(form, spec, item_count(form, spec) + 1); }

void remove_item(DraftFields& form, const InputSpec& spec, std::size_t item) {
  const std::size_t count = item_count(form, spec);
  for (const InputSpec* cell : cells_of(spec)) {
    for (std::size_t i = item; i + 1 < count; ++i)
      form[key_of_cell(spec, i, cell)] = form_text(form, key_of_cell(spec, i + 1, cell));
    form.erase(key_of_cell(spec, count - 1, cell));
  }
  set_count(form, spec, std::max<std::size_t>(1, count - 1));
}

CellUnits::CellUnits(const Calculation& calculation, const UnitsShown& units) : units_(units) {
  for (const Typed& typed : read_command_line(calculation.example)) {
    for (const InputSpec& spec : calculation.inputs) {
      if (spec.name != typed.name) continue;
      const auto value = read_value(spec, typed.text, {});
      if (!value) continue;
      if (spec.kind != InputKind::Row) examples_.emplace(&spec, *value);
      for (std::size_t i = 0; i < value->columns.size(); ++i)
        if (value->columns[i]) examples_.emplace(&spec.columns[i], *value->columns[i]);
    }
  }
}

const Value* CellUnits::example(const InputSpec& cell) const {
  const auto found = examples_.find(&cell);
  return found == examples_.end() ? nullptr : &found->second;
}

const Unit* CellUnits::bare(const InputSpec& cell) const {
  if (cell.kind != InputKind::Quantity || cell.dimension == Dimension::Number) return nullptr;
  std::optional<Value> standard;
  const Value* value = example(cell);
  if (!value && !cell.standard.empty()) {
    if (auto read = read_value(cell, cell.standard, {})) standard = std::move(*read);
    if (standard) value = &*standard;
  }
  if (value && value->written && is_at_home(*value->written->unit, units_)) return value->written->unit;
  // A standard of nothing ('0 psi') says nothing about the size.
  if (value && value->number != 0) return &suited_unit(value->dimension(), value->number, units_);
  const auto usual = units_to_offer(cell);
  if (usual.empty()) return nullptr;
  return usual[units_.system == System::Metric && usual.size() > 1 ? 1 : 0];
}

std::vector<const Unit*> CellUnits::offered(const InputSpec& cell) const {
  const Unit* first = bare(cell);
  if (!first) return {};
  std::vector<const Unit*> all{first};
  const auto add = [&](const Unit* one) {
    if (std::find(all.begin(), all.end(), one) == all.end() && all.size() < 4) all.push_back(one);
  };
  if (const Value* value = example(cell); value && value->written) add(value->written->unit);
  for (const Unit* one : units_to_offer(cell)) add(one);
  if (cell.other != Dimension::Number)
    for (const Unit* one : usual_units(cell.other)) add(one);
  return all;
}

std::string as_typed(const InputSpec& cell, const Value& value, const UnitsShown& units, const Words& words) {
  std::string text = value.text;
  if (value.written)
    text = show(*value.written, units, words);
  else if (cell.kind == InputKind::Number && value.text.find('/') == std::string::npos)
    text = show_decimal(value.text, units);
  const auto reads_same = [&](const std::string& typed) {
    const auto again = read_value(cell, typed, {units.mark, units.gallons});
    return again && (value.written || cell.kind == InputKind::Number ? again->number == value.number
                                                                     : again->text == value.text);
  };
  if (reads_same(text)) return text;
  // '123,262' could be thousands: one more zero says that it is not.
  const std::size_t end = std::min(text.find(' '), text.size());
  if (text.find_first_of(".,") < end) {
    text.insert(end, "0");
    if (reads_same(text)) return text;
  }
  return value.text;
}

FormRead read_form(const Calculation& calculation, const CellUnits& units, const DraftFields& form,
                   const Surroundings& around) {
  FormRead read;
  for (const InputSpec& spec : calculation.inputs) {
    bool given = false;
    for (std::size_t item = 0; item < item_count(form, spec); ++item) {
      const auto cells = cells_of(spec);
      std::string joined;
      bool blank = true, whole = true;
      std::vector<const InputSpec*> missing;
      for (const InputSpec* cell : cells) {
        const std::string key = key_of_cell(spec, item, cell);
        const std::string typed(trim(form_text(form, key)));
        if (cell != cells.front()) joined += "; ";
        if (typed.empty()) {
          if (cell->required && cell->standard.empty()) missing.push_back(cell);
          continue;
        }
        blank = false;
        auto value = read_cell(*cell, typed, units.bare(*cell), around);
        if (!value) {
          whole = false;
          read.problems.emplace(key, std::move(value.error()));
          continue;
        }
        std::string normal = value->text;
        if (spec.kind == InputKind::Row) std::replace(normal.begin(), normal.end(), ';', ',');
        joined += normal;
        read.values.emplace(key, std::move(*value));
      }
      if (blank) continue;
      given = true;
      read.is_blank = false;
      // A row that was begun wants its other cells.
      if (spec.kind == InputKind::Row)
        for (const InputSpec* cell : missing) {
          read.missing.push_back(cell);
          whole = false;
        }
      if (whole) read.typed.push_back({std::string(spec.name), std::move(joined)});
    }
    if (!given && spec.required && spec.standard.empty()) read.missing.push_back(&spec);
  }
  return read;
}

void put_input(DraftFields& form, const InputSpec& spec, std::size_t item, std::string_view normal,
               const UnitsShown& units, const Words& words) {
  const auto value = read_value(spec, normal, {});
  if (!value) return;
  if (spec.many && item_count(form, spec) <= item) set_count(form, spec, item + 1);
  if (spec.kind != InputKind::Row) {
    form[cell_key(spec, item)] = as_typed(spec, *value, units, words);
    return;
  }
  for (std::size_t i = 0; i < spec.columns.size(); ++i) {
    const InputSpec& column = spec.columns[i];
    if (value->columns[i]) form[cell_key(spec, item, &column)] = as_typed(column, *value->columns[i], units, words);
  }
}

DraftFields form_from_line(const Calculation& calculation, std::string_view line, const UnitsShown& units,
                           const Words& words) {
  DraftFields form;
  std::map<std::string, std::size_t> seen;
  for (const Typed& typed : read_command_line(line))
    for (const InputSpec& spec : calculation.inputs)
      if (spec.name == typed.name) put_input(form, spec, seen[typed.name]++, typed.text, units, words);
  return form;
}

}  // namespace steep
