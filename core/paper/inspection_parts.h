#pragma once
/// The sections of the inspection report, each written by one function.

#include "paper/html.h"
#include "paper/paper_sheet.h"

namespace steep {

void passes_part(Html& html, const PaperSheet& sheet);  ///< One row a pass, newest first.
void beds_part(Html& html, const PaperSheet& sheet);    ///< Each pass's beds: own finish, volume and how it was got.
void brews_part(Html& html, const PaperSheet& sheet);   ///< Brews with lots, readings, volume balance.
void washes_part(Html& html, const PaperSheet& sheet);
void harvests_part(Html& html, const PaperSheet& sheet);
void struck_part(Html& html, const PaperSheet& sheet);  ///< Struck entries, readable, with reason.

/// Opens a table with these heads; `html.close("table")` after the rows.
void table_head(Html& html, const Words& words, std::initializer_list<WordId> heads);

}  // namespace steep
