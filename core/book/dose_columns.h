#pragma once
/// What the table of doses says beyond their fields, as the report does. Only core/book includes this.

#include "book/tables.h"

namespace steep {

/// Behind the other columns: pass_date, farm, crops on the stretch, the volume shown with its tea and how it is known.
/// Empty for doses that are struck, where the day or the volume stands for nothing.
Result<void> add_dose_columns(const Book& book, Table& table);

}  // namespace steep
