#pragma once
/// What leaves the book: the inspection report of a farm and a span of days, and tables as CSV.

#include <string>
#include <vector>

#include "screens/page.h"

namespace steep {

struct ReportsView {
  std::string title, second, farm_label, from_label, to_label, from_hint, to_hint, from_error, to_error;
  std::vector<std::string> farms;
  std::vector<Id> farm_ids;
  int farm = 0;
  Date from, to;
  std::vector<std::pair<std::string, std::string>> shows;  ///< 'Passes' '9'
  std::string sums, other_sums, open, no_verdict;
  std::string print, save, why_not, tables_head;
  std::vector<std::pair<std::string, std::string>> tables;  ///< Kind and its words.
  bool can_print = false, can_share = false, ready = false;
  UnitsShown units;
  Language language = Language::English;
  bool operator==(const ReportsView&) const = default;
};

struct ReportsInput : PageInput {
  int farm = -1;         ///< −1 = the one shown.
  std::string from, to;  ///< As typed; empty = 1 January, today.
  bool operator==(const ReportsInput&) const = default;
};

Result<ReportsView> reports_view(const Surroundings& around, const ReportsInput& input);
std::optional<Ask> draw_reports(const ReportsView& view, ReportsInput& input, const Furniture& furniture);

}  // namespace steep
