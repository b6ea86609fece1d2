/// list, check.

#include <iostream>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "book/tables.h"
#include "native/cli.h"
#include "paper/csv.h"

namespace steep {
namespace {

struct ListWords {
  std::string kind, from, to;
  bool csv = false;
};

nlohmann::ordered_json as_json(const Table& table) {
  auto rows = nlohmann::ordered_json::array();
  for (const TableRow& row : table.rows) {
    nlohmann::ordered_json object;
    for (std::size_t i = 0; i < table.columns.size() && i < row.cells.size(); ++i) {
      const TableCell& cell = row.cells[i];
      auto& value = object[table.columns[i].name];
      if (cell.state == CellState::Empty) value = nullptr;
      else if (cell.state == CellState::NotTaken) value = "not taken";
      else if (const auto number = parse_decimal(cell.text); number && table.columns[i].kind == CellKind::Number) value = *number;
      else value = cell.text;
    }
    rows.push_back(std::move(object));
  }
  return rows;
}

/// Columns that hold something, as wide as their longest text; ids are left to --json and --csv.
void print(const Table& table, const Words& words) {
  std::vector<std::size_t> shown, width(table.columns.size());
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const TableColumn& column = table.columns[i];
    if (column.kind == CellKind::Id || !column.unit.empty()) continue;
    bool any = false;
    width[i] = code_points(column.name);
    for (const TableRow& row : table.rows)
      if (i < row.cells.size() && row.cells[i].state != CellState::Empty) {
        any = true;
        width[i] = std::max(width[i], code_points(row.cells[i].text));
      }
    if (any) shown.push_back(i);
  }
  const auto cell = [&](std::string_view text, std::size_t i) {
    std::cout << text << std::string(width[i] + 2 - std::min(width[i] + 2, code_points(text)), ' ');
  };
  for (const std::size_t i : shown) cell(table.columns[i].name, i);
  std::cout << "\n";
  for (const TableRow& row : table.rows) {
    for (const std::size_t i : shown)
      cell(row.cells[i].state == CellState::NotTaken ? words("paper.not_taken"_w) : printable(row.cells[i].text), i);
    std::cout << "\n";
  }
}

Result<void> do_list(Cli& cli, const ListWords& words) {
  TRY_ASSIGN(const Book book, cli.open());
  TableOptions options;
  if (!cli.farm_name.empty()) {
    TRY_ASSIGN(options.farm, cli.farm(book));
  }
  const Date today = cli.spell_as(book).today;
  if (!words.from.empty()) {
    TRY_ASSIGN(options.from, read_date(words.from, today));
  }
  if (!words.to.empty()) {
    TRY_ASSIGN(options.to, read_date(words.to, today));
  }
  TRY_ASSIGN(const Table table, table_of(book, words.kind, options));
  if (cli.json) std::cout << as_json(table).dump(1) << "\n";
  else if (words.csv) std::cout << csv_text(table);
  else print(table, cli.words());
  return {};
}

Result<void> do_check(Cli& cli) {
  auto opened = cli.open();
  if (!opened) {
    cli.fail(opened.error(), opened.error().kind == Trouble::Damaged ? kToLookAt : kUnusable);
    return {};
  }
  const Words words = cli.words();
  TRY_ASSIGN(const Book::Health health, opened->check());
  const bool whole = health.broken_chains.empty() && health.sqlite == "ok" && health.tables_match;
  if (!whole) cli.status = std::max(cli.status, kToLookAt);
  if (cli.json) {
    std::cout << nlohmann::ordered_json{{"changes", health.changes},
                                        {"waiting", health.waiting},
                                        {"broken-chains", health.broken_chains},
                                        {"database", health.sqlite},
                                        {"tables-match-journal", health.tables_match},
                                        {"digest", opened->digest_code()}}
                     .dump()
              << "\n";
    return {};
  }
  std::cout << words("cli.check.changes"_w, {std::to_string(health.changes), std::to_string(health.waiting)}) << "\n";
  for (const std::string& chain : health.broken_chains) std::cout << words("cli.check.chain"_w, {chain}) << "\n";
  if (health.sqlite != "ok") std::cout << words("cli.check.database"_w, {health.sqlite}) << "\n";
  if (!health.tables_match) std::cout << words("cli.check.tables"_w) << "\n";
  std::cout << words(whole ? "cli.check.whole"_w : "cli.check.damaged"_w, {opened->digest_code()}) << "\n";
  return {};
}

}  // namespace

void add_list_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand("list", "rows of one kind as a table\n  steepbook list dose --from 2026-05-01 --json");
  auto words = std::make_shared<ListWords>();
  verb->add_option("kind", words->kind, "kind of record: bed, brew, pass, dose, harvest …")->required();
  verb->add_option("--from", words->from, "from this day on");
  verb->add_option("--to", words->to, "up to this day");
  verb->add_flag("--csv", words->csv, "as CSV (RFC 4180)");
  verb->callback([&cli, words] {
    if (auto done = do_list(cli, *words); !done) cli.fail(done.error());
  });
}

void add_check_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand("check", "is the book whole? chains, database, tables against the journal\n  steepbook check");
  verb->callback([&cli] {
    if (auto done = do_check(cli); !done) cli.fail(done.error());
  });
}

}  // namespace steep
