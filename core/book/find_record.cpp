// A record by what a person types: its id, its name, a code, 'Ana', 'lot K-19'.
#include <algorithm>
#include <optional>
#include <span>
#include <utility>

#include "base/text.h"
#include "book/called.h"
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

/// Where is looked, and among what.
struct Search {
  const Book& book;
  Id farm;              ///< Its places go before equal names of others; nil = none does.
  bool struck = false;  ///< Only what was struck, instead of what stands.

  const char* standing() const { return struck ? " struck IS NOT NULL" : " struck IS NULL"; }
};

/// What one text was found to mean, over several kinds.
struct Found {
  std::vector<Id> records;
  std::vector<std::string> names;  ///< To ask with.
  std::optional<Problem> asked;    ///< A finder of a kind has a better question.
  std::optional<Problem> no_such;  ///< … or says better what there is.
  std::vector<std::string> known;  ///< What there is, for a near name.

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
  void add(const Found& other) {
    for (std::size_t i = 0; i < other.records.size(); ++i) add(other.records[i], other.names[i]);
  }
};

/// How well a name fits what was typed; only the best that are there count.
enum class Fit { Not, FirstName, Unaccented, Same };

Fit fit(std::string_view name, std::string_view typed) {
  if (lower(name) == lower(typed)) return Fit::Same;
  return unaccented(name) == unaccented(typed) ? Fit::Unaccented : Fit::Not;
}

/// Keeps those that fit best.
struct Best {
  Fit so_far = Fit::Not;
  Found found;

  void add(Fit how, const Id& record, std::string name) {
    if (how == Fit::Not || how < so_far) return;
    if (how > so_far) found = {};
    so_far = how;
    found.add(record, std::move(name));
  }
};

/// The one bed so called, or what bed_by_name asks.
Result<void> find_bed(const Search& in, std::string_view text, Found& found) {
  std::vector<Bed> beds;
  TRY_ASSIGN(const std::vector<Farm>& all, farms(in.book));
  for (const Farm& one : all) {
    if (!in.farm.is_nil() && one.id != in.farm) continue;
    TRY_ASSIGN(Places places, read_places(in.book, one.id));
    for (Bed& bed : places.beds) beds.push_back(std::move(bed));
  }
  const auto bed = bed_by_name(beds, text);
  found.add(bed, code_value_text("bed", text));
  if (!bed && bed.error().word.key == "place.bed-not-among") found.no_such = bed.error();
  return {};
}

/// '48 / 2': the second load of pass 48.
Result<void> find_load(const Search& in, std::string_view text, Found& found) {
  const auto slash = text.rfind('/');
  if (slash == std::string_view::npos) return {};
  TRY_ASSIGN(const Codes& codes, Codes::read(in.book));
  const auto pass = codes.find("pass", trim(text.substr(0, slash)));
  if (!pass) {
    found.add(pass, {});
    return {};
  }
  Query query =
      in.book.db().query(std::string("SELECT uid FROM k_load WHERE pass = ? AND number = ? AND") + in.standing());
  query.bind(1, *pass).bind(2, trim(text.substr(slash + 1)));
  while (query.next()) found.add(query.id(0), std::string(text));
  return query.done();
}

/// By its code, or its material and code.
Result<void> find_lot(const Search& in, std::string_view text, Found& found) {
  Query query = in.book.db().query(
      std::string("SELECT l.uid, coalesce(l.code, ''), coalesce(m.name, '') FROM k_lot l LEFT JOIN k_material m ON "
                  "m.uid = l.material WHERE l.") +
      (in.standing() + 1));
  TRY_ASSIGN(const Joined& joined, Joined::read(in.book, "lot"));
  Best best;
  while (query.next()) {
    if (joined.hides(query.id(0))) continue;
    Lot lot;
    lot.code = query.text(1);
    lot.material_name = query.text(2);
    best.add(std::max(fit(lot.code, text), fit(lot.name(), text)), query.id(0), lot.name());
    found.known.push_back(lot.name());
    if (!lot.code.empty()) found.known.push_back(std::move(lot.code));
  }
  found.add(best.found);
  return query.done();
}

Result<void> find_harvest(const Search& in, std::string_view text, Found& found) {
  Query query = in.book.db().query(std::string("SELECT uid, code FROM k_harvest WHERE") + in.standing());
  Best best;
  while (query.next()) {
    best.add(fit(query.text_view(1), text), query.id(0), query.text(1));
    found.known.push_back(query.text(1));
  }
  found.add(best.found);
  return query.done();
}

Result<void> find_planting(const Search& in, std::string_view text, Found& found) {
  Query query = in.book.db().query(
      std::string("SELECT p.uid, p.crop, b.name FROM k_planting p LEFT JOIN k_bed b ON b.uid = p.bed WHERE p.") +
      (in.standing() + 1));
  Best best;
  while (query.next()) {
    std::string name = query.text(2) + ' ' + query.text(1);
    best.add(std::max(fit(query.text_view(1), text), fit(name, text)), query.id(0), std::move(name));
  }
  found.add(best.found);
  return query.done();
}

