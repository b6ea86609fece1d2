#include "book/said.h"

#include <algorithm>

namespace steep {

void Said::add(const Change& line) {
  const KindDef* of = find_kind(line.kind);
  kind = of == nullptr ? std::string_view() : of->name;
  since = std::min(since, line.wall);
  if (of == nullptr) return;
  for (const FieldValue& field : line.fields) {
    if (field.type == FieldType::Instant)
      if (const auto stamp = parse_stamp(field.text)) since = std::min(since, stamp->at.ms);
    if (field.key == "code") codes.push_back(field.text);
    if (field.key == "origin.beds") made_of.insert(made_of.end(), field.items.begin(), field.items.end());
    if (field.type != FieldType::Reference) continue;
    const FieldDef* def = find_field(*of, field.key);
    const auto id = Id::parse(field.text);
    if (def == nullptr || !id) continue;
    const Reference reference{def->key, *id};
    if (std::find(references.begin(), references.end(), reference) == references.end()) references.push_back(reference);
  }
}

std::vector<Id> Said::ids(std::string_view key) const {
  std::vector<Id> found;
  for (const Reference& reference : references)
    if (reference.key == key) found.push_back(reference.id);
  return found;
}

bool names_others(std::string_view kind) {
  static constexpr std::string_view kNaming[] = {"",      "dose",       "load",     "load-line", "discard", "harvest",
                                                 "sale",  "hold",       "planting", "bed",       "release", "brew-line",
                                                 "event", "label-line", "pass",     "wash"};
  return std::find(std::begin(kNaming), std::end(kNaming), kind) != std::end(kNaming);
}

}  // namespace steep
