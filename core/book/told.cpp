#include "book/told.h"

#include <vector>

#include "base/text.h"

namespace steep {

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

}  // namespace steep