/// Of a kind with a field 'name'; people also by initials, and by the first name where only one is called so.
Result<void> find_named(const Search& in, std::string_view kind, std::string_view text, Found& found) {
  const KindDef* def = find_kind(kind);
  if (!def || !find_field(*def, "name")) return {};
  const bool person = kind == "person", on_farm = find_field(*def, "farm") != nullptr;
  Query query = in.book.db().query("SELECT uid, name, " + std::string(person ? "initials" : "''") + ", " +
                                   (on_farm ? "farm" : "NULL") + " FROM " + wide_name(kind) + " WHERE" + in.standing());
  TRY_ASSIGN(const Joined& joined, Joined::read(in.book, kind));
  Best everywhere, here;
  while (query.next()) {
    if (joined.hides(query.id(0))) continue;
    const std::string name = query.text(1);
    Fit how = fit(name, text);
    if (person && lower(query.text_view(2)) == lower(text)) how = Fit::Same;
    if (how == Fit::Not && person && fit(name.substr(0, name.find(' ')), text) != Fit::Not) how = Fit::FirstName;
    if (!in.farm.is_nil() && query.id(3) == in.farm) here.add(how, query.id(0), name);
    everywhere.add(how, query.id(0), name);
    found.known.push_back(name);
  }
  found.add(here.found.records.empty() ? everywhere.found : here.found);
  return query.done();
}

Result<void> find_of_kind(const Search& in, std::string_view kind, std::string_view text, Found& found) {
  if (kind == "bed" && !in.struck) return find_bed(in, text, found);
  if (kind == "load") return find_load(in, text, found);
  if (kind == "lot") return find_lot(in, text, found);
  if (kind == "harvest") return find_harvest(in, text, found);
  if (kind == "planting") return find_planting(in, text, found);
  if (kind != "brew" && kind != "pass") return find_named(in, kind, text, found);
  TRY_ASSIGN(const Codes& codes, Codes::read(in.book));
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

/// What the text means: with the word for its kind before it, else as it stands.
Result<Found> found_as(const Search& in, std::span<const std::string_view> kinds, std::string_view text) {
  Found found;
  for (const std::string_view kind : kinds)
    if (const std::string_view rest = without_kind_word(kind, text); !rest.empty())
      TRY(find_of_kind(in, kind, rest, found));
  // A bed may be called 'Lot 5'.
  if (found.records.empty() && !found.asked)
    for (const std::string_view kind : kinds) TRY(find_of_kind(in, kind, text, found));
  return found;
}

/// 'Finca Rosa ncqewx': that one of those called Finca Rosa; nil = the last word is no end of an id.
Result<Id> found_by_end(const Search& in, std::span<const std::string_view> kinds, std::string_view text) {
  const std::size_t gap = text.rfind(' ');
  if (gap == std::string_view::npos) return Id{};
  TRY_ASSIGN(const Found& found, found_as(in, kinds, trim(text.substr(0, gap))));
  for (const Id& record : found.records)
    if (id_end(record) == lower(text.substr(gap + 1))) return record;
  return Id{};
}

Result<Id> nothing_called(const Found& found, std::string_view text, std::span<const std::string_view> kinds) {
  if (kinds.size() == 1 && found.no_such) return tl::unexpected<Problem>(*found.no_such);
  const std::string near = nearest_name(text, found.known);
  if (kinds.size() > 1)
    return near.empty() ? refuse(Trouble::NotFound, "enter.nothing-so-called"_w, {text})
                        : refuse(Trouble::NotFound, "enter.nothing-so-called-like"_w, {std::string(text), near});
  const std::string kind = word_value_text("kind", kinds.front());
  return near.empty() ? refuse(Trouble::NotFound, "enter.nothing-called"_w, {std::string(text), kind})
                      : refuse(Trouble::NotFound, "enter.nothing-like"_w, {std::string(text), kind, near});
}

/// Each choice so that typing it is the answer.
Result<Id> which_of(Found found, std::string_view text) {
  const std::vector<std::string> names = found.names;
  for (std::size_t i = 0; i < names.size(); ++i)
    if (std::count(names.begin(), names.end(), names[i]) > 1) found.names[i] += ' ' + id_end(found.records[i]);
  found.names.insert(found.names.begin(), std::string(text));
  return refuse(Trouble::Ask, "enter.several"_w, found.names);
}

Result<Id> find_in(const Search& in, std::string_view kind_list, std::string_view typed) {
  const std::string_view text = trim(typed);
  if (const auto id = Id::parse(text); id && !in.book.kind_of(*id).empty()) return *id;
  const auto kinds = split(kind_list.empty() ? kAnyKind : kind_list, '|');
  TRY_ASSIGN(Found found, found_as(in, kinds, text));
  if (found.records.size() == 1) return found.records.front();
  if (found.asked) return tl::unexpected<Problem>(*found.asked);
  if (!found.records.empty()) return which_of(std::move(found), text);
  TRY_ASSIGN(const Id& by_end, found_by_end(in, kinds, text));
  return by_end.is_nil() ? nothing_called(found, text, kinds) : Result<Id>(by_end);
}

}  // namespace

Result<Id> find_record(const Book& book, std::string_view kinds, std::string_view typed, const Id& farm) {
  return find_in({book, farm}, kinds, typed);
}

Result<Id> find_struck(const Book& book, std::string_view kinds, std::string_view typed) {
  return find_in({book, {}, true}, kinds, typed);
}

}  // namespace steep
