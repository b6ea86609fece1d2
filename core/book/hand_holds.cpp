#include "book/hand_holds.h"

#include <algorithm>

#include "book/rows.h"
#include "book/things.h"

namespace steep {
namespace {

SetHold of_row(const Book& book, const Rows& rows, const RecordFacts& facts) {
  SetHold hold;
  hold.hold = facts.id;
  hold.beds.push_back(rows.reference("bed"));
  const std::string what = rows.text("what");
  hold.harvest = what != "entry";
  hold.entry = what != "harvest";
  hold.set = facts.happened();
  if (const Taken<Stamp> until = rows.instant("until")) hold.until = until->at;
  hold.stretch =
      stretch_between(rows.quantity<Length>("stretch.from").maybe(), rows.quantity<Length>("stretch.to").maybe());
  hold.who = person_name(book, facts.made_by);
  hold.why = rows.text("why");
  return hold;
}

/// Known only from lines that wait: what they do not say may be anything.
Result<SetHold> of_lines(const Book& book, const Doubts& doubts, const Id& id) {
  SetHold hold;
  hold.hold = id;
  hold.harvest = hold.entry = doubts.readings(id, "what").empty();
  TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(id));
  if (!lines.empty()) {
    hold.set = Moment{lines.front().change.wall};
    hold.who = person_name(book, lines.front().change.person);
  }
  for (const FieldValue& why : doubts.readings(id, "why")) hold.why = why.text;
  return hold;
}

/// What holds under one of the readings holds, on each bed that one of them names, until the latest end.
void widen(SetHold& hold, const Doubts& doubts, bool has_row) {
  hold.in_question = true;
  hold.stretch.reset();
  for (const FieldValue& bed : doubts.readings(hold.hold, "bed"))
    if (const auto id = Id::parse(bed.text);
        id && std::find(hold.beds.begin(), hold.beds.end(), *id) == hold.beds.end())
      hold.beds.push_back(*id);
  for (const FieldValue& what : doubts.readings(hold.hold, "what")) {
    hold.harvest = hold.harvest || what.text != "entry";
    hold.entry = hold.entry || what.text != "harvest";
  }
  const std::vector<FieldValue> ends = doubts.readings(hold.hold, "until");
  // A row without an end has none, whatever lines that wait say.
  bool endless = !hold.until && (has_row || ends.empty());
  for (const FieldValue& end : ends) {
    const auto stamp = parse_stamp(end.text);
    endless = endless || !stamp;
    if (stamp && (!hold.until || stamp->at > *hold.until)) hold.until = stamp->at;
  }
  if (endless) hold.until.reset();
}

/// nullopt: struck for good.
Result<std::optional<SetHold>> in_doubt(const Book& book, const Doubts& doubts, const Id& id) {
  std::optional<SetHold> hold;
  Rows rows(book, "hold", "WHERE uid = ?");
  rows.query().bind(1, id);
  const bool has_row = rows.next();
  if (has_row) {
    RecordFacts facts;
    rows.facts(facts);
    if (!facts.is_struck() || doubts.counts_although_struck(id)) hold = of_row(book, rows, facts);
  }
  TRY(rows.done());
  if (!has_row) {
    TRY_ASSIGN(hold, of_lines(book, doubts, id));
  }
  if (hold) widen(*hold, doubts, has_row);
  return hold;
}

}  // namespace

Result<std::vector<SetHold>> hand_holds(const Book& book, const Doubts& doubts, const Id& bed) {
  std::vector<SetHold> holds;
  Rows rows(book, "hold", bed.is_nil() ? "WHERE struck IS NULL" : "WHERE struck IS NULL AND bed = ?");
  if (!bed.is_nil()) rows.query().bind(1, bed);
  while (rows.next()) {
    RecordFacts facts;
    rows.facts(facts);
    if (!doubts.has(facts.id)) holds.push_back(of_row(book, rows, facts));
  }
  TRY(rows.done());
  for (const auto& [id, kind] : doubts.records()) {
    if (kind != "hold") continue;
    TRY_ASSIGN(std::optional<SetHold> hold, in_doubt(book, doubts, id));
    if (!hold) continue;
    if (bed.is_nil() || std::find(hold->beds.begin(), hold->beds.end(), bed) != hold->beds.end())
      holds.push_back(std::move(*hold));
  }
  return holds;
}

}  // namespace steep
