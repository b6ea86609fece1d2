#pragma once
/// All beds of the farm: on the phone a list by block, on the desktop map, table and the chosen bed.

#include <string>
#include <vector>

#include "screens/bed_page.h"
#include "screens/page.h"
#include "screens/strip_of_bed.h"

namespace steep {

enum class BedFilter { All, Due, Late, Hold };

struct BedRow {
  StripOfBed strip;
  std::string block, crop, size, last_tea, with_brew, next_due, hold_until;
  Icon hold_sign = Icon::None;
  std::int64_t due_sort = 0, last_sort = 0, hold_sort = 0;
  bool operator==(const BedRow&) const = default;
};

struct BedsView {
  std::string title, second;
  std::vector<std::string> filters;  ///< 'All 44', 'Due 3', …
  struct BlockShown {
    std::string name, note, zero_end;
    bool covered = false;
    std::size_t first = 0, count = 0;  ///< Rows of `all`.
    bool operator==(const BlockShown&) const = default;
  };
  std::vector<BlockShown> blocks;
  std::vector<BedRow> all;         ///< In walking order.
  std::vector<std::size_t> shown;  ///< Rows that filter and search leave, sorted.
  std::string search_label, nothing_found, no_beds, no_beds_why, add_block;
  std::vector<std::string> heads;  ///< Of the table.
  std::string key_head;            ///< 'How to read a bed'
  struct KeyLine {
    std::string name, detail;
    bool operator==(const KeyLine&) const = default;
  };
  std::vector<KeyLine> key;           ///< Fill, flag, tape at one side, tape at both, cut line, question.
  std::optional<BedPageView> chosen;  ///< Detail panel of the desktop.
  Moment good_until;
  bool operator==(const BedsView&) const = default;
};

struct BedsInput : PageInput {
  BedFilter filter = BedFilter::All;
  std::string search;
  int sorted_by = 5;  ///< Column of the table.
  bool sorted_down = false;
  Id chosen;
  BedPageInput bed;
  bool wide = false;  ///< The table is shown: its rows want volumes.
  float zoom = 1, shift_x = 0, shift_y = 0;
  bool operator==(const BedsInput&) const = default;
};

Result<BedsView> beds_view(const Surroundings& around, const BedsInput& input);
std::optional<Ask> draw_beds(const BedsView& view, BedsInput& input, const Furniture& furniture);

}  // namespace steep
