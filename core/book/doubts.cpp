#include "book/doubts.h"

#include <algorithm>

#include "book/given_up.h"
#include "book/rows.h"

namespace steep {
namespace {

/// As the fold names differing heads, and a strike whose author had not seen somebody's edit (and the other way round).
constexpr std::string_view kDiffers = "review.differs", kUnaware = "review.edited_unaware";

Result<void> add_reviewed(const Book& book, std::string_view why, std::set<Id>& found) {
  Query reviews = book.db().query("SELECT r.uid FROM review v JOIN record r ON r.id = v.rec WHERE v.why = ?");
  reviews.bind(1, why);
  while (reviews.next()) found.insert(reviews.id(0));
  return reviews.done();
}

void add_version(std::vector<std::vector<FieldValue>>& versions, std::vector<FieldValue> fields) {
  if (!fields.empty() && std::find(versions.begin(), versions.end(), fields) == versions.end())
    versions.push_back(std::move(fields));
}

}  // namespace

Result<Doubts> Doubts::read(const Book& book) {
  Doubts doubts;
  std::set<Id> found, unaware;
  TRY(add_reviewed(book, kDiffers, found));
  TRY(add_reviewed(book, kUnaware, unaware));
  found.insert(unaware.begin(), unaware.end());
  std::set<Id> given_up;
  TRY_ASSIGN(const GivenUpFor& for_none, given_up_in_any_reading(book));
  for (const auto& [dose, others] : for_none) given_up.insert(dose);
  found.insert(given_up.begin(), given_up.end());

  TRY_ASSIGN(const std::vector<HistoryLine>& waiting, book.waiting());
  for (const HistoryLine& line : waiting)
    if (!line.aside) found.insert(line.change.record);

  for (const Id& id : found) {
    InDoubt& in_doubt = doubts.records_[id];
    TRY_ASSIGN(const std::optional<Record>& record, book.record(id));
    in_doubt.only_waiting = !record;
    if (record) doubts.kinds_[id] = record->kind;
    in_doubt.struck_in_doubt = unaware.count(id) != 0 || given_up.count(id) != 0;
    if (!record) continue;
    for (const Group& group : record->groups) {
      for (const Head& head : group.heads) add_version(in_doubt.groups[group.key], head.fields);
      // One says struck, another restored it: it counts.
      if (group.key != "struck" || !group.differs) continue;
      for (const Head& head : group.heads)
        for (const FieldValue& field : head.fields)
          if (field.type == FieldType::NotTaken) in_doubt.struck_in_doubt = true;
    }
  }
  for (const HistoryLine& line : waiting) {
    if (line.aside) continue;
    InDoubt& in_doubt = doubts.records_[line.change.record];
    doubts.kinds_.emplace(line.change.record, line.change.kind);
    std::map<std::string, std::vector<FieldValue>> groups;
    for (const FieldValue& field : line.change.fields) groups[std::string(group_of(field.key))].push_back(field);
    for (auto& [key, fields] : groups) {
      // A restoring that waits counts; a strike that waits takes nothing away.
      if (key == "struck" && fields.front().type == FieldType::NotTaken) in_doubt.struck_in_doubt = true;
      // Whoever edits a struck record in a change that waits may not have known.
      if (key != "struck") in_doubt.struck_in_doubt = true;
      if (key != "struck") add_version(in_doubt.groups[key], std::move(fields));
    }
  }
  return doubts;
}

std::vector<FieldValue> Doubts::readings(const Id& record, std::string_view key) const {
  std::vector<FieldValue> values;
  for (const auto& version : versions(record, group_of(key)))
    for (const FieldValue& field : version)
      if (field.key == key && std::find(values.begin(), values.end(), field) == values.end()) values.push_back(field);
  return values;
}

std::vector<std::vector<FieldValue>> Doubts::versions(const Id& record, std::string_view group) const {
  const auto found = records_.find(record);
  if (found == records_.end()) return {};
  const auto versions = found->second.groups.find(group);
  return versions == found->second.groups.end() ? std::vector<std::vector<FieldValue>>{} : versions->second;
}

std::vector<Moment> Doubts::finishes(const Id& dose) const {
  std::vector<Moment> all;
  for (const auto& version : versions(dose, "when")) {
    std::optional<Stamp> finish;
    for (const FieldValue& field : version)
      if (field.key == "when.finish") finish = parse_stamp(field.text);
    if (!finish) return {};
    all.push_back(finish->at);
  }
  return all;
}

bool Doubts::counts_although_struck(const Id& record) const {
  const auto found = records_.find(record);
  return found != records_.end() && found->second.struck_in_doubt;
}

std::vector<Id> Doubts::only_waiting(std::string_view kind) const {
  std::vector<Id> ids;
  for (const auto& [id, in_doubt] : records_)
    if (in_doubt.only_waiting && kind_of(id) == kind) ids.push_back(id);
  return ids;
}

std::string Doubts::kind_of(const Id& record) const {
  const auto found = kinds_.find(record);
  return found == kinds_.end() ? std::string() : found->second;
}

}  // namespace steep
