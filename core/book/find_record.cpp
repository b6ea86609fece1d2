// A record by what a person types: its id, its name, a code, 'Ana', 'lot K-19'.
#include <optional>
#include <utility>

#include "base/text.h"
#include "book/codes.h"
#include "book/enter.h"
#include "book/joined.h"
#include "book/places.h"
#include "book/spelled.h"
#include "book/things.h"
#include "book/wide.h"

namespace steep {
namespace {

/// Kinds of which a record can be called by something.
constexpr std::string_view kAnyKind =
    "load|pass|brew|harvest|lot|bed|block|person|material|rig|vessel|recipe|water-source|planting|farm";

/// What one text was found to mean, over several kinds.
struct Found {
  std::vector<Id> records;
  std::vector<std::string> names;  ///< To ask with.
  std::optional<Problem> asked;    ///< A finder of a kind has a better question.

  void add(const Id& record, std::string name) {
    records.push_back(record);
    names.push_back(std::move(name));
  }
  void add(const Result<Id>& record, std::string name) {
    if (record)
      add(*record, std::move(name));
    else if (record.error().kind == Trouble::Ask)
      asked = record.error();
  }
};

Result<void> find_bed(const Book& book, std::string_view text, const Id& farm, Found& found) {
  std::vector<Bed> beds;
  TRY_ASSIGN(const std::vector<Farm>& all, farms(book));
  for (const Farm& one : all) {
    if (!farm.is_nil() && one.id != farm) continue;
    TRY_ASSIGN(Places places, read_places(book, one.id));
    for (Bed& bed : places.beds) beds.push_back(std::move(bed));
  }
  found.add(bed_by_name(beds, text), word_value_text("kind", "bed"));
  return {};
}

/// '48 / 2': the second load of pass 48.
Result<void> find_load(const Book& book, std::string_view text, Found& found) {
  const auto slash = text.rfind('/');
  if (slash == std::string_view::npos) return {};
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  const auto pass = codes.find("pass", trim(text.substr(0, slash)));
  if (!pass) {
    found.add(pass, {});
    return {};
  }
  Query query = book.db().query("SELECT uid FROM k_load WHERE pass = ? AND number = ? AND struck IS NULL");
  query.bind(1, *pass).bind(2, trim(text.substr(slash + 1)));
  while (query.next()) found.add(query.id(0), std::string(text));
  return query.done();
}

Result<void> find_lot(const Book& book, const std::string& wanted, Found& found) {
  TRY_ASSIGN(const std::vector<Lot>& all, lots(book));
  for (const Lot& lot : all)
    if (lower(lot.code) == wanted || lower(lot.name()) == wanted) found.add(lot.id, lot.name());
  return {};
}

Result<void> find_harvest(const Book& book, const std::string& wanted, Found& found) {
  Query query = book.db().query("SELECT uid, code FROM k_harvest WHERE lower(code) = ? AND struck IS NULL");
  query.bind(1, wanted);
  while (query.next()) found.add(query.id(0), query.text(1));
  return query.done();
}

Result<void> find_planting(const Book& book, const std::string& wanted, Found& found) {
  Query query = book.db().query(
      "SELECT p.uid, p.crop, b.name FROM k_planting p LEFT JOIN k_bed b ON b.uid = p.bed WHERE p.struck IS NULL");
  while (query.next()) {
    std::string name = query.text(2) + ' ' + query.text(1);
    if (lower(query.text_view(1)) == wanted || lower(name) == wanted) found.add(query.id(0), std::move(name));
  }
  return query.done();
}

/// Of a kind with a field 'name'; people also by initials, and by the first name where only one is called so.
Result<void> find_named(const Book& book, std::string_view kind, const std::string& wanted, Found& found) {
  const KindDef* def = find_kind(kind);
  if (!def || !find_field(*def, "name")) return {};
  const bool person = kind == "person";
  Query query = book.db().query("SELECT uid, name, " + std::string(person ? "initials" : "''") + " FROM " +
                                wide_name(kind) + " WHERE struck IS NULL");
  Found exact, by_first_name;
  TRY_ASSIGN(const Joined& joined, Joined::read(book, kind));
  while (query.next()) {
    if (joined.hides(query.id(0))) continue;
    const std::string name = lower(query.text_view(1));
    if (name == wanted || (person && lower(query.text_view(2)) == wanted))
      exact.add(query.id(0), query.text(1));
    else if (person && name.substr(0, name.find(' ')) == wanted)
      by_first_name.add(query.id(0), query.text(1));
  }
  TRY(query.done());
  Found& meant = exact.records.empty() ? by_first_name : exact;
  for (std::size_t i = 0; i < meant.records.size(); ++i) found.add(meant.records[i], std::move(meant.names[i]));
  return {};
}

Result<void> find_of_kind(const Book& book, std::string_view kind, std::string_view text, const Id& farm,
                          Found& found) {
  const std::string wanted = lower(text);
  if (kind == "bed") return find_bed(book, text, farm, found);
  if (kind == "load") return find_load(book, text, found);
  if (kind == "lot") return find_lot(book, wanted, found);
  if (kind == "harvest") return find_harvest(book, wanted, found);
  if (kind == "planting") return find_planting(book, wanted, found);
  if (kind != "brew" && kind != "pass") return find_named(book, kind, wanted, found);
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  const auto coded = codes.find(kind, text);
  found.add(coded, coded ? code_value_text(kind, codes.text(*coded)) : std::string());
  return {};
}

/// 'lot K-19', 'Lote K-19' → 'K-19'; empty when the text does not begin with a word for this kind.
std::string_view without_kind_word(std::string_view kind, std::string_view text) {
  const std::string key = "kind." + std::string(kind), low = lower(text);
  for (const std::string& word :
       {std::string(kind), Words(Language::English).stored(key, kind), Words(Language::Spanish).stored(key, kind)})
    if (const std::string start = lower(word) + ' '; low.starts_with(start)) return trim(text.substr(start.size()));
  return {};
}

}  // namespace

Result<Id> find_record(const Book& book, std::string_view kind_list, std::string_view typed, const Id& farm) {
  const std::string_view text = trim(typed);
  if (const auto id = Id::parse(text); id && !book.kind_of(*id).empty()) return *id;
  const auto kinds = split(kind_list.empty() ? kAnyKind : kind_list, '|');
  Found found;
  for (const std::string_view kind : kinds)
    if (const std::string_view rest = without_kind_word(kind, text); !rest.empty())
      TRY(find_of_kind(book, kind, rest, farm, found));
  // A bed may be called 'Lot 5'.
  if (found.records.empty() && !found.asked)
    for (const std::string_view kind : kinds) TRY(find_of_kind(book, kind, text, farm, found));
  if (found.records.size() == 1) return found.records.front();
  if (found.asked) return tl::unexpected<Problem>(*found.asked);
  if (found.records.empty() && kinds.size() > 1) return refuse(Trouble::NotFound, "enter.nothing-so-called"_w, {text});
  if (found.records.empty())
    return refuse(Trouble::NotFound, "enter.nothing-called"_w, {text, word_value_text("kind", kinds.front())});
  found.names.insert(found.names.begin(), std::string(text));
  return refuse(Trouble::Ask, "enter.several"_w, found.names);
}

}  // namespace steep
