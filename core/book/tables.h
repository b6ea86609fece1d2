#pragma once
/// Rows of any kind as texts: `list KIND`, CSV, the raw view of a record.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/zone.h"
#include "book/book.h"

namespace steep {

/// The unit of an SI column of which every row may have another: kilograms, cubic meters, counts.
inline constexpr std::string_view kEachItsUnit = "each its own";

/// How a column is to be treated where texts and numbers differ (CSV quoting, alignment).
enum class CellKind { Text, Number, Date, Time, Id };

struct TableColumn {
  std::string name;  ///< Stable: 'volume', 'volume_si' (with `unit`), 'what.from' where short names collide.
  CellKind kind = CellKind::Text;
  std::string unit;   ///< Of an SI column: 'm3', 'm', 'K' …; kEachItsUnit where it stands in the column beside it.
  std::string field;  ///< Key in kinds.h; empty for the common columns.
};
/// What a cell is beside its text.
enum class CellState { Value, Empty, NotTaken };
struct TableCell {
  std::string text;
  CellState state = CellState::Empty;
};
struct TableRow {
  Id record;
  std::vector<TableCell> cells;
  bool struck = false, differs = false;
};
struct Table {
  std::string kind;
  std::vector<TableColumn> columns;
  std::vector<TableRow> rows;
};

struct TableOptions {
  std::optional<Id> farm;        ///< Only records of this farm (and the house).
  std::optional<Date> from, to;  ///< By the record's own time (finish, at, start), else when it was made.
  bool struck = true;            ///< Struck records too, with their reason.
  bool si_columns = true;        ///< Beside each quantity its SI value.
  bool names = true;             ///< References as names and codes beside the ids.
};
/// Trouble::BadInput "table.days" when the first day lies after the last: nothing could be between them.
Result<void> days_in_order(std::optional<Date> from, std::optional<Date> to);
/// Records of this kind are of a time: doses are, beds are not.
bool is_of_a_time(std::string_view kind);
/// Columns: id, code (of kinds with codes), the fields, made, made_by, copy, struck, differs; of doses also what
/// dose_columns.h adds. Times are
/// shown in the farm's zone with offset.
/// Trouble::BadInput "table.no-kind", "table.days".
Result<Table> table_of(const Book& book, std::string_view kind, const TableOptions& options = {});
/// What people call the record: 'N7', 'Brew 31' as (kind, '31'), 'Ana Leland'. Empty when it has no name. A bed whose
/// name another block of the farm has too is 'North B1'.
std::string record_name(const Book& book, const Id& record);

}  // namespace steep
