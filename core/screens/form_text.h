#pragma once
/// Values in a form kept as texts: ids, lists of ids, amounts in normal form.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "base/text.h"
#include "quantity/written.h"
#include "screens/page.h"

namespace steep {

inline std::string form_text(const DraftFields& form, const std::string& key) {
  const auto found = form.find(key);
  return found == form.end() ? std::string() : found->second;
}
/// What was filled in: a draft keeps no empty texts.
inline DraftFields filled_fields(const DraftFields& form) {
  DraftFields filled;
  for (const auto& [key, value] : form)
    if (!value.empty()) filled.emplace(key, value);
  return filled;
}
inline bool form_has(const DraftFields& form, const std::string& key) { return form.count(key) != 0; }
inline Id form_id(const DraftFields& form, const std::string& key) {
  return Id::parse(form_text(form, key)).value_or(Id{});
}
inline std::optional<Written> form_amount(const DraftFields& form, const std::string& key) {
  const std::string text = form_text(form, key);
  if (text.empty()) return std::nullopt;
  auto written = parse_written(text);
  return written ? std::optional<Written>(std::move(*written)) : std::nullopt;
}
inline std::vector<Id> form_ids(const DraftFields& form, const std::string& key) {
  std::vector<Id> ids;
  const std::string text = form_text(form, key);  // The pieces point into it.
  for (const std::string_view piece : split(text, ' ')) {
    if (const auto id = Id::parse(piece)) ids.push_back(*id);
  }
  return ids;
}
inline std::string ids_text(const std::vector<Id>& ids) {
  std::vector<std::string> texts;
  for (const Id& id : ids) texts.push_back(id.text());
  return join(texts, " ");
}

}  // namespace steep
