// A record by what a person types: its id, its name, a code, 'Ana'.
#include <optional>
#include <utility>

#include "base/text.h"
#include "book/codes.h"
#include "book/enter.h"
#include "book/places.h"
#include "book/things.h"
#include "book/wide.h"

namespace steep {

Result<Id> find_record(const Book& book, std::string_view kind_list, std::string_view typed, const Id& farm) {
  const std::string_view text = trim(typed);
  if (const auto id = Id::parse(text); id && !book.kind_of(*id).empty()) return *id;
  std::vector<Id> found;
  std::optional<Problem> asked;
  std::vector<std::string> names{std::string(text)};
  const auto one_kind = [&](std::string_view kind) -> Result<void> {
    if (kind == "bed") {
      std::vector<Bed> beds;
      TRY_ASSIGN(const std::vector<Farm>& all, farms(book));
      for (const Farm& one : all) {
        if (!farm.is_nil() && one.id != farm) continue;
        TRY_ASSIGN(Places places, read_places(book, one.id));
        for (Bed& bed : places.beds) beds.push_back(std::move(bed));
      }
      auto bed = bed_by_name(beds, text);
      if (bed) found.push_back(*bed);
      if (!bed && bed.error().kind == Trouble::Ask) asked = bed.error();
      return {};
    }
    if (kind == "brew" || kind == "pass") {
      TRY_ASSIGN(const Codes& codes, Codes::read(book));
      auto id = codes.find(kind, text);
      if (id) found.push_back(*id);
      if (!id && id.error().kind == Trouble::Ask) asked = id.error();
      return {};
    }
    const std::string wanted = lower(text);
    if (kind == "lot") {
      TRY_ASSIGN(const std::vector<Lot>& all, lots(book));
      for (const Lot& lot : all)
        if (lower(lot.code) == wanted || lower(lot.name()) == wanted) {
          found.push_back(lot.id);
          names.push_back(lot.name());
        }
      return {};
    }
    if (kind == "harvest") {
      Query query = book.db().query("SELECT uid FROM k_harvest WHERE lower(code) = ? AND struck IS NULL");
      query.bind(1, wanted);
      while (query.next()) found.push_back(query.id(0));
      return query.done();
    }
    if (kind == "planting") {
      Query query = book.db().query("SELECT p.uid, p.crop, b.name FROM k_planting p LEFT JOIN k_bed b ON b.uid = p.bed WHERE p.struck IS NULL");
      while (query.next())
        if (lower(query.text_view(1)) == wanted || lower(query.text(2) + ' ' + query.text(1)) == wanted) {
          found.push_back(query.id(0));
          names.push_back(query.text(2) + ' ' + query.text(1));
        }
      return query.done();
    }
    const KindDef* def = find_kind(kind);
    if (!def || !find_field(*def, "name")) return {};
    const bool person = kind == "person";
    Query query = book.db().query("SELECT uid, name, " + std::string(person ? "initials" : "''") + " FROM " + wide_name(kind) +
                                  " WHERE struck IS NULL AND same_as IS NULL");
    std::vector<std::pair<Id, std::string>> first_names;
    bool exact = false;
    while (query.next()) {
      const std::string name = lower(query.text_view(1));
      if (name == wanted || (person && lower(query.text_view(2)) == wanted)) {
        found.push_back(query.id(0));
        names.push_back(query.text(1));
        exact = true;
      } else if (person && name.substr(0, name.find(' ')) == wanted) {
        first_names.emplace_back(query.id(0), query.text(1));
      }
    }
    TRY(query.done());
    // 'Ana' is enough where only one person is called so.
    if (!exact)
      for (auto& [id, name] : first_names) {
        found.push_back(id);
        names.push_back(std::move(name));
      }
    return {};
  };
  for (const std::string_view kind : split(kind_list, '|')) TRY(one_kind(kind));
  if (found.size() == 1) return found.front();
  if (asked) return tl::unexpected<Problem>(*asked);
  if (found.size() > 1) return refuse(Trouble::Ask, "enter.several"_w, names);
  return refuse(Trouble::NotFound, "enter.nothing-called"_w, {text, kind_list});
}

}  // namespace steep
