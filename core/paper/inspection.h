#pragma once
/// The inspection report: every spray of one farm in a span of days, with everything an inspector asks for.
///
/// One self-contained HTML page that prints. Nothing is computed here (book/report_data.h does that)
/// and no verdict is given: waits stand with their rule, doubtful entries are marked '?', struck lines
/// stay readable with their reason, and the foot says how to compare the record with any other copy.

#include "book/report_data.h"
#include "host/platform.h"
#include "quantity/units_shown.h"

namespace steep {

File inspection_page(const ReportData& data, const Words& words, const UnitsShown& units);

}  // namespace steep
