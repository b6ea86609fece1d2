#pragma once
/// The wide table of each kind: one row a record, with the winner's value of every field.
///
/// Name: 'k_' and the kind with '-' → '_' (k_water_source). Columns: rec, uid, part, made_ms, made_offset,
/// made_by, lane (row of the first change's lane), struck (reason, NULL = not struck), differs (groups with
/// differing heads, space between; NULL = none), not_taken (' key key ', NULL = none), needs_newer; then each
/// field with '.' → '_':
///   t w d h c  TEXT                b  INTEGER 0/1          r  BLOB, the id
///   l          TEXT, items joined by U+001F
///   i          INTEGER ms, and `<field>_offset` in minutes
///   n          TEXT as written, and REAL `<field>_n`
///   q          TEXT as written, and REAL `<field>_si` (kelvin for temperatures, seconds for times)
/// A field that takes several types ("nqw") has TEXT and both REAL columns. A name may be a word of SQL
/// ("order", "to", "table"): quote it.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "book/kinds.h"

namespace steep {

struct WideField {
  const FieldDef* def = nullptr;
  std::string column;  ///< 'what_load'
  int place = 0;       ///< Of the (first) column among the values bound, from 1.
  enum Form { Text, YesNo, Reference, Instant, List } form = Text;
  int number = 0, si = 0;  ///< Places of the REAL columns; 0 = none.
};

struct WideTable {
  const KindDef* kind = nullptr;
  std::string name;
  std::vector<WideField> fields;
  std::string create;    ///< Table and indexes.
  std::string insert;    ///< Of a whole row that is not there yet.
  std::string put;       ///< The same, also in place of one.
  std::string drop_row;  ///< DELETE by rec.
  std::string state;     ///< By rec: is it struck, does it differ.
  int columns = 0;
  /// nullptr when the kind has no such field.
  const WideField* field(std::string_view key) const;
};
/// Places of the fixed columns in `put`.
enum WidePlace {
  WideRec = 1,
  WideUid,
  WidePart,
  WideMadeMs,
  WideMadeOffset,
  WideMadeBy,
  WideLane,
  WideStruck,
  WideDiffers,
  WideNotTaken,
  WideNeedsNewer,
  WideFirstField
};

std::span<const WideTable> wide_tables();
const WideTable* wide_table(std::string_view kind);
std::string wide_name(std::string_view kind);
std::string wide_column(std::string_view key);

}  // namespace steep
