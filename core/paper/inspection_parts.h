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

void holds_part(Html& html, const PaperSheet& sheet);  ///< Holds that a person set by hand, and their releases.
void loads_of_pass(Html& html, const PaperSheet& sheet, const ReportPass& pass);  ///< A line for each tankful.

/// 'Kelp, lot K-19, reg. no. 12-34, 3 fl oz'.
std::string product_text(const PaperSheet& sheet, const ReportProduct& product);
/// '0.3 gal, Bed N7': how much was poured out, and where.
std::string poured_text(const PaperSheet& sheet, const ReportPoured& poured);

// ---- Tables ----
/// Opens a table with these heads; `html.close("table")` after the rows. The widths of a class stand in style.cpp.
void table_head(Html& html, const Words& words, std::initializer_list<WordId> heads, std::string_view css = {});
/// A cell of several lines, the first `kept` of which are never wrapped.
constexpr std::size_t kAllKept = static_cast<std::size_t>(-1);
void lines_cell(Html& html, const std::vector<std::string>& lines, std::size_t kept = 0);

}  // namespace steep
