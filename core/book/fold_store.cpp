// The fold of a record brought into head, wide table, review and digest.
#include <algorithm>
#include <tuple>

#include "base/text.h"
#include "book/digest.h"
#include "book/fold.h"
#include "book/store.h"
#include "book/wide.h"
#include "quantity/written.h"

namespace steep {
namespace {

/// What the tables held of a record.
struct Before {
  Id uid;
  std::int64_t part = 0;
  std::string kind;
  bool struck = false, differs = false;
};

Result<Before> before_of(Store& store, std::int64_t record) {
  Before before;
  auto query = store.db.query("SELECT uid, part, kind FROM record WHERE id=?");
  query.bind(1, record);
  if (query.next()) {
    before.uid = query.id(0);
    before.part = query.integer(1);
    before.kind = query.text(2);
  }
  TRY(query.done());
  if (const WideTable* table = wide_table(before.kind)) {
    auto row = store.db.query("SELECT struck, differs FROM " + table->name + " WHERE rec=?");
    row.bind(1, record);
    if (row.next()) {
      before.struck = !row.is_null(0);
      before.differs = !row.is_null(1);
    }
    TRY(row.done());
  }
  return before;
}

/// Ready lines that count, unreadable ones left out: `check` names those.
Result<std::vector<FoldLine>> lines_of(Store& store, std::int64_t record) {
  std::vector<FoldLine> lines;
  auto query = store.db.query("SELECT id, hash, batch, body FROM change WHERE rec=? AND ready=1");
  query.bind(1, record);
  while (query.next()) {
    if (!query.is_null(2) && store.aside.count(query.integer(2)) > 0) continue;
    auto change = read_change(query.text_view(3));
    if (!change) continue;
    FoldLine& line = lines.emplace_back();
    line.row = query.integer(0);
    const auto hash = query.bytes(1);
    std::copy_n(hash.begin(), std::min(hash.size(), line.hash.size()), line.hash.begin());
    line.change = std::move(*change);
  }
  TRY(query.done());
  return lines;
}

struct HeadRow {
  std::int64_t group = 0, change = 0;
  bool wins = false;
  Hash hash{};
  auto key() const { return std::tie(group, change, wins); }
  bool operator<(const HeadRow& other) const { return key() < other.key(); }
};

Result<std::vector<HeadRow>> old_heads(Store& store, std::int64_t record) {
  std::vector<HeadRow> rows;
  auto query = store.db.query(
      "SELECT h.grp, h.chg, h.win, c.hash FROM head h JOIN change c ON c.id=h.chg WHERE h.rec=?");
  query.bind(1, record);
  while (query.next()) {
    HeadRow row{query.integer(0), query.integer(1), query.integer(2) != 0, {}};
    const auto hash = query.bytes(3);
    std::copy_n(hash.begin(), std::min(hash.size(), row.hash.size()), row.hash.begin());
    rows.push_back(row);
  }
  TRY(query.done());
  return rows;
}

/// Writes only what differs, and the digest with it.
Result<void> put_heads(Store& store, std::int64_t record, const Before& before, std::vector<HeadRow> fresh) {
  TRY_ASSIGN(auto old, old_heads(store, record));
  std::sort(old.begin(), old.end());
  std::sort(fresh.begin(), fresh.end());
  const Part& part = store.parts[before.part];
  std::vector<HeadRow> gone, come;
  std::set_difference(old.begin(), old.end(), fresh.begin(), fresh.end(), std::back_inserter(gone));
  std::set_difference(fresh.begin(), fresh.end(), old.begin(), old.end(), std::back_inserter(come));
  for (const HeadRow& row : gone) {
    digest_subtract(store.digest, digest_term(part, before.uid, store.group_keys[row.group], row.hash, row.wins));
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
  if (text.empty()) query.bind_null(place);
  else query.bind(place, text);
}

Result<void> put_wide(Store& store, const WideTable& table, std::int64_t record, const Before& before,
                      std::span<const FoldLine> lines, const Folded& folded) {
  auto query = store.db.query(table.put);
  const Change& first = lines[folded.first].change;
  query.bind(WideRec, record).bind(WideUid, before.uid).bind(WidePart, store.parts[before.part].text());
  query.bind(WideMadeMs, first.wall).bind(WideMadeOffset, std::int64_t{first.zone_minutes});
  if (!first.person.is_nil()) query.bind(WideMadeBy, first.person);
  query.bind(WideLane, store.lanes[first.lane].row);
  bind_text_or_null(query, WideStruck, folded.struck);
  bind_text_or_null(query, WideDiffers, differing_groups(folded));
  query.bind(WideNeedsNewer, std::int64_t{folded.needs_newer});
  std::string not_taken;
  for (const FoldedGroup& group : folded.groups) {
    for (const FieldValue& value : lines[group.heads[0]].change.fields) {
      if (group_of(value.key) != group.key) continue;
      const WideField* field = table.field(value.key);
      if (field == nullptr) continue;
      if (value.type == FieldType::NotTaken) not_taken += ' ' + value.key;
      else bind_value(query, *field, value);
    }
  }
  bind_text_or_null(query, WideNotTaken, not_taken.empty() ? not_taken : not_taken + ' ');
  return query.run();
}

enum Source { OfFold = 0, OfParent = 1, OfChecks = 2, OfParts = 3 };

Result<void> add_review(Store& store, std::int64_t record, std::string_view group, WordId why,
                        const std::vector<std::string>& values, std::int64_t since, Source source) {
  auto query = store.db.query("INSERT INTO review(rec, grp, why, vals, since, source) VALUES(?,?,?,?,?,?)");
  query.bind(1, record).bind(2, group).bind(3, why.key).bind(4, join_items(values)).bind(5, since);
  query.bind(6, std::int64_t{source});
  return query.run();
}

Result<void> drop_reviews(Store& store, std::int64_t record, Source source) {
  auto query = store.db.query("DELETE FROM review WHERE rec=? AND source=?");
  query.bind(1, record).bind(2, std::int64_t{source});
  return query.run();
}

Result<void> put_reviews(Store& store, std::int64_t record, std::span<const FoldLine> lines, const Folded& folded) {
  TRY(drop_reviews(store, record, OfFold));
  for (const FoldedGroup& group : folded.groups) {
    if (!group.differs) continue;
    std::int64_t since = 0;
    for (const std::size_t head : group.heads) since = std::max(since, lines[head].change.wall);
    TRY(add_review(store, record, group.key, "review.differs"_w, {std::to_string(group.heads.size())}, since, OfFold));
  }
  for (const std::string& key : folded.unaware) {
    const FoldedGroup* group = folded.group(key);
    TRY(add_review(store, record, key, "review.edited_unaware"_w, {folded.struck},
                   lines[group->heads[0]].change.wall, OfFold));
  }
  if (folded.needs_newer)
    TRY(add_review(store, record, {}, "review.newer"_w, {}, lines[folded.first].change.wall, OfFold));
  return {};
}

Result<void> put_record(Store& store, std::int64_t record, std::string_view kind, std::int64_t first, bool newer) {
  auto query = store.db.query("UPDATE record SET kind=?, first=?, needs_newer=? WHERE id=?");
  if (kind.empty()) query.bind_null(1).bind_null(2);
  else query.bind(1, kind).bind(2, first);
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
  TRY(put_heads(store, record, before, {}));
  if (before.kind.empty()) return {};
  TRY(drop_wide(store, before.kind, record));
  TRY(put_record(store, record, {}, 0, false));
  for (const Source source : {OfFold, OfParent, OfChecks, OfParts}) TRY(drop_reviews(store, record, source));
  ++sum.changed;
  if (before.struck) sum.struck_changed.push_back(record);
  return {};
}

// ---- After the fold ---------------------------------------------------------------------------

struct KnownRecord {
  Id uid;
  std::string kind;
};
Result<KnownRecord> known_record(Store& store, std::int64_t record) {
  auto query = store.db.query("SELECT uid, kind FROM record WHERE id=?");
  query.bind(1, record);
  KnownRecord known;
  if (query.next()) known = {query.id(0), query.text(1)};
  TRY(query.done());
  return known;
}

Result<bool> is_struck(Store& store, const Id& record) {
  const WideTable* table = wide_table(store.book->kind_of(record));
  if (table == nullptr) return false;
  auto query = store.db.query("SELECT 1 FROM " + table->name + " WHERE uid=? AND struck IS NOT NULL");
  query.bind(1, record);
  const bool struck = query.next();
  TRY(query.done());
  return struck;
}

/// A child that stands although its parent is struck: somebody wrote it before he knew. A person who
/// wants it so puts the parent's id into its `settled`.
Result<void> review_child(Store& store, std::int64_t record) {
  TRY(drop_reviews(store, record, OfParent));
  TRY_ASSIGN(const KnownRecord known, known_record(store, record));
  const WideTable* table = wide_table(known.kind);
  if (table == nullptr || table->kind->rule != PartRule::OfParent) return {};
  const WideField* parent_field = table->field(table->kind->parent);
  auto query = store.db.query("SELECT \"" + parent_field->column + "\", struck, settled, made_ms FROM " + table->name +
                              " WHERE rec=?");
  query.bind(1, record);
  if (!query.next()) return query.done();
  const Id parent = query.id(0);
  const bool struck = !query.is_null(1);
  const auto settled = split_items(query.text_view(2));
  const std::int64_t made = query.integer(3);
  TRY(query.done());
  if (struck || std::find(settled.begin(), settled.end(), parent.text()) != settled.end()) return {};
  TRY_ASSIGN(const bool parent_struck, is_struck(store, parent));
  if (!parent_struck) return {};
  return add_review(store, record, {}, "review.late_child"_w, {parent.text()}, made, OfParent);
}

Result<void> add_children(Store& store, std::int64_t record, std::vector<std::int64_t>& children) {
  TRY_ASSIGN(const KnownRecord known, known_record(store, record));
  for (const WideTable& table : wide_tables()) {
    if (table.kind->rule != PartRule::OfParent) continue;
    auto query = store.db.query("SELECT rec FROM " + table.name + " WHERE \"" +
                                table.field(table.kind->parent)->column + "\"=?");
    query.bind(1, known.uid);
    while (query.next()) children.push_back(query.integer(0));
    TRY(query.done());
  }
  return {};
}

/// One id in two parts is two records; a person should know.
Result<void> review_parts(Store& store, const Id& uid) {
  std::vector<std::int64_t> rows;
  auto query = store.db.query("SELECT id FROM record WHERE uid=? AND kind IS NOT NULL");
  query.bind(1, uid);
  while (query.next()) rows.push_back(query.integer(0));
  TRY(query.done());
  for (const std::int64_t row : rows) {
    TRY(drop_reviews(store, row, OfParts));
    if (rows.size() > 1) TRY(add_review(store, row, {}, "review.two_parts"_w, {}, 0, OfParts));
  }
  return {};
}

void sort_unique(std::vector<std::int64_t>& rows) {
  std::sort(rows.begin(), rows.end());
  rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
}

/// The book's own row, from its record; ids of joined starts are kept for ever.
Result<void> derive_book(Store& store) {
  std::vector<Id> ids;
  std::vector<std::string> joined;
  auto query = store.db.query("SELECT uid, name, mode, joined FROM k_book ORDER BY uid");
  while (query.next()) {
    const Id uid = query.id(0);
    if (store.id.is_nil()) store.id = uid;
    if (uid == store.id) {
      store.name = query.text(1);
      store.demo = query.text_view(2) == "demo";
    }
    ids.push_back(uid);
    for (std::string& item : split_items(query.text_view(3))) joined.push_back(std::move(item));
  }
  TRY(query.done());
  for (const std::string& text : joined)
    if (const auto id = Id::parse(text)) ids.push_back(*id);
  for (const Id& id : ids) {
    if (std::find(store.joined.begin(), store.joined.end(), id) != store.joined.end()) continue;
    auto insert = store.db.query("INSERT OR IGNORE INTO joined(id) VALUES(?)");
    insert.bind(1, id);
    TRY(insert.run());
    store.joined.push_back(id);
  }
  std::sort(store.joined.begin(), store.joined.end());
  std::stable_partition(store.joined.begin(), store.joined.end(), [&](const Id& id) { return id == store.id; });
  return {};
}

Result<std::int64_t> any_row_of(Store& store, const Id& record) {
  auto query = store.db.query("SELECT id FROM record WHERE uid=? AND kind IS NOT NULL ORDER BY part LIMIT 1");
  query.bind(1, record);
  const std::int64_t row = query.next() ? query.integer(0) : 0;
  TRY(query.done());
  return row;
}

Result<std::int64_t> run_checks(Store& store, const std::vector<Id>& touched) {
  if (!store.needs.checks || touched.empty()) return std::int64_t{0};
  std::vector<Id> examined;
  std::vector<Review> findings;
  store.needs.checks(*store.book, touched, examined, findings);
  examined.insert(examined.end(), touched.begin(), touched.end());
  std::sort(examined.begin(), examined.end());
  examined.erase(std::unique(examined.begin(), examined.end()), examined.end());
  for (const Id& id : examined) {
    auto query = store.db.query("DELETE FROM review WHERE source=? AND rec IN (SELECT id FROM record WHERE uid=?)");
    query.bind(1, std::int64_t{OfChecks}).bind(2, id);
    TRY(query.run());
  }
  for (const Review& finding : findings) {
    TRY_ASSIGN(const auto row, any_row_of(store, finding.record));
    if (row == 0) continue;
    TRY(add_review(store, row, finding.group, finding.why, finding.values, finding.since.ms, OfChecks));
  }
  return static_cast<std::int64_t>(findings.size());
}

}  // namespace

Result<void> fold_record(Store& store, std::int64_t record, FoldSum& sum) {
  TRY_ASSIGN(const Before before, before_of(store, record));
  TRY_ASSIGN(const auto lines, lines_of(store, record));
  sum.records.push_back(record);
  if (before.kind == "book") sum.book_record = true;
  if (lines.empty()) return fold_to_nothing(store, record, before, sum);

  const Folded folded = fold(lines);
  const std::string& kind = lines[folded.first].change.kind;
  std::vector<HeadRow> heads;
  for (const FoldedGroup& group : folded.groups) {
    TRY_ASSIGN(const auto row, store.group_row(group.key));
    for (std::size_t i = 0; i < group.heads.size(); ++i)
      heads.push_back({row, lines[group.heads[i]].row, i == 0, lines[group.heads[i]].hash});
  }
  TRY(put_heads(store, record, before, std::move(heads)));
  if (before.kind != kind) TRY(drop_wide(store, before.kind, record));
  TRY(put_record(store, record, kind, lines[folded.first].row, folded.needs_newer));
  if (const WideTable* table = wide_table(kind)) TRY(put_wide(store, *table, record, before, lines, folded));
  TRY(put_reviews(store, record, lines, folded));

  const bool struck = !folded.struck.empty(), differs = !differing_groups(folded).empty();
  ++(before.kind.empty() ? sum.created : sum.changed);
  if (struck && !before.struck) ++sum.struck;
  if (differs && !before.differs) ++sum.differing;
  if (struck != before.struck) sum.struck_changed.push_back(record);
  if (kind == "book") sum.book_record = true;
  return {};
}

Result<Aftermath> after_fold(Store& store, const FoldSum& sum) {
  std::vector<std::int64_t> children = sum.records;
  for (const std::int64_t record : sum.struck_changed) TRY(add_children(store, record, children));
  sort_unique(children);
  for (const std::int64_t record : children) TRY(review_child(store, record));
  if (sum.book_record) TRY(derive_book(store));

  Aftermath aftermath;
  for (const std::int64_t record : sum.records) {
    TRY_ASSIGN(const KnownRecord known, known_record(store, record));
    aftermath.touched.push_back(known.uid);
  }
  std::sort(aftermath.touched.begin(), aftermath.touched.end());
  aftermath.touched.erase(std::unique(aftermath.touched.begin(), aftermath.touched.end()), aftermath.touched.end());
  for (const Id& uid : aftermath.touched) TRY(review_parts(store, uid));
  TRY_ASSIGN(aftermath.findings, run_checks(store, aftermath.touched));
  return aftermath;
}

Result<void> fold_all(Store& store) {
  TRY(lay_out_derived(store.db));
  TRY(store.db.run("UPDATE record SET kind=NULL, first=NULL, needs_newer=0"));
  store.digest = Hash{};
  std::vector<std::int64_t> records;
  auto query = store.db.query("SELECT id FROM record ORDER BY id");
  while (query.next()) records.push_back(query.integer(0));
  TRY(query.done());
  FoldSum sum;
  for (const std::int64_t record : records) TRY(fold_record(store, record, sum));
  TRY(after_fold(store, sum));
  return {};
}

}  // namespace steep
