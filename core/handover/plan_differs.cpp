#include "handover/plan_differs.h"

#include <algorithm>

namespace steep {
namespace {

bool differed(const Folded& before, const std::string& key) {
  const FoldedGroup* group = before.group(key);
  return group != nullptr && group->differs;
}

/// The value that stands in.
const FieldValue* shown(const std::vector<FoldLine>& lines, const Folded& folded, std::string_view key) {
  const FoldedGroup* group = folded.group(group_of(key));
  return group != nullptr ? field_of(lines[group->heads.front()].change, key) : nullptr;
}

DoseSays says_of(const std::vector<FoldLine>& lines, const Folded& dose) {
  DoseSays says;
  says.struck = !dose.struck.empty();
  if (const FieldValue* how = shown(lines, dose, "what.how")) says.skipped = how->text == "skipped";
  if (const FieldValue* bed = shown(lines, dose, "what.bed")) says.bed = Id::parse(bed->text).value_or(Id{});
  if (const FoldedGroup* same = dose.group("same_as"))
    for (const std::size_t head : same->heads) {
      const FieldValue* other = field_of(lines[head].change, "same_as");
      if (const auto id = Id::parse(other != nullptr ? other->text : std::string())) says.given_up_for.push_back(*id);
    }
  return says;
}

}  // namespace

bool Comparing::add_new(const Change& change, const Hash& hash) {
  if (change.kind != "dose" || (!field_of(change, "same_as") && !field_of(change, "struck"))) return true;
  new_.insert(change.record);
  return add(change, hash);
}

bool Comparing::add_child(const Change& change, const Id& parent) {
  if (children_.size() >= kMostCompared) return false;
  children_.try_emplace(change.record, change.kind);
  if (!parent.is_nil()) strikes_.new_children[change.record] = parent;
  if (const FieldValue* struck = field_of(change, "struck"))
    strikes_.struck[change.record] = struck->type == FieldType::Text;
  if (const FieldValue* settled = field_of(change, "settled")) {
    const auto child = strikes_.new_children.find(change.record);
    const bool said = child != strikes_.new_children.end() && std::find(settled->items.begin(), settled->items.end(),
                                                                        child->second.text()) != settled->items.end();
    if (said) strikes_.new_children.erase(child);
  }
  return true;
}

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
  if (kind == "dose") doses_[record] = says_of(all, after);
  if (new_.count(record) > 0) return true;
  if (after.group("struck") != nullptr) strikes_.struck[record] = !after.struck.empty();
  for (const FoldedGroup& group : after.groups)
    if (group.differs && !differed(before, group.key))
      found.push_back({PlanDiffers::What::Fact, record, kind, group.key});
  if (!after.unaware.empty() && before.unaware.empty()) found.push_back({PlanDiffers::What::Crossed, record, kind, {}});
  return true;
}

Result<void> Comparing::find_given_up(const Book& book, const std::function<bool(const Id&)>& is_new,
                                      std::vector<PlanDiffers>& found) {
  if (doses_.empty()) return {};
  // What comes with the file and says nothing of a strike stands.
  std::vector<Id> standing;
  for (const auto& [id, says] : doses_)
    for (const Id& other : says.given_up_for)
      if (is_new(other)) standing.push_back(other);
  for (const Id& id : standing) doses_.try_emplace(id);
  TRY_ASSIGN(const std::vector<Id>& given_up, would_be_given_up(book, doses_));
  for (const Id& id : given_up) found.push_back({PlanDiffers::What::GivenUp, id, "dose", {}});
  return {};
}

Result<void> Comparing::find_late(const Book& book, std::vector<PlanDiffers>& found) {
  TRY_ASSIGN(const auto late, would_come_late(book, strikes_));
  for (const auto& [child, parent] : late) {
    const auto new_one = children_.find(child);
    found.push_back({PlanDiffers::What::Late, parent, book.kind_of(parent),
                     new_one != children_.end() ? new_one->second : book.kind_of(child)});
  }
  return {};
}

}  // namespace steep
