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

// ---- Tables ----
/// Opens a table with these heads; `html.close("table")` after the rows. The widths of a class stand in style.cpp.
void table_head(Html& html, const Words& words, std::initializer_list<WordId> heads, std::string_view css = {});
/// A cell of several lines, the first `kept` of which are never wrapped.
constexpr std::size_t kAllKept = static_cast<std::size_t>(-1);
void lines_cell(Html& html, const std::vector<std::string>& lines, std::size_t kept = 0);

}  // namespace steep
