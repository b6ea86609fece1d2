#pragma once
/// Tables on the command line: as JSON, or as columns of text.

#include <nlohmann/json.hpp>

#include "base/words.h"
#include "book/tables.h"
#include "native/cli.h"

namespace steep {

/// What --farm, --from and --to ask for; every verb that prints rows goes by them. Trouble::BadInput "table.days".
Result<TableOptions> rows_asked(Cli& cli, const Book& book, const std::string& from, const std::string& to);
/// An array of one object a row; numbers as numbers, empty as null, 'not taken' in English.
nlohmann::ordered_json table_json(const Table& table);
/// For people, in --units and --language: columns that hold something, as wide as their longest text. Ids of the records
/// stand in front where asked for, all others are left to JSON and CSV.
void print_table(Cli& cli, const Book& book, const Table& table, bool ids);

}  // namespace steep
