#include "book/differing.h"

#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "book/things.h"

namespace steep {
namespace {

/// The history of one record, asked by change.
struct Lines {
  std::vector<HistoryLine> lines;

  const HistoryLine* of(const ChangeRef& ref) const {
    for (const HistoryLine& line : lines)
      if (line.ref == ref) return &line;
    return nullptr;
  }
  /// All that a change saw, and what those saw.
  std::set<ChangeRef> seen_by(const ChangeRef& ref) const {
    std::set<ChangeRef> seen;
    std::vector<ChangeRef> open{ref};
    while (!open.empty()) {
      const HistoryLine* line = of(open.back());
      open.pop_back();
      if (!line) continue;
      for (const ChangeRef& before : line->change.seen)
        if (seen.insert(before).second) open.push_back(before);
    }
    return seen;
  }
};

DifferingVersion version_of(const Book& book, const Head& head, const Lines& history) {
  DifferingVersion version;
  version.who = person_name(book, head.person);
  version.at = Moment{head.wall};
  version.why = head.why;
  version.fields = head.fields;
  if (const HistoryLine* line = history.of(head.ref)) {
    version.copy = line->copy;
    version.clock_doubtful = line->clock_doubtful;
  }
  return version;
}

/// The last value of the group that every version had seen.
std::vector<FieldValue> value_before(const Lines& history, std::string_view group,
                                     const std::vector<std::set<ChangeRef>>& seen) {
  std::vector<FieldValue> before;
  for (auto line = history.lines.rbegin(); line != history.lines.rend() && before.empty(); ++line) {
    if (!std::all_of(seen.begin(), seen.end(), [&](const auto& set) { return set.count(line->ref) != 0; })) continue;
    for (const FieldValue& field : line->change.fields)
      if (group_of(field.key) == group) before.push_back(field);
  }
  return before;
}

DifferingGroup differing_group(const Book& book, const Group& group, const Lines& history,
                               const std::map<Id, Id>& copy_of) {
  DifferingGroup out;
  out.group = group.key;
  std::vector<std::set<ChangeRef>> seen;
  for (const Head& head : group.heads) seen.push_back(history.seen_by(head.ref));
  for (std::size_t i = 0; i < group.heads.size(); ++i) {
    const Head& head = group.heads[i];
    DifferingVersion version = version_of(book, head, history);
    version.choice = i;
    version.stand_in = i == 0;
    if (const auto copy = copy_of.find(head.ref.lane); copy != copy_of.end()) version.copy_id = copy->second;
    for (std::size_t j = 0; j < group.heads.size(); ++j)
      if (j != i && seen[i].count(group.heads[j].ref) == 0) version.not_seen.push_back(j);
    out.versions.push_back(std::move(version));
  }
  out.before = value_before(history, group.key, seen);
  return out;
}

}  // namespace

std::string copy_told(const Book& book, const Id& copy, const std::string& label, const Words& words) {
  if (!label.empty()) return label;
  if (copy == book.copy()) return words("settle.this_book"_w);
  return words("taking.unnamed_copy"_w) + " (" + short_code(copy) + ')';
}

std::string not_seen_told(const Book& book, const DifferingGroup& group, const DifferingVersion& version,
                          const Words& words) {
  std::vector<std::string> copies;
  for (const std::size_t other : version.not_seen) {
    const DifferingVersion& unseen = group.versions[other];
    std::string copy = copy_told(book, unseen.copy_id, unseen.copy, words);
    if (std::find(copies.begin(), copies.end(), copy) == copies.end()) copies.push_back(std::move(copy));
  }
  return join(copies, ", ");
}

std::map<Id, Id> copies_of_lanes(const Book& book) {
  std::map<Id, Id> copies;
  for (const Lane& lane : book.lanes())
    copies[lane.id] = lane.ours ? book.copy() : lane.copy.is_nil() ? lane.id : lane.copy;
  return copies;
}

Result<DifferingRecord> differing(const Book& book, const Id& id) {
  TRY_ASSIGN(const std::optional<Record>& record, book.record(id));
  if (!record) return refuse(Trouble::NotFound, "record.not-here"_w);
  Lines history;
  TRY_ASSIGN(history.lines, book.history(id));
  const std::map<Id, Id> copy_of = copies_of_lanes(book);
  DifferingRecord out;
  out.record = id;
  out.kind = record->kind;
  for (const Group& group : record->groups)
    if (group.differs)
      out.groups.push_back(differing_group(book, group, history, copy_of));
    else if (!group.heads.empty())
      out.same.insert(out.same.end(), group.stand_in().begin(), group.stand_in().end());
  return out;
}

}  // namespace steep
