#include "native/cli_table.h"

#include <algorithm>
#include <iostream>

#include "base/text.h"
#include "book/kinds.h"
#include "book/places.h"
#include "book/told.h"
#include "quantity/time_shown.h"
#include "trade/how_known_word.h"

namespace steep {

Result<TableOptions> rows_asked(Cli& cli, const Book& book, const std::string& from, const std::string& to) {
  TableOptions options;
  if (!cli.farm_name.empty()) {
    TRY_ASSIGN(options.farm, cli.farm(book));
  }
  const Date today = cli.spell_as(book).today;
  if (!from.empty()) {
    TRY_ASSIGN(options.from, read_date(from, today));
  }
  if (!to.empty()) {
    TRY_ASSIGN(options.to, read_date(to, today));
  }
  TRY(days_in_order(options.from, options.to));
  return options;
}

nlohmann::ordered_json table_json(const Table& table) {
  auto rows = nlohmann::ordered_json::array();
  for (const TableRow& row : table.rows) {
    nlohmann::ordered_json object;
    for (std::size_t i = 0; i < table.columns.size() && i < row.cells.size(); ++i) {
      const TableCell& cell = row.cells[i];
      auto& value = object[table.columns[i].name];
      if (cell.state == CellState::Empty)
        value = nullptr;
      else if (cell.state == CellState::NotTaken)
        value = "not taken";
      else if (const auto number = parse_decimal(cell.text); number && table.columns[i].kind == CellKind::Number)
        value = *number;
      else
        value = cell.text;
    }
    rows.push_back(std::move(object));
  }
  return rows;
}

namespace {

/// 'the code', 'el código': names of fields stand in sentences; over a column without their article.
std::string without_article(std::string name) {
  for (const std::string_view article : {"the ", "el ", "la ", "los ", "las "})
    if (name.starts_with(article)) return name.substr(article.size());
  return name;
}

/// Texts of a table as a person reads them.
class TableText {
 public:
  TableText(Cli& cli, const Book& book, const Table& table)
      : book_(book), table_(table), words_(cli.words()), units_(cli.spell_as(book).units) {}

  std::string heading(const TableColumn& column) const {
    if (column.field.empty()) return words_.stored("column." + column.name, column.name);
    const std::string name = without_article(field_name(table_.kind, column.field, words_));
    // Named with its group in CSV: the name alone is not enough here either.
    if (column.name.find('.') == std::string::npos) return name;
    const std::string group = column.field.substr(0, column.field.find('.'));
    return without_article(group_name(table_.kind, group, words_)) + ": " + name;
  }

  std::string cell(const TableRow& row, std::size_t i) const {
    const TableCell& cell = row.cells[i];
    const TableColumn& column = table_.columns[i];
    if (cell.state == CellState::NotTaken) return words_("paper.not_taken"_w);
    if (cell.state == CellState::Empty) return {};
    if (column.field.empty()) return common(row, column, cell.text);
    const KindDef* kind = find_kind(table_.kind);
    const FieldDef* field = kind ? find_field(*kind, column.field) : nullptr;
    return value(column.field, field, cell.text);
  }

 private:
  /// Columns that every kind has, those of a history, and what doses have beside their fields.
  std::string common(const TableRow& row, const TableColumn& column, const std::string& text) const {
    if (column.kind == CellKind::Time) return time(text);
    if (column.kind == CellKind::Date) return date(text);
    if (column.name == "struck" || column.name == "why") return text_told("struck", text, words_);
    if (column.name == "kind") return words_.stored("kind." + text, text);
    if (column.name == "state" || column.name == "shown_from") return words_.stored("column.word." + text, text);
    if (column.name == "differs") return groups(text);
    if (column.unit == "m3") return volume(row, text);
    if (column.name != "field" && column.name != "before" && column.name != "now") return printable(text);
    return of_history(row, column.name, text);
  }

  /// '~' while it is only rate × area, as everywhere.
  std::string volume(const TableRow& row, const std::string& si) const {
    const auto cubic_meters = parse_decimal(si);
    if (!cubic_meters) return si;
    const bool estimate = of_row(row, "shown_from") == how_known_word(HowKnown::Rate);
    return (estimate ? "~" : "") + show(Volume::from_si(*cubic_meters), units_, words_);
  }

