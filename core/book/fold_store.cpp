// The fold of a record brought into head, wide table, review and digest.
#include <algorithm>
#include <tuple>

#include "base/text.h"
#include "book/after_fold.h"
#include "book/digest.h"
#include "book/fold.h"
#include "book/reviews.h"
#include "book/store.h"
#include "book/wide.h"
#include "quantity/written.h"

namespace steep {
namespace {

/// What the tables held of a record.
struct Before {
  Id uid;
  std::int64_t part = 0, first = 0;
  std::string kind;  ///< Empty: no change of it counted, so nothing derived is there either.
  bool needs_newer = false, struck = false, differs = false, reviewed = false;
};

Result<Before> before_of(const Store& store, std::int64_t record) {
  Before before;
  auto query = store.db.query("SELECT uid, part, kind, first, needs_newer FROM record WHERE id=?");
  query.bind(1, record);
  if (query.next()) {
    before.uid = query.id(0);
    before.part = query.integer(1);
    before.kind = query.text(2);
    before.first = query.integer(3);
    before.needs_newer = query.integer(4) != 0;
  }
  TRY(query.done());
  if (before.kind.empty()) return before;
  auto reviews = store.db.query("SELECT 1 FROM review WHERE rec=? LIMIT 1");
  reviews.bind(1, record);
  before.reviewed = reviews.next();
  TRY(reviews.done());
  if (const WideTable* table = wide_table(before.kind)) {
    auto row = store.db.query(table->state);
    row.bind(1, record);
    if (row.next()) {
      before.struck = row.integer(0) != 0;
      before.differs = row.integer(1) != 0;
    }
    TRY(row.done());
  }
  return before;
}

/// Ready lines, those set aside marked, unreadable ones left out: `check` names those. In `room`, which grows as needed.
/// `said`: by these and by those that wait.
Result<std::span<const FoldLine>> lines_of(Store& store, std::int64_t record, std::vector<FoldLine>& room, Said& said) {
  std::size_t lines = 0;
  auto query = store.db.query("SELECT id, hash, batch, body, ready FROM change WHERE rec=?");
  query.bind(1, record);
  while (query.next()) {
    if (lines == room.size()) room.emplace_back();
    FoldLine& line = room[lines];
    if (!read_change(query.text_view(3), line.change)) continue;
    said.add(line.change);
    if (query.integer(4) == 0) continue;
    ++lines;
    line.row = query.integer(0);
    line.aside = !query.is_null(2) && store.aside.count(query.integer(2)) > 0;
    line.hash = query.hash(1);
  }
  TRY(query.done());
  return std::span<const FoldLine>(room.data(), lines);
}

struct HeadRow {
  std::int64_t group = 0, change = 0;
  bool wins = false;
  Hash hash{};
  auto key() const { return std::tie(group, change, wins); }
  bool operator<(const HeadRow& other) const { return key() < other.key(); }
};

/// Without their hashes: most stay, and need none.
Result<std::vector<HeadRow>> old_heads(const Store& store, std::int64_t record) {
  std::vector<HeadRow> rows;
  auto query = store.db.query("SELECT grp, chg, win FROM head WHERE rec=?");
  query.bind(1, record);
  while (query.next()) rows.push_back({query.integer(0), query.integer(1), query.integer(2) != 0, {}});
  TRY(query.done());
  return rows;
}

/// Of a line that counts; one that was set aside is asked for.
Result<Hash> hash_of(const Store& store, std::span<const FoldLine> lines, std::int64_t row) {
  for (const FoldLine& line : lines)
    if (line.row == row) return line.hash;
  Hash hash{};
  auto query = store.db.query("SELECT hash FROM change WHERE id=?");
  query.bind(1, row);
  if (query.next()) hash = query.hash(0);
  TRY(query.done());
  return hash;
}

/// Writes only what differs, and the digest with it.
Result<void> put_heads(Store& store, std::int64_t record, const Before& before, std::span<const FoldLine> lines,
                       std::vector<HeadRow> fresh) {
  std::vector<HeadRow> old;
  if (!before.kind.empty()) {
    TRY_ASSIGN(old, old_heads(store, record));
  }
  std::sort(old.begin(), old.end());
  std::sort(fresh.begin(), fresh.end());
  const Part& part = store.parts[before.part];
  std::vector<HeadRow> gone, come;
  std::set_difference(old.begin(), old.end(), fresh.begin(), fresh.end(), std::back_inserter(gone));
  std::set_difference(fresh.begin(), fresh.end(), old.begin(), old.end(), std::back_inserter(come));
  for (const HeadRow& row : gone) {
    TRY_ASSIGN(const Hash& hash, hash_of(store, lines, row.change));
    digest_subtract(store.digest, digest_term(part, before.uid, store.group_keys[row.group], hash, row.wins));
    auto query = store.db.query("DELETE FROM head WHERE rec=? AND grp=? AND chg=?");
    query.bind(1, record).bind(2, row.group).bind(3, row.change);
    TRY(query.run());
  }
  for (const HeadRow& row : come) {
    digest_add(store.digest, digest_term(part, before.uid, store.group_keys[row.group], row.hash, row.wins));
    auto query = store.db.query("INSERT INTO head(rec, grp, chg, win) VALUES(?,?,?,?)");
    query.bind(1, record).bind(2, row.group).bind(3, row.change).bind(4, std::int64_t{row.wins});
    TRY(query.run());
  }
  return {};
}

/// Of a group that gathers: what all its heads say together, in place of the winner's.
FieldValue gathered_of(std::span<const FoldLine> lines, const FoldedGroup& group) {
  std::vector<const FieldValue*> lists;
  for (const std::size_t head : group.heads) lists.push_back(field_of(lines[head].change, group.key));
  return gathered(group.key, lists);
}

void bind_value(Query& query, const WideField& field, const FieldValue& value) {
  switch (field.form) {
    case WideField::YesNo:
      if (value.type == FieldType::YesNo) query.bind(field.place, std::int64_t{value.text == "yes"});
      return;
    case WideField::Reference:
      if (value.type == FieldType::Reference)
        if (const auto id = Id::parse(value.text)) query.bind(field.place, *id);
      return;
    case WideField::Instant:
      if (value.type == FieldType::Instant)
        if (const auto stamp = parse_stamp(value.text))
          query.bind(field.place, stamp->at.ms).bind(field.place + 1, std::int64_t{stamp->offset_minutes});
      return;
    case WideField::List:
      if (value.type == FieldType::List) query.bind(field.place, join_items(value.items));
      return;
    case WideField::Text: break;
  }
  if (value.type == FieldType::List) return;
  query.bind(field.place, value.text);
  if (field.number != 0 && value.type == FieldType::Number)
    if (const auto number = parse_journal_number(value.text)) query.bind(field.number, number->to_double());
  if (field.si != 0 && value.type == FieldType::Quantity)
    if (const auto written = parse_written(value.text)) query.bind(field.si, si(*written).to_double());
}

std::string differing_groups(const Folded& folded) {
  std::vector<std::string> keys;
  for (const FoldedGroup& group : folded.groups)
    if (group.differs) keys.push_back(group.key);
  return join(keys, " ");
}

void bind_text_or_null(Query& query, int place, const std::string& text) {
  if (text.empty())
    query.bind_null(place);
  else
    query.bind(place, text);
}

Result<void> put_wide(Store& store, const WideTable& table, std::int64_t record, const Before& before,
                      std::span<const FoldLine> lines, const Folded& folded) {
  auto query = store.db.query(before.kind == table.kind->name ? table.put : table.insert);
  const Change& first = lines[folded.first].change;
  query.bind(WideRec, record).bind(WideUid, before.uid).bind(WidePart, store.parts[before.part].text());
  query.bind(WideMadeMs, first.wall).bind(WideMadeOffset, std::int64_t{first.zone_minutes});
  if (!first.person.is_nil()) query.bind(WideMadeBy, first.person);
  query.bind(WideLane, store.lanes[first.lane].row);
  bind_text_or_null(query, WideStruck, folded.struck);
  bind_text_or_null(query, WideDiffers, differing_groups(folded));
  query.bind(WideNeedsNewer, std::int64_t{folded.needs_newer});
  std::string not_taken;
  const auto put = [&](const FieldValue& value) {
    const WideField* field = table.field(value.key);
    if (field == nullptr) return;
    if (value.type == FieldType::NotTaken)
      not_taken += ' ' + value.key;
    else
      bind_value(query, *field, value);
  };
  for (const FoldedGroup& group : folded.groups) {
    if (gathers(group.key) && group.heads.size() > 1) {
      put(gathered_of(lines, group));
      continue;
    }
    for (const FieldValue& value : lines[group.heads[0]].change.fields)
      if (group_of(value.key) == group.key) put(value);
  }
  bind_text_or_null(query, WideNotTaken, not_taken.empty() ? not_taken : not_taken + ' ');
  return query.run();
}

Result<void> put_reviews(const Store& store, std::int64_t record, const Before& before, std::span<const FoldLine> lines,
                         const Folded& folded) {
  if (before.reviewed) TRY(drop_reviews(store, record, ReviewSource::Fold));
  for (const FoldedGroup& group : folded.groups) {
    if (!group.differs) continue;
    std::int64_t since = 0;
    for (const std::size_t head : group.heads) since = std::max(since, lines[head].change.wall);
    TRY(add_review(store, record, group.key, "review.differs"_w, {std::to_string(group.heads.size())}, since,
                   ReviewSource::Fold));
  }
  for (const std::string& key : folded.unaware) {
    const FoldedGroup* group = folded.group(key);
    TRY(add_review(store, record, key, "review.edited_unaware"_w, {folded.struck}, lines[group->heads[0]].change.wall,
                   ReviewSource::Fold));
  }
  if (folded.needs_newer)
    TRY(add_review(store, record, {}, "review.newer"_w, {}, lines[folded.first].change.wall, ReviewSource::Fold));
  return {};
}

Result<void> put_record(Store& store, std::int64_t record, std::string_view kind, std::int64_t first, bool newer) {
  auto query = store.db.query("UPDATE record SET kind=?, first=?, needs_newer=? WHERE id=?");
  if (kind.empty())
    query.bind_null(1).bind_null(2);
  else
    query.bind(1, kind).bind(2, first);
  query.bind(3, std::int64_t{newer}).bind(4, record);
  return query.run();
}

Result<void> drop_wide(Store& store, const std::string& kind, std::int64_t record) {
  const WideTable* table = wide_table(kind);
  if (table == nullptr) return {};
  auto query = store.db.query(table->drop_row);
  query.bind(1, record);
  return query.run();
}

/// No change of the record counts any more, or none does yet.
Result<void> fold_to_nothing(Store& store, std::int64_t record, const Before& before, FoldSum& sum) {
  TRY(put_heads(store, record, before, {}, {}));
  if (before.kind.empty()) return {};
  store.let_go(before.kind);
  TRY(drop_wide(store, before.kind, record));
  TRY(put_record(store, record, {}, 0, false));
  TRY(drop_reviews(store, record));
  ++sum.changed;
  if (before.struck) sum.struck_changed.emplace_back(record, before.uid);
  return {};
}

/// Nil when somebody said that it stands although the parent is struck.
Id parent_of(const KindDef& kind, std::span<const FoldLine> lines, const Folded& folded) {
  const auto winning = [&](std::string_view key) -> const FieldValue* {
    const FoldedGroup* group = folded.group(group_of(key));
    return group == nullptr ? nullptr : field_of(lines[group->heads[0]].change, key);
  };
  const FieldValue* parent = winning(kind.parent);
  if (parent == nullptr || parent->type != FieldType::Reference) return {};
  if (const FoldedGroup* group = folded.group("settled")) {
    const FieldValue settled = gathered_of(lines, *group);
    if (std::find(settled.items.begin(), settled.items.end(), parent->text) != settled.items.end()) return {};
  }
  return Id::parse(parent->text).value_or(Id{});
}

}  // namespace

Result<void> fold_record(Store& store, std::int64_t record, FoldSum& sum, bool is_new) {
  Said said;
  TRY_ASSIGN(const std::span<const FoldLine> lines, lines_of(store, record, sum.lines, said));
  Before before;
  if (is_new && !lines.empty()) {
    before.uid = lines[0].change.record;
    before.part = store.lanes[lines[0].change.lane].part_row;
  } else {
    TRY_ASSIGN(before, before_of(store, record));
  }
  FoldedRecord& done = sum.records.emplace_back();
  done.row = record;
  done.uid = before.uid;
  done.reviewed = before.reviewed;
  if (names_others(said.kind)) {
    said.record = before.uid;
    sum.said.push_back(std::move(said));
  }
  if (before.kind == "book") sum.book_record = true;
  if (std::all_of(lines.begin(), lines.end(), [](const FoldLine& line) { return line.aside; }))
    return fold_to_nothing(store, record, before, sum);

  const Folded folded = fold(lines);
  const std::string& kind = lines[folded.first].change.kind;
  store.let_go(before.kind);
  store.let_go(kind);
  std::vector<HeadRow> heads;
  for (const FoldedGroup& group : folded.groups) {
    TRY_ASSIGN(const auto& row, store.group_row(group.key));
    for (std::size_t i = 0; i < group.heads.size(); ++i)
      heads.push_back({row, lines[group.heads[i]].row, i == 0, lines[group.heads[i]].hash});
  }
  TRY(put_heads(store, record, before, lines, std::move(heads)));
  if (before.kind != kind) TRY(drop_wide(store, before.kind, record));
  if (const std::int64_t first = lines[folded.first].row;
      before.kind != kind || before.first != first || before.needs_newer != folded.needs_newer)
    TRY(put_record(store, record, kind, first, folded.needs_newer));
  if (const WideTable* table = wide_table(kind)) {
    TRY(put_wide(store, *table, record, before, lines, folded));
    if (table->kind->rule == PartRule::OfParent && folded.struck.empty())
      done.parent = parent_of(*table->kind, lines, folded);
  }
  TRY(put_reviews(store, record, before, lines, folded));

  done.made = lines[folded.first].change.wall;
  const bool struck = !folded.struck.empty(), differs = !differing_groups(folded).empty();
  ++(before.kind.empty() ? sum.created : sum.changed);
  if (struck && !before.struck) ++sum.struck;
  if (differs && !before.differs) ++sum.differing;
  if (struck != before.struck) sum.struck_changed.emplace_back(record, before.uid);
  if (kind == "book") sum.book_record = true;
  return {};
}

Result<void> fold_all(Store& store) {
  TRY(lay_out_derived(store.db));
  store.kept.clear();
  TRY(store.db.run("UPDATE record SET kind=NULL, first=NULL, needs_newer=0"));
  store.digest = Hash{};
  std::vector<std::int64_t> records;
  auto query = store.db.query("SELECT id FROM record ORDER BY id");
  while (query.next()) records.push_back(query.integer(0));
  TRY(query.done());
  FoldSum sum;
  for (const std::int64_t record : records) TRY(fold_record(store, record, sum));
  return after_fold(store, std::move(sum));
}

}  // namespace steep
