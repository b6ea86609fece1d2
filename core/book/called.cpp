#include "book/called.h"

#include <algorithm>
#include <numeric>

#include "base/text.h"
#include "book/codes.h"
#include "book/spelled.h"
#include "book/wide.h"

namespace steep {
namespace {

constexpr std::size_t kEndLength = 6;

/// How many letters have to be changed, put in or left out (Levenshtein).
std::size_t slips(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t corner = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = corner + (a[i - 1] == b[j - 1] ? 0 : 1);
      corner = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, changed});
    }
  }
  return row.back();
}

/// By which field a kind is called, and within what a name is its own.
struct Naming {
  std::string_view kind, name, within;
};
constexpr Naming kNamings[] = {{"farm", "name", {}},
                               {"block", "name", "farm"},
                               {"bed", "name", "block"},
                               {"person", "name", {}},
                               {"lot", "code", "material"}};

std::string text_in(const std::vector<FieldValue>& fields, std::string_view key) {
  for (const FieldValue& field : fields)
    if (field.key == key) return field.text;
  return {};
}

Caution used_already(std::string_view kind, std::string name, std::string_view field, const Id& by) {
  return {"check.name-used"_w, {std::move(name), word_value_text("kind", kind)}, std::string(field), by};
}

}  // namespace

std::string id_end(const Id& record) { return record.text().substr(record.text().size() - kEndLength); }

std::string lane_label(const Book& book, const Id& lane) {
  for (const Lane& one : book.lanes())
    if (one.id == lane) return one.label;
  return {};
}

std::string unaccented(std::string_view name) {
  static constexpr std::pair<std::string_view, char> kAccents[] = {{"á", 'a'}, {"é", 'e'}, {"í", 'i'}, {"ó", 'o'},
                                                                   {"ú", 'u'}, {"ü", 'u'}, {"ñ", 'n'}};
  std::string plain = lower(name);
  for (const auto& [accent, letter] : kAccents)
    for (std::size_t at = plain.find(accent); at != std::string::npos; at = plain.find(accent, at + 1))
      plain.replace(at, accent.size(), 1, letter);
  return plain;
}

std::string nearest_name(std::string_view typed, const std::vector<std::string>& names) {
  constexpr std::size_t kShortest = 4, kLong = 8;  // Of 'N1' and 'N2' neither is a slip of the other.
  const std::string wanted = unaccented(typed);
  if (wanted.size() < kShortest || wanted.size() > 60) return {};
  std::size_t least = wanted.size() < kLong ? 2 : 3;
  std::string nearest;
  for (const std::string& name : names)
    if (const std::size_t many = slips(wanted, unaccented(name)); many < least) {
      least = many;
      nearest = name;
    }
  return nearest;
}

Result<std::vector<Caution>> name_cautions(const Book& book, std::string_view kind,
                                           const std::vector<FieldValue>& fields, bool numbered) {
  std::vector<Caution> cautions;
  if (kind == "brew" || kind == "pass") {
    if (!numbered) return cautions;
    const std::string number = text_in(fields, "number");
    TRY_ASSIGN(const Codes& codes, Codes::read(book));
    if (const auto other = codes.find(kind, number); other || other.error().kind == Trouble::Ask)
      cautions.push_back(used_already(kind, code_value_text(kind, number), "number", other ? *other : Id{}));
    return cautions;
  }
  for (const Naming& naming : kNamings) {
    const std::string name = lower(text_in(fields, naming.name));
    if (naming.kind != kind || name.empty()) continue;
    const std::string within(naming.within);
    Query query = book.db().query("SELECT uid, " + std::string(naming.name) + " FROM " + wide_name(kind) +
                                  " WHERE struck IS NULL AND same_as IS NULL" +
                                  (within.empty() ? std::string() : " AND " + within + " = ?1"));
    if (!within.empty()) query.bind(1, Id::parse(text_in(fields, within)).value_or(Id{}));
    while (query.next() && cautions.empty())
      if (lower(query.text_view(1)) == name)
        cautions.push_back(used_already(kind, query.text(1), naming.name, query.id(0)));
    TRY(query.done());
  }
  return cautions;
}

}  // namespace steep
