#include "native/cli_table.h"

#include <algorithm>
#include <iostream>

#include "base/text.h"

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

void print_table(const Table& table, const Words& words) {
  const auto said = [&](const TableCell& cell) {
    return cell.state == CellState::NotTaken ? words("paper.not_taken"_w) : printable(cell.text);
  };
  std::vector<std::size_t> shown, width(table.columns.size());
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const TableColumn& column = table.columns[i];
    if (column.kind == CellKind::Id || !column.unit.empty()) continue;
    bool any = false;
    width[i] = code_points(column.name);
    for (const TableRow& row : table.rows)
      if (i < row.cells.size() && row.cells[i].state != CellState::Empty) {
        any = true;
        width[i] = std::max(width[i], code_points(said(row.cells[i])));
      }
    if (any) shown.push_back(i);
  }
  const auto cell = [&](std::string_view text, std::size_t i) {
    std::cout << text << std::string(width[i] + 2 - std::min(width[i] + 2, code_points(text)), ' ');
  };
  for (const std::size_t i : shown) cell(table.columns[i].name, i);
  std::cout << "\n";
  for (const TableRow& row : table.rows) {
    for (const std::size_t i : shown) cell(said(row.cells[i]), i);
    std::cout << "\n";
  }
}

}  // namespace steep