  /// Of a history each row is of another kind and field.
  std::string of_history(const TableRow& row, const std::string& column, const std::string& text) const {
    const std::string kind_name = of_row(row, "kind"), key = of_row(row, "field");
    if (column == "field") return without_article(field_name(kind_name, key, words_));
    const KindDef* kind = find_kind(kind_name);
    const FieldDef* field = kind ? find_field(*kind, key) : nullptr;
    std::vector<std::string> values;
    for (std::size_t at = 0; at <= text.size();) {
      const std::size_t end = std::min(text.find(" | ", at), text.size());
      const std::string one = text.substr(at, end - at);
      values.push_back(one == "not taken" ? words_("paper.not_taken"_w) : value(key, field, one));
      at = end + 3;
    }
    return join(values, " | ");
  }

  std::string of_row(const TableRow& row, std::string_view column) const {
    for (std::size_t i = 0; i < table_.columns.size(); ++i)
      if (table_.columns[i].name == column) return row.cells[i].text;
    return {};
  }

  std::string groups(const std::string& text) const {
    std::vector<std::string> names;
    for (const std::string_view group : split(text, ' ')) names.push_back(group_name(table_.kind, group, words_));
    return join(names, ", ");
  }

  std::string value(std::string_view key, const FieldDef* field, const std::string& text) const {
    if (!field || field->types == "t") return text_told(key, text, words_);
    const auto takes = [&](char letter) { return field->types.find(letter) != std::string_view::npos; };
    if (takes('i')) return time(text);
    if (takes('d')) return date(text);
    if (takes('b')) return words_(text == "yes" ? "paper.yes"_w : "paper.no"_w);
    if (takes('l')) return items(text);
    if (takes('q'))
      if (const auto written = parse_written(text)) return amount(*written);
    if (takes('n') && parse_decimal(text)) return show_decimal(text, units_);
    if (takes('w')) return stored_word(key, text, words_);
    return printable(text);
  }

  /// A length in inches as beds are spoken of: '100 ft 6 in', but a width of '30 in' as it is.
  std::string amount(const Written& written) const {
    if (written.unit->word == "in" && units_.system == System::Us && as<Length>(written).feet() >= 10)
      return show_feet_inches(as<Length>(written), units_, words_);
    return show_both(written, units_, words_);
  }

  std::string time(const std::string& text) const {
    const auto stamp = parse_stamp(text);
    if (!stamp) return printable(text);
    // By the offset behind it: the table gives it in the farm's zone.
    return show_full_when(Zone().local(Moment{stamp->at.ms + stamp->offset_minutes * kMinute}), units_.clock, words_);
  }
  std::string date(const std::string& text) const {
    const auto day = parse_date(text);
    return day ? show_full_day(*day, words_) : printable(text);
  }

  /// Items of a list; one that begins with an id is told by that record's kind and name.
  std::string items(const std::string& text) const {
    std::vector<std::string> told;
    for (const std::string_view item : split(text, ',')) {
      const std::string_view one = trim(item), first = one.substr(0, one.find(' '));
      const auto id = Id::parse(first);
      const std::string kind = id ? book_.kind_of(*id) : std::string();
      told.push_back(kind.empty()
                         ? printable(one)
                         : kind_and_name(kind, record_name(book_, *id), words_) + printable(one.substr(first.size())));
    }
    return join(told, ", ");
  }

  const Book& book_;
  const Table& table_;
  Words words_;
  UnitsShown units_;
};

}  // namespace

void print_table(Cli& cli, const Book& book, const Table& table, bool ids) {
  if (table.rows.empty()) {
    std::cerr << cli.words()("cli.list.none"_w) << "\n";
    return;
  }
  const TableText text(cli, book, table);
  struct Column {
    std::size_t width = 0;
    std::vector<std::string> lines;
  };
  std::vector<Column> columns;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const TableColumn& column = table.columns[i];
    const bool is_id = column.kind == CellKind::Id && !(ids && i == 0);
    if (is_id || (!column.unit.empty() && !column.field.empty())) continue;  // The SI twin of what was typed.
    Column made;
    made.lines.push_back(text.heading(column));
    bool any = false;
    for (const TableRow& row : table.rows) {
      const bool here = i < row.cells.size() && row.cells[i].state != CellState::Empty;
      any = any || here;
      made.lines.push_back(here ? text.cell(row, i) : std::string());
    }
    for (const std::string& line : made.lines) made.width = std::max(made.width, code_points(line));
    if (any) columns.push_back(std::move(made));
  }
  for (std::size_t line = 0; line <= table.rows.size(); ++line) {
    for (const Column& column : columns)
      std::cout << column.lines[line] << std::string(column.width + 2 - code_points(column.lines[line]), ' ');
    std::cout << "\n";
  }
}

}  // namespace steep
