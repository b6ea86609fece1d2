#include "paper/csv.h"

#include <string_view>

namespace steep {
namespace {

constexpr std::string_view kNotTaken = "not taken";

template <class Cells, class Text>
void append_line(std::string& out, const Cells& cells, Text text) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) out += ',';
    out += text(i);
  }
  out += "\r\n";
}

}  // namespace

std::string csv_value(std::string_view text, CellKind kind) {
  std::string guarded;
  if (kind == CellKind::Text && !text.empty() &&
      std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos) {
    guarded = "'" + std::string(text);
    text = guarded;
  }
  if (text.find_first_of("\",\r\n") == std::string_view::npos) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted += '"';
}

std::string csv_text(const Table& table) {
  std::string out;
  append_line(out, table.columns, [&](std::size_t i) {
    const TableColumn& column = table.columns[i];
    return csv_value(
        column.unit.empty() || column.unit == kEachItsUnit ? column.name : column.name + " (" + column.unit + ")",
        CellKind::Id);
  });
  for (const TableRow& row : table.rows)
    append_line(out, table.columns, [&](std::size_t i) {
      if (i >= row.cells.size()) return std::string();
      const TableCell& cell = row.cells[i];
      return cell.state == CellState::NotTaken ? std::string(kNotTaken) : csv_value(cell.text, table.columns[i].kind);
    });
  return out;
}

Result<File> csv_file(const Book& book, std::string_view kind, const TableOptions& options) {
  const Snapshot snapshot = book.snapshot();
  TRY_ASSIGN(const Table& table, table_of(book, kind, options));
  return File{std::string(kind) + ".csv", csv_text(table), "text/csv;charset=utf-8;header=present"};
}

}  // namespace steep
