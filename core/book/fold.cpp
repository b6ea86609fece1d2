#include "book/fold.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "base/text.h"
#include "quantity/written.h"

namespace steep {
namespace {

/// Lines of the record by address, for resolving what was seen.
class Addresses {
 public:
  explicit Addresses(std::span<const FoldLine> lines) : lines_(lines) {
    for (std::size_t i = 0; i < lines.size(); ++i) order_.push_back(i);
    std::sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) { return address(a) < address(b); });
  }
  /// Calls `then` with every line that the reference matches: two when a lane forked and the tags agree.
  template <class Then>
  void each(const ChangeRef& ref, Then then) const {
    const auto key = std::tie(ref.lane, ref.seq);
    auto at = std::lower_bound(order_.begin(), order_.end(), key,
                               [&](std::size_t i, const auto& wanted) { return address(i) < wanted; });
    for (; at != order_.end() && address(*at) == key; ++at)
      if (tag_of(lines_[*at].hash) == ref.tag) then(*at);
  }

 private:
  std::tuple<const Id&, const std::int64_t&> address(std::size_t i) const {
    return {lines_[i].change.lane, lines_[i].change.seq};
  }
  std::span<const FoldLine> lines_;
  std::vector<std::size_t> order_;
};

struct Writing {
  std::string_view group;
  bool replaced = false;
};

std::vector<Writing> groups_of(const Change& change) {
  std::vector<Writing> groups;
  for (const FieldValue& field : change.fields) {
    const std::string_view group = group_of(field.key);
    if (std::none_of(groups.begin(), groups.end(), [&](const Writing& w) { return w.group == group; }))
      groups.push_back({group, false});
  }
  return groups;
}

/// Marks what line `i` replaces: of each group that it writes the versions that its author saw. Behind one that is set
/// aside here he knew that those before it were over.
void replace_seen(std::span<const FoldLine> lines, const Addresses& addresses,
                  std::vector<std::vector<Writing>>& written, std::size_t i) {
  struct Step {
    std::size_t line;
    std::string_view group;  // empty: all that `i` writes
  };
  std::vector<Step> open = {{i, {}}};
  while (!open.empty()) {
    const Step step = open.back();
    open.pop_back();
    for (const ChangeRef& ref : lines[step.line].change.seen)
      addresses.each(ref, [&](std::size_t j) {
        if (i == j) return;
        for (Writing& old : written[j]) {
          if (!step.group.empty() && step.group != old.group) continue;
          const bool both = std::any_of(written[i].begin(), written[i].end(),
                                        [&](const Writing& mine) { return mine.group == old.group; });
          if (!both) continue;
          if (lines[j].aside && !old.replaced) open.push_back({j, old.group});
          old.replaced = true;
        }
      });
  }
}

/// Everything that line `from` builds on, itself included.
std::vector<bool> ancestry(std::span<const FoldLine> lines, const Addresses& addresses, std::size_t from) {
  std::vector<bool> reached(lines.size());
  std::vector<std::size_t> open = {from};
  reached[from] = true;
  while (!open.empty()) {
    const std::size_t i = open.back();
    open.pop_back();
    for (const ChangeRef& ref : lines[i].change.seen)
      addresses.each(ref, [&](std::size_t j) {
        if (!reached[j]) open.push_back(j);
        reached[j] = true;
      });
  }
  return reached;
}

/// The creating line: the least of those that saw nothing, else the least of all.
std::size_t creation(std::span<const FoldLine> lines) {
  std::size_t first = 0;
  while (first + 1 < lines.size() && lines[first].aside) ++first;
  for (std::size_t i = first + 1; i < lines.size(); ++i) {
    if (lines[i].aside) continue;
    const bool a = lines[i].change.seen.empty(), b = lines[first].change.seen.empty();
    if (a != b ? a : outranks(lines[first], lines[i])) first = i;
  }
  return first;
}

bool is_beyond_us(const Change& change) {
  const KindDef* kind = find_kind(change.kind);
  if (kind == nullptr || change.unknown_keys) return true;
  return std::any_of(change.fields.begin(), change.fields.end(), [&](const FieldValue& field) {
    return find_field(*kind, field.key) == nullptr || !is_known_type(field.type);
  });
}

/// The reason of a strike; nullptr: it takes one back, or says none.
const FieldValue* reason_of(const FoldLine& line) {
  const FieldValue* reason = field_of(line.change, "struck");
  return reason != nullptr && reason->type == FieldType::Text && !trim(reason->text).empty() ? reason : nullptr;
}

