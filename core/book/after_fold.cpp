#include "book/after_fold.h"

#include <algorithm>

#include "book/reviews.h"
#include "book/wide.h"

namespace steep {
namespace {

/// With more records than this, one look at all of a book is cheaper than asking for each record.
constexpr std::size_t kMany = 1000;

void sort_unique(std::vector<std::int64_t>& rows) {
  std::sort(rows.begin(), rows.end());
  rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
}

/// Children of a record in all kinds that hang on it.
Result<void> add_children(const Store& store, const Id& parent, std::vector<std::int64_t>& children) {
  for (const WideTable& table : wide_tables()) {
    if (table.kind->rule != PartRule::OfParent) continue;
    auto query = store.db.query("SELECT rec FROM " + table.name + " WHERE \"" +
                                table.field(table.kind->parent)->column + "\"=?");
    query.bind(1, parent);
    while (query.next()) children.push_back(query.integer(0));
    TRY(query.done());
  }
  return {};
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

struct RowsOfId {
  std::int64_t first = 0;         ///< The least part's; 0 = none that counts.
  std::vector<std::int64_t> all;  ///< In which a change counts.
  int parts = 0;                  ///< Also those where none does.
};
/// Rows of one id in all parts.
Result<RowsOfId> rows_of(const Store& store, const Id& record) {
  RowsOfId rows;
  auto query = store.db.query("SELECT id, kind IS NOT NULL FROM record WHERE uid=? ORDER BY part");
  query.bind(1, record);
  for (; query.next(); ++rows.parts)
    if (query.integer(1) != 0) rows.all.push_back(query.integer(0));
  TRY(query.done());
  if (!rows.all.empty()) rows.first = rows.all.front();
  return rows;
}

}  // namespace

AfterFold::AfterFold(Store& store, FoldSum sum) : store_(store), sum_(std::move(sum)) {
  touched.reserve(sum_.records.size());
  for (const FoldedRecord& record : sum_.records) touched.push_back(record.uid);
  std::sort(touched.begin(), touched.end());
  touched.erase(std::unique(touched.begin(), touched.end()), touched.end());
}

double AfterFold::share() const {
  const auto part = [](std::size_t done, std::size_t all) {
    return all == 0 ? 1.0 : static_cast<double>(done) / static_cast<double>(all);
  };
  switch (phase_) {
    case Children: return 0.1 * part(next_, sum_.records.size());
    case OtherChildren: return 0.1;
    case Parts: return 0.1 + 0.1 * part(next_, sum_.records.size());
    case Checks: return 0.2 + 0.7 * (checking_ ? checking_->share() : 1);
    case Examined:
    case Findings: return 0.9 + 0.1 * part(next_, checking_->examined.size());
    case Done: return 1;
  }
  return 1;
}

Result<bool> AfterFold::step() {
  const std::size_t i = next_++;
  const auto go_to = [this](Phase phase) {
    phase_ = phase;
    next_ = 0;
  };
  switch (phase_) {
    case Children:
      if (i < sum_.records.size()) {
        TRY(review_child(sum_.records[i]));
        return true;
      }
      for (const auto& [row, uid] : sum_.struck_changed) TRY(add_children(store_, uid, other_children_));
      sort_unique(other_children_);
      go_to(OtherChildren);
      return true;
    case OtherChildren:
      if (i < other_children_.size()) {
        TRY(review_other_child(other_children_[i]));
        return true;
      }
      if (sum_.book_record) TRY(derive_book(store_));
      if (sum_.records.size() >= kMany) TRY(look_for_two_parts());
      go_to(Parts);
      return true;
    case Parts:
      if (i < sum_.records.size()) {
        TRY(review_parts(sum_.records[i]));
        return true;
      }
      go_to(Checks);
      begin_checks();
      return phase_ != Done;
    case Checks:
      if (checking_->step()) return true;
      TRY(begin_checks_over_touched());
      go_to(Examined);
      return true;
    case Examined:
      if (i < checking_->examined.size())
        TRY(forget_findings(checking_->examined[i]));
      else
        go_to(Findings);
      return true;
    case Findings:
      if (i < checking_->findings.size()) {
        TRY(keep_finding(checking_->findings[i]));
        return true;
      }
      findings = static_cast<std::int64_t>(checking_->findings.size());
      phase_ = Done;
      return false;
    case Done: return false;
  }
  return false;
}

void AfterFold::begin_checks() {
  std::vector<Id> all = touched;
  all.insert(all.end(), sum_.waiting.begin(), sum_.waiting.end());
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  if (store_.needs.checks && !all.empty())
    checking_ = store_.needs.checks(*store_.book, {std::move(all), said_by_touched()});
  else
    phase_ = Done;
}

/// Of an id in two parts each record says its own: their lines have to be read together.
std::deque<Said> AfterFold::said_by_touched() {
  std::deque<Said> said = std::move(sum_.said);
  std::erase_if(said, [this](const Said& one) { return in_two_parts_.count(one.record) > 0; });
  std::sort(said.begin(), said.end(), [](const Said& a, const Said& b) { return a.record < b.record; });
  return said;
}

Result<bool> AfterFold::is_struck(const Id& parent) {
  const auto [place, is_new] = struck_.try_emplace(parent, false);
  if (!is_new) return place->second;
  const WideTable* table = wide_table(store_.book->kind_of(parent));
  if (table == nullptr) return false;
  auto query = store_.db.query("SELECT 1 FROM " + table->name + " WHERE uid=? AND struck IS NOT NULL");
  query.bind(1, parent);
  place->second = query.next();
  TRY(query.done());
  return place->second;
}

/// A child that stands although its parent is struck: somebody wrote it before he knew. A person who
/// wants it so puts the parent's id into its `settled`.
Result<void> AfterFold::review_child(const FoldedRecord& child) {
  if (child.reviewed) TRY(drop_reviews(store_, child.row, ReviewSource::Parent));
  if (child.parent.is_nil()) return {};
  TRY_ASSIGN(const bool struck, is_struck(child.parent));
  if (!struck) return {};
  return add_review(store_, child.row, {}, "review.late_child"_w, {child.parent.text()}, child.made,
                    ReviewSource::Parent);
}

/// One that was not folded itself, but its parent.
Result<void> AfterFold::review_other_child(std::int64_t record) {
  auto kind = store_.db.query("SELECT kind FROM record WHERE id=?");
  kind.bind(1, record);
  const WideTable* table = kind.next() ? wide_table(kind.text(0)) : nullptr;
  TRY(kind.done());
  if (table == nullptr || table->kind->rule != PartRule::OfParent) return {};
  auto query = store_.db.query("SELECT \"" + table->field(table->kind->parent)->column +
                               "\", struck, settled, made_ms FROM " + table->name + " WHERE rec=?");
  query.bind(1, record);
  FoldedRecord child;
  child.row = record;
  child.reviewed = true;
  if (query.next()) {
    child.parent = query.id(0);
    child.made = query.integer(3);
    const auto settled = split_items(query.text_view(2));
    if (!query.is_null(1) || std::find(settled.begin(), settled.end(), child.parent.text()) != settled.end())
      child.parent = Id{};
  }
  TRY(query.done());
  return review_child(child);
}

/// Once for all records, where they are many.
Result<void> AfterFold::look_for_two_parts() {
  auto query = store_.db.query("SELECT uid FROM record GROUP BY uid HAVING count(*)>1");
  while (query.next()) in_two_parts_.insert(query.id(0));
  knows_parts_ = true;
  return query.done();
}

/// One id in two parts is two records; a person should know.
Result<void> AfterFold::review_parts(const FoldedRecord& record) {
  if (knows_parts_ && !record.reviewed && in_two_parts_.count(record.uid) == 0) return {};
  TRY_ASSIGN(const RowsOfId& rows, rows_of(store_, record.uid));
  if (rows.parts > 1) in_two_parts_.insert(record.uid);
  if (rows.all.size() < 2 && !record.reviewed) return {};
  for (const std::int64_t row : rows.all) {
    TRY(drop_reviews(store_, row, ReviewSource::Parts));
    if (rows.all.size() > 1) TRY(add_review(store_, row, {}, "review.two_parts"_w, {}, 0, ReviewSource::Parts));
  }
  return {};
}

Result<void> AfterFold::begin_checks_over_touched() {
  std::vector<Id>& examined = checking_->examined;
  examined.insert(examined.end(), touched.begin(), touched.end());
  std::sort(examined.begin(), examined.end());
  examined.erase(std::unique(examined.begin(), examined.end()), examined.end());
  if (examined.size() < kMany) return {};
  auto query = store_.db.query("SELECT DISTINCT rec FROM review WHERE source=?");
  query.bind(1, static_cast<std::int64_t>(ReviewSource::Checks));
  while (query.next()) with_findings_.push_back(query.integer(0));
  TRY(query.done());
  std::sort(with_findings_.begin(), with_findings_.end());
  knows_findings_ = true;
  return {};
}

Result<void> AfterFold::forget_findings(const Id& examined) {
  if (knows_findings_ && with_findings_.empty()) return {};
  TRY_ASSIGN(const RowsOfId& rows, rows_of(store_, examined));
  for (const std::int64_t row : rows.all)
    if (!knows_findings_ || std::binary_search(with_findings_.begin(), with_findings_.end(), row))
      TRY(drop_reviews(store_, row, ReviewSource::Checks));
  return {};
}

Result<void> AfterFold::keep_finding(const Review& finding) {
  TRY_ASSIGN(const RowsOfId& rows, rows_of(store_, finding.record));
  if (rows.first == 0) return {};
  return add_review(store_, rows.first, finding.group, finding.why, finding.values, finding.since.ms,
                    ReviewSource::Checks);
}

Result<void> after_fold(Store& store, FoldSum sum) {
  AfterFold after(store, std::move(sum));
  for (bool more = true; more;) {
    TRY_ASSIGN(more, after.step());
  }
  return {};
}

}  // namespace steep
