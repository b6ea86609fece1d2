#pragma once
/// What a journal means, in set arithmetic alone: no tables, no order of arrival, no code of the book
/// but the reader of lines. Slow, short, and meant to be checked by reading.

#include <map>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "book/change.h"
#include "quantity/written.h"

namespace steep::test {

struct ModelLine {
  Hash prev{}, hash{};
  Change change;
  std::string address() const { return ref_of(change.lane, change.seq, hash).text(); }
};
using Journal = std::map<Hash, ModelLine>;  // J: a set of lines

/// The line and all of its act, from an end line back along the chain; empty when one is missing.
inline std::vector<const ModelLine*> act_of(const Journal& journal, const ModelLine& end) {
  std::vector<const ModelLine*> act = {&end};
  while (act.back()->change.seq > end.change.act) {
    const auto before = journal.find(act.back()->prev);
    if (before == journal.end() || before->second.change.act != end.change.act) return {};
    act.push_back(&before->second);
  }
  return act;
}

/// Lines that count: whole acts all of whose sights count or lie within.
inline std::set<Hash> ready(const Journal& journal) {
  std::set<Hash> counts;
  std::set<std::string> seen_ok;
  for (bool more = true; more;) {
    more = false;
    for (const auto& [hash, end] : journal) {
      if (!end.change.act_ends || counts.count(hash) > 0) continue;
      const auto act = act_of(journal, end);
      std::set<std::string> inside;
      for (const ModelLine* line : act) inside.insert(line->address());
      bool all = !act.empty();
      for (const ModelLine* line : act)
        for (const ChangeRef& ref : line->change.seen)
          all = all && (inside.count(ref.text()) + seen_ok.count(ref.text()) > 0);
      if (!all) continue;
      more = true;
      for (const ModelLine* line : act) {
        counts.insert(line->hash);
        seen_ok.insert(line->address());
      }
    }
  }
  return counts;
}

inline std::set<std::string> groups_written(const Change& change) {
  std::set<std::string> groups;
  for (const FieldValue& field : change.fields) groups.insert(std::string(group_of(field.key)));
  return groups;
}

/// The whole group's value; a quantity as its exact SI fraction.
inline std::set<std::tuple<std::string, char, std::string>> value_of(const Change& change, const std::string& group) {
  std::set<std::tuple<std::string, char, std::string>> value;
  for (const FieldValue& field : change.fields) {
    if (group_of(field.key) != group) continue;
    std::string text = field.text;
    if (field.type == FieldType::Quantity) text = si(*parse_written(field.text)).text();
    for (const std::string& item : field.items) text += item + '\n';
    value.insert({field.key, static_cast<char>(field.type), text});
  }
  return value;
}

/// Lists whose items were said one by one: what several heads list holds together.
inline bool is_gathered(const std::string& group) {
  return group == "not_same" || group == "settled" || group == "joined";
}

/// What the author of `change` had seen of the group: the lines he names, and behind one that is set aside and writes the
/// group what that one's author had seen.
inline std::set<std::string> seen_of(const Change& change, const std::string& group,
                                     const std::vector<const ModelLine*>& aside) {
  std::set<std::string> seen;
  for (const ChangeRef& ref : change.seen) seen.insert(ref.text());
  for (bool more = true; more;) {
    more = false;
    for (const ModelLine* line : aside)
      if (seen.count(line->address()) > 0 && groups_written(line->change).count(group) > 0)
        for (const ChangeRef& ref : line->change.seen) more = seen.insert(ref.text()).second || more;
  }
  return seen;
}

struct ModelGroup {
  std::set<Hash> heads;
  Hash winner{};
  bool differs = false;
};
/// (part, record) → group → heads.
using State = std::map<std::pair<std::string, Id>, std::map<std::string, ModelGroup>>;

/// S = fold(J), less the lines in `aside`. `part_of_lane` as the lanes' first lines or heads say.
inline State fold_model(const Journal& journal, const std::map<Id, Part>& part_of_lane,
                        const std::set<Hash>& aside = {}) {
  std::map<std::pair<std::string, Id>, std::vector<const ModelLine*>> records, left_out;
  for (const Hash& hash : ready(journal)) {
    const ModelLine& line = journal.at(hash);
    auto& of = aside.count(hash) > 0 ? left_out : records;
    of[{part_of_lane.at(line.change.lane).text(), line.change.record}].push_back(&line);
  }
  State state;
  for (const auto& [key, lines] : records) {
    std::set<std::pair<std::string, std::string>> replaced;  // address, group
    for (const ModelLine* c : lines)
      for (const std::string& group : groups_written(c->change))
        for (const std::string& address : seen_of(c->change, group, left_out[key])) replaced.insert({address, group});
    for (const ModelLine* d : lines)
      for (const std::string& group : groups_written(d->change))
        if (replaced.count({d->address(), group}) == 0) state[key][group].heads.insert(d->hash);
    for (auto& [group, folded] : state[key]) {
      std::set<std::set<std::tuple<std::string, char, std::string>>> values;
      const ModelLine* best = nullptr;
      for (const Hash& head : folded.heads) {
        const ModelLine& line = journal.at(head);
        values.insert(value_of(line.change, group));
        const auto rank = [](const ModelLine& l) { return std::tie(l.change.t, l.change.c, l.change.lane, l.hash); };
        if (best == nullptr || rank(*best) < rank(line)) best = &line;
      }
      folded.differs = values.size() > 1 && !is_gathered(group);
      folded.winner = best->hash;
    }
  }
  return state;
}

}  // namespace steep::test
