#pragma once
/// Any record: how it stands, who wrote what when on which copy, and striking it with a reason.

#include <string>
#include <vector>

#include "screens/page.h"
#include "screens/photos_of_record.h"

namespace steep {

struct RecordPageView {
  Id record;
  std::string title, second, struck;  ///< struck: 'Struck: logged twice', empty = not.
  std::vector<std::pair<std::string, std::string>> facts;
  struct Line {
    std::string head;                ///< When, who, on which copy, what to mind.
    std::vector<std::string> facts;  ///< 'what was done: 20 gal → 18 gal'
    std::string why;
    bool operator==(const Line&) const = default;
  };
  std::vector<Line> history;
  std::string history_head, strike, restore, confirm_text, reason_label, go, safe, why_not, settle;
  bool differs = false;
  std::string decide;  ///< A strike that crossed with work elsewhere waits for a decision; empty = none.
  std::string release, release_text,
      release_it;                       ///< Of a hold that a person set and nobody released; empty = of nothing else.
  std::string joined, part, part_text;  ///< 'One with Bed N7 of Alder Reach'; empty = stands alone.
  Id joined_with;
  PhotosView photos;
  std::size_t children = 0;  ///< That a strike takes along.
  bool operator==(const RecordPageView&) const = default;
};

struct RecordPageInput : PageInput {
  bool confirming = false, parting = false, releasing = false;
  std::string reason;
  bool operator==(const RecordPageInput&) const = default;
};

Result<RecordPageView> record_page_view(const Surroundings& around, const RecordPageInput& input);
std::optional<Ask> draw_record_page(const RecordPageView& view, RecordPageInput& input, const Furniture& furniture);

}  // namespace steep
