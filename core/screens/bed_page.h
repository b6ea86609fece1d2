#pragma once
/// One bed as its own page and as the detail panel of the desktop: strip, waits, sums, history.

#include <optional>
#include <string>
#include <vector>

#include "look/history.h"
#include "look/hold.h"
#include "screens/page.h"
#include "screens/photos_of_record.h"
#include "screens/strip_of_bed.h"

namespace steep {

/// A wait as its card shows it.
struct HoldShown {
  HoldKind kind = HoldKind::NoHarvest;
  std::string what, until, left, left_words, rule, rule_button;
  Id by_hand;  ///< The record of a hold that a person set, which is released there; nil = the farm's rules.
  bool operator==(const HoldShown&) const = default;
};

struct HistoryShown {
  Id record;
  std::string day, clock, first, second, struck_why, spoken;
  HistorySign sign = HistorySign::Ring;
  Icon icon = Icon::None;
  bool struck = false;
  bool operator==(const HistoryShown&) const = default;
};

struct BedPageView {
  Id bed;
  std::string title, second, crop;
  StripOfBed strip;
  std::vector<HoldShown> holds;
  std::string due_label, due_number, due_unit, due_detail;
  std::string sum_label, sum_number, sum_unit, sum_detail, other_detail;
  std::string question;  ///< 'Same bed, twice? …'; empty = none.
  Id question_first;
  std::vector<HistoryShown> history;
  std::string history_head, no_history, add_text, note_text, filter_text;
  PhotosView photos;
  UnitsShown units;
  Moment good_until;
  bool operator==(const BedPageView&) const = default;
};

struct BedPageInput : PageInput {
  bool teas_only = false;
  bool adding = false;  ///< The sheet 'Add to N5'.
  int adds = -1;        ///< Which form of it: 0 harvest, 1 note, 2 hold.
  std::string amount, text;
  bool hold_harvest = true, hold_entry = false;
  bool operator==(const BedPageInput&) const = default;
};

Result<BedPageView> bed_page_of(const Surroundings& around, const Id& bed, bool teas_only);
Result<BedPageView> bed_page_view(const Surroundings& around, const BedPageInput& input);
std::optional<Ask> draw_bed_page(const BedPageView& view, BedPageInput& input, const Furniture& furniture);

/// The parts that the page and the desktop's panel share.
void draw_bed_holds(Pen& pen, const BedPageView& view, std::optional<Ask>& ask);
void draw_bed_history(Pen& pen, const BedPageView& view, bool with_thread, std::optional<Ask>& ask);
std::optional<Ask> draw_add_sheet(const BedPageView& view, BedPageInput& input);

}  // namespace steep
