#include "book/asking.h"

#include <algorithm>

#include "book/rows.h"
#include "book/saves.h"

namespace steep {
namespace {

/// Of these versions at least two stand against each other.
bool is_open(const Group& group, const std::vector<std::string>& versions) {
  if (!group.differs) return false;
  return std::count_if(group.heads.begin(), group.heads.end(), [&](const Head& head) {
           return std::find(versions.begin(), versions.end(), head.ref.text()) != versions.end();
         }) > 1;
}

}  // namespace

Result<Outcome> ask_person(Book& book, const Id& id, std::string_view group, const Id& person, std::string_view text,
                           const Going& going) {
  if (book.kind_of(person) != "person") return refuse(Trouble::BadInput, "asking.nobody"_w, {}, "person");
  TRY_ASSIGN(const Record record, existing_record(book, id));
  std::vector<std::string> versions;
  for (const Group& one : record.groups)
    if (one.differs && (group.empty() || one.key == group))
      for (const Head& head : one.heads) versions.push_back(head.ref.text());
  if (versions.empty()) return refuse(Trouble::BadInput, "settle.agrees"_w);
  Save save =
      new_save(book, "note",
               {reference_value("of", id), text_field_value("text", clean_text(text)), instant_value("at", book.now()),
                reference_value("ask.person", person), list_value("ask.versions", std::move(versions))});
  const Id note = save.record;
  return write_with(book, {std::move(save)}, note, {}, going);
}

Result<std::vector<AskedFact>> open_asks(const Book& book, const Id& person) {
  std::vector<std::pair<AskedFact, std::vector<std::string>>> asked;
  // Answered ones stay on record: only those of a record that differs are looked at.
  Rows rows(
      book, "note",
      "WHERE struck IS NULL AND ask_person IS NOT NULL AND \"of\" IN (SELECT r.uid FROM review v JOIN record r ON "
      "r.id = v.rec WHERE v.why = 'review.differs') ORDER BY COALESCE(at, made_ms), uid");
  while (rows.next()) {
    RecordFacts facts;
    rows.facts(facts);
    AskedFact one;
    one.note = facts.id;
    one.record = rows.reference("of");
    one.person = rows.reference("ask.person");
    one.by = facts.made_by;
    one.text = rows.text("text");
    one.at = rows.instant("at").value_or(facts.made).at;
    if (person.is_nil() || one.person == person) asked.emplace_back(std::move(one), rows.list("ask.versions"));
  }
  TRY(rows.done());
  std::vector<AskedFact> open;
  for (auto& [one, versions] : asked) {
    TRY_ASSIGN(const std::optional<Record> record, book.record(one.record));
    if (!record) continue;
    one.kind = record->kind;
    for (const Group& group : record->groups)
      if (is_open(group, versions)) one.groups.push_back(group.key);
    if (!one.groups.empty()) open.push_back(std::move(one));
  }
  return open;
}

}  // namespace steep
