#pragma once
/// The inputs of a calculation as a form: texts as people type them, read by the calculation's own specs.
///
/// Keys: 'temperature'; of what may be given more than once 'catch.0', 'catch.1'; of rows each cell,
/// 'bed.0.length'. 'n:catch' = how many there are. Nothing here knows a single calculation.

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "screens/page.h"
#include "trade/calculation.h"

namespace steep {

std::string cell_key(const InputSpec& spec, std::size_t item, const InputSpec* column = nullptr);
/// How many of a repeated input stand in the form; at least 1.
std::size_t item_count(const DraftFields& form, const InputSpec& spec);
void add_item(DraftFields& form, const InputSpec& spec);
void remove_item(DraftFields& form, const InputSpec& spec, std::size_t item);

/// Which units go with which cell: the size in the calculation's own example decides, in the reader's system.
class CellUnits {
 public:
  CellUnits(const Calculation& calculation, const UnitsShown& units);
  /// The unit of a bare number in this cell; nullptr = the cell takes no bare number.
  const Unit* bare(const InputSpec& cell) const;
  /// Those offered on the number pad, the bare one first; empty = no pad.
  std::vector<const Unit*> offered(const InputSpec& cell) const;
  /// The example's value, to show how it is written; nullptr = the example leaves it out.
  const Value* example(const InputSpec& cell) const;

 private:
  UnitsShown units_;
  std::map<const InputSpec*, Value> examples_;
};

/// A value as this reader would type it, so that it reads as the same again; else its normal form.
std::string as_typed(const InputSpec& cell, const Value& value, const UnitsShown& units, const Words& words);

/// What a form says.
struct FormRead {
  std::vector<Typed> typed;                 ///< In normal form, rows joined.
  std::map<std::string, Value> values;      ///< Of each cell that reads.
  std::map<std::string, Problem> problems;  ///< Of each cell that does not.
  std::vector<const InputSpec*> missing;    ///< Needed and empty.
  bool is_blank = true;                     ///< Nothing was typed at all.
};
FormRead read_form(const Calculation& calculation, const CellUnits& units, const DraftFields& form,
                   const Surroundings& around);

/// A line as behind `work NAME` as a form: the calculation's example.
DraftFields form_from_line(const Calculation& calculation, std::string_view line, const UnitsShown& units,
                           const Words& words);
/// Puts one input into a form; `item` of repeated ones. `normal` is in normal form, rows joined by ';'.
void put_input(DraftFields& form, const InputSpec& spec, std::size_t item, std::string_view normal,
               const UnitsShown& units, const Words& words);

}  // namespace steep