/// Groups edited by somebody who had not seen one of the strikes, nor was seen by its author. Of several strikes any: which of
/// them stands in is a matter of clocks, and waits must not hang on those.
std::vector<std::string> edited_unaware(std::span<const FoldLine> lines, const Addresses& addresses,
                                        const Folded& folded, const FoldedGroup& struck) {
  std::vector<std::string> found;
  std::map<std::size_t, std::vector<bool>> seen;  // by line: all that it builds on
  const auto saw = [&](std::size_t line, std::size_t other) {
    const auto [place, is_new] = seen.try_emplace(line);
    if (is_new) place->second = ancestry(lines, addresses, line);
    return place->second[other];
  };
  for (const FoldedGroup& group : folded.groups) {
    if (group.key == "struck") continue;
    const bool unaware = std::any_of(group.heads.begin(), group.heads.end(), [&](std::size_t edit) {
      return std::any_of(struck.heads.begin(), struck.heads.end(), [&](std::size_t strike) {
        return reason_of(lines[strike]) != nullptr && !saw(strike, edit) && !saw(edit, strike);
      });
    });
    if (unaware) found.push_back(group.key);
  }
  return found;
}

}  // namespace

const FoldedGroup* Folded::group(std::string_view key) const {
  for (const FoldedGroup& group : groups)
    if (group.key == key) return &group;
  return nullptr;
}

bool outranks(const FoldLine& a, const FoldLine& b) {
  return std::tie(a.change.t, a.change.c, a.change.lane, a.hash) >
         std::tie(b.change.t, b.change.c, b.change.lane, b.hash);
}

const FieldValue* field_of(const Change& change, std::string_view key) {
  for (const FieldValue& field : change.fields)
    if (field.key == key) return &field;
  return nullptr;
}

bool same_value(const FieldValue& a, const FieldValue& b) {
  if (a == b) return true;
  if (a.type != FieldType::Quantity || b.type != FieldType::Quantity) return false;
  const auto first = parse_written(a.text), second = parse_written(b.text);
  return first && second && *first == *second;
}

bool same_group(const Change& a, const Change& b, std::string_view group) {
  std::size_t count_a = 0, count_b = 0;
  for (const FieldValue& field : b.fields) count_b += group_of(field.key) == group;
  for (const FieldValue& field : a.fields) {
    if (group_of(field.key) != group) continue;
    ++count_a;
    const FieldValue* other = field_of(b, field.key);
    if (other == nullptr || !same_value(field, *other)) return false;
  }
  return count_a == count_b;
}

bool gathers(std::string_view group) { return group == "not_same" || group == "settled" || group == "joined"; }

FieldValue gathered(std::string_view key, std::span<const FieldValue* const> lists) {
  std::vector<std::string> items;
  for (const FieldValue* list : lists)
    if (list != nullptr) items.insert(items.end(), list->items.begin(), list->items.end());
  std::sort(items.begin(), items.end());
  items.erase(std::unique(items.begin(), items.end()), items.end());
  return items.empty() ? not_taken(std::string(key)) : list_value(std::string(key), std::move(items));
}

Folded fold(std::span<const FoldLine> lines) {
  const Addresses addresses(lines);
  std::vector<std::vector<Writing>> written;
  for (const FoldLine& line : lines) written.push_back(groups_of(line.change));
  for (std::size_t i = 0; i < lines.size(); ++i)
    if (!lines[i].aside) replace_seen(lines, addresses, written, i);

  Folded folded;
  folded.first = creation(lines);
  std::map<std::string_view, std::vector<std::size_t>> heads;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (lines[i].aside) continue;
    folded.needs_newer = folded.needs_newer || (lines[i].change.must && is_beyond_us(lines[i].change));
    for (const Writing& writing : written[i])
      if (!writing.replaced) heads[writing.group].push_back(i);
  }
  for (auto& head : heads) {
    const std::string_view key = head.first;  // named: a lambda of C++20 in clang 14 takes no parts of a pair
    std::vector<std::size_t>& places = head.second;
    std::sort(places.begin(), places.end(), [&](std::size_t a, std::size_t b) { return outranks(lines[a], lines[b]); });
    FoldedGroup group{std::string(key), places, false};
    group.differs = !gathers(key) && std::any_of(places.begin() + 1, places.end(), [&](std::size_t i) {
      return !same_group(lines[places[0]].change, lines[i].change, key);
    });
    folded.groups.push_back(std::move(group));
  }
  if (const FoldedGroup* struck = folded.group("struck")) {
    if (const FieldValue* reason = reason_of(lines[struck->heads[0]])) {
      folded.struck = reason->text;
      folded.unaware = edited_unaware(lines, addresses, folded, *struck);
    }
  }
  return folded;
}

}  // namespace steep
