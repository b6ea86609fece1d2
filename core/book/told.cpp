#include "book/told.h"

#include <vector>

#include "base/text.h"

namespace steep {

namespace {

std::string_view last_of(std::string_view key) {
  const auto dot = key.rfind('.');
  return dot == std::string_view::npos ? key : key.substr(dot + 1);
}

std::string joined(std::initializer_list<std::string_view> pieces) {
  std::string key;
  for (const std::string_view piece : pieces) key += piece;
  return key;
}

}  // namespace

std::string field_name(std::string_view kind, std::string_view key, const Words& words) {
  const std::string_view last = last_of(key);
  return words.stored(joined({"field.", kind, ".", key}),
                      words.stored(joined({"field.", key}), words.stored(joined({"field.", last}), last)));
}

std::string group_name(std::string_view kind, std::string_view group, const Words& words) {
  return words.stored(joined({"field.", kind, ".", group}), words.stored(joined({"field.", group}), group));
}

std::string stored_word(std::string_view key, std::string_view word, const Words& words) {
  // Some words stand with their field ('brew.verdict.hold'), those of readings with brews; most say the same everywhere.
  for (const std::string& place :
       {joined({"brew.", last_of(key), "."}), std::string("word."), std::string("brew.word.")})
    if (const std::string full = joined({place, word}); words.has(full)) return words.stored(full, word);
  return printable(word);
}

std::string kind_and_name(std::string_view kind, std::string_view name, const Words& words) {
  const std::string key = "kind." + std::string(kind);
  if (name.empty()) return words.stored(key, kind);
  // A kind that is not said before a name as it is said alone.
  if (const std::string named = key + ".named"; words.has(named)) return words(WordId{named}, {name});
  return words.stored(key, kind) + " " + std::string(name);
}

std::string held_text(std::string_view stored, const Words& words) {
  constexpr std::string_view kBrew = "brew ";
  std::vector<std::string> pieces;
  for (const std::string_view piece : split(stored, ',')) {
    const std::string_view one = trim(piece);
    pieces.push_back(one.starts_with(kBrew) ? words("code.brew"_w, {trim(one.substr(kBrew.size()))}) : printable(one));
  }
  return join(pieces, ", ");
}

std::string text_told(std::string_view key, std::string_view text, const Words& words) {
  constexpr std::pair<std::string_view, std::string_view> kFamilies[] = {
      {"struck", "why."}, {"note", "skip."}, {"direction", "start.direction."}, {"sky", "start.sky."}};
  const std::string_view last = last_of(key);
  if (last == "held") return held_text(text, words);
  for (const auto& [field, family] : kFamilies)
    if (field == last) return words.stored(joined({family, text}), printable(text));
  return printable(text);
}

}  // namespace steep
