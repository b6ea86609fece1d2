#pragma once
/// What waits for a person after files came in: to settle, questions, to look at, files taken.

#include <string>
#include <vector>

#include "screens/page.h"
#include "screens/settle_view.h"

namespace steep {

struct MergeView {
  std::string title, second, footnote, nothing, nothing_why, take;
  struct Row {
    Icon sign = Icon::Differs;
    std::string first, second;
    Id record, other;
    int section = 0;                   ///< 0 to settle, 1 question, 2 to look at, 3 waiting.
    bool operator==(const Row&) const = default;
  };
  std::vector<Row> rows;
  std::vector<std::string> sections;   ///< Heads, by section.
  std::vector<std::pair<std::string, std::string>> counts;  ///< Number and words, by sign: settle, question, look.
  struct BatchShown {
    std::int64_t row = 0;
    std::string first, second, button;
    bool aside = false;
    bool operator==(const BatchShown&) const = default;
  };
  std::vector<BatchShown> batches;
  std::string batches_head;
  std::optional<SettleView> chosen;    ///< Of the desktop: the record in the main part.
  bool operator==(const MergeView&) const = default;
};

struct MergeInput : PageInput {
  Id chosen;
  SettleInput settle;
  bool operator==(const MergeInput&) const = default;
};

Result<MergeView> merge_view(const Surroundings& around, const MergeInput& input);
std::optional<Ask> draw_merge(const MergeView& view, MergeInput& input, const Furniture& furniture);

}  // namespace steep
