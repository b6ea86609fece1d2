// Taken files: what came when, and setting one aside.
#include "book/after_fold.h"
#include "book/store.h"

namespace steep {

Result<std::vector<Book::Batch>> Book::batches() const {
  std::vector<Batch> batches;
  auto query = inside_->db.query("SELECT id, file, at, changes, aside, sender FROM batch ORDER BY id DESC");
  while (query.next())
    batches.push_back({query.integer(0), query.text(1), Moment{query.integer(2)}, query.integer(3),
                       query.integer(4) != 0, query.text(5)});
  TRY(query.done());
  return batches;
}

namespace {

/// Did this file bring the line that began the book's own record?
Result<bool> begins_book(const Store& store, std::int64_t batch) {
  auto query = store.db.query(
      "SELECT 1 FROM record r JOIN change c ON c.id=r.first WHERE r.uid=? AND r.kind='book' AND c.batch=?");
  query.bind(1, store.id).bind(2, batch);
  const bool begins = query.next();
  TRY(query.done());
  return begins;
}

}  // namespace

Result<void> Book::set_aside(std::int64_t batch, bool aside) {
  Store& store = *inside_;
  TRY_ASSIGN(auto scope, WriteScope::begin(store));
  TRY(no_pass_open(*this, "book.pass_open_aside"_w));
  TRY_ASSIGN(const bool begins, begins_book(store, batch));
  if (aside && begins) return refuse(Trouble::Conflict, "book.begins_here"_w);
  auto update = store.db.query("UPDATE batch SET aside=? WHERE id=? RETURNING id");
  update.bind(1, std::int64_t{aside}).bind(2, batch);
  const bool known = update.next();
  while (update.next()) {}
  TRY(update.done());
  if (!known) return refuse(Trouble::NotFound, "book.no_batch"_w);
  if (aside)
    store.aside.insert(batch);
  else
    store.aside.erase(batch);

  std::vector<std::int64_t> records;
  auto query = store.db.query("SELECT DISTINCT rec FROM change WHERE batch=? ORDER BY rec");
  query.bind(1, batch);
  while (query.next()) records.push_back(query.integer(0));
  TRY(query.done());
  FoldSum sum;
  for (const std::int64_t record : records) TRY(fold_record(store, record, sum));
  TRY(after_fold(store, std::move(sum)));
  return scope.commit();
}

Result<std::vector<Id>> Book::made_by_batch(std::int64_t batch, std::size_t most) const {
  std::vector<Id> made;
  auto query = inside_->db.query(
      "SELECT r.uid, r.kind FROM change c JOIN record r ON r.id=c.rec AND r.first=c.id WHERE c.batch=? ORDER BY "
      "c.wall, r.uid");
  query.bind(1, batch);
  while (made.size() < most && query.next()) {
    const KindDef* kind = find_kind(query.text_view(1));
    if (kind != nullptr && kind->rule != PartRule::OfParent) made.push_back(query.id(0));
  }
  TRY(query.done());
  return made;
}

int Book::files_aside() const { return static_cast<int>(inside_->aside.size()); }

}  // namespace steep
