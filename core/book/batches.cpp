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

Result<void> Book::set_aside(std::int64_t batch, bool aside) {
  Store& store = *inside_;
  TRY_ASSIGN(auto scope, WriteScope::begin(store));
  auto update = store.db.query("UPDATE batch SET aside=? WHERE id=? RETURNING id");
  update.bind(1, std::int64_t{aside}).bind(2, batch);
  const bool known = update.next();
  while (update.next()) {
  }
  TRY(update.done());
  if (!known) return refuse(Trouble::NotFound, "book.no_batch"_w);
  if (aside) store.aside.insert(batch);
  else store.aside.erase(batch);

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

}  // namespace steep
