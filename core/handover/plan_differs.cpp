#include "handover/plan_differs.h"

#include <algorithm>

namespace steep {
namespace {

bool differed(const Folded& before, const std::string& key) {
  const FoldedGroup* group = before.group(key);
  return group != nullptr && group->differs;
}

}  // namespace

bool Comparing::add(const Change& change, const Hash& hash) {
  if (lines_ >= kMostCompared) return false;
  ++lines_;
  fresh_[change.record].push_back({0, hash, change, false});
  return true;
}

Result<bool> Comparing::compare_next(const Book& book, std::vector<PlanDiffers>& found) {
  if (fresh_.empty()) return false;
  const auto [record, fresh] = *fresh_.begin();
  fresh_.erase(fresh_.begin());
  TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(record));
  std::vector<FoldLine> all;
  for (const HistoryLine& line : lines)
    if (line.ready) all.push_back({0, line.hash, line.change, line.aside});
  const bool counts = std::any_of(all.begin(), all.end(), [](const FoldLine& line) { return !line.aside; });
  const Folded before = counts ? fold(all) : Folded{};
  all.insert(all.end(), fresh.begin(), fresh.end());
  const Folded after = fold(all);
  const std::string& kind = all[after.first].change.kind;
  for (const FoldedGroup& group : after.groups)
    if (group.differs && !differed(before, group.key)) found.push_back({record, kind, group.key});
  if (!after.unaware.empty() && before.unaware.empty()) found.push_back({record, kind, {}});
  return true;
}

}  // namespace steep
