#pragma once
/// Tables for other programs, by RFC 4180: comma, CRLF, quotes doubled; UTF-8 without a mark.

#include <string>

#include "book/tables.h"
#include "host/platform.h"

namespace steep {

/// One value as it stands in a line. Text that a spreadsheet would run as a formula (= + - @ tab CR at its
/// start) gets an apostrophe before it; numbers, dates and ids stay as they are.
std::string csv_value(std::string_view text, CellKind kind);
/// Header line and all rows. A value not taken is 'not taken' in English in every language, so that
/// programs can tell it from an empty one.
std::string csv_text(const Table& table);
/// 'beds.csv' of a kind of the book.
Result<File> csv_file(const Book& book, std::string_view kind, const TableOptions& options = {});

}  // namespace steep
