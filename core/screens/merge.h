#pragma once
/// What waits for a person after files came in (12): to settle, questions, to look at, what is new, the files themselves.

#include <string>
#include <vector>

#include "screens/page.h"
#include "screens/settle.h"

namespace steep {

struct MergeView {
  std::string title, second, footnote, nothing, nothing_why, copies_agree, rest_waits, take;
  struct Row {
    Icon sign = Icon::Differs;
    std::string first, second;
    PagePlace leads_to;    ///< No page: nothing to open.
    int section = 0;       ///< 0 to settle, 1 question, 2 to look at, 3 waiting, 4 new.
    bool settles = false;  ///< Facts that differ: the desktop shows them beside the list.
    bool operator==(const Row&) const = default;
  };
  std::vector<Row> rows;
  std::vector<std::string> sections;                        ///< Heads, by section.
  std::vector<std::pair<std::string, std::string>> counts;  ///< Number and words: settle, question, look or new.
  std::string last_file, last_file_when;                    ///< Of the newest file that is not set aside.
  struct BatchShown {
    std::int64_t row = 0;
    std::string first, second, button;
    bool aside = false;
    bool operator==(const BatchShown&) const = default;
  };
  std::vector<BatchShown> batches;
  std::string batches_head, aside_note;  ///< `aside_note`: what setting aside does.
  // All of one side.
  struct SideShown {
    Id copy;
    std::string text, sure;  ///< 'Office · 12 facts', 'Keeps the version of Office in 12 facts.'
    bool operator==(const SideShown&) const = default;
  };
  std::vector<SideShown> sides;
  std::string keep_side, side_title, side_go, side_safe, reason_label, why_not;
  // Of the desktop: the record in the main part.
  std::optional<SettleView> chosen;
  std::string position, before, next;
  Id before_record, next_record;  ///< Nil at the ends.
  bool operator==(const MergeView&) const = default;
};

struct MergeInput : PageInput {
  Id chosen;  ///< Nil = the first that differs.
  SettleInput settle;
  bool keeping = false;  ///< The sheet 'keep all of one side' is open.
  int side = -1;
  std::string reason;
  bool operator==(const MergeInput&) const = default;
};

Result<MergeView> merge_view(const Surroundings& around, const MergeInput& input);
std::optional<Ask> draw_merge(const MergeView& view, MergeInput& input, const Furniture& furniture);

}  // namespace steep
