#include "book/reviews.h"

namespace steep {

Result<void> add_review(const Store& store, std::int64_t record, std::string_view group, WordId why,
                        const std::vector<std::string>& values, std::int64_t since, ReviewSource source) {
  auto query = store.db.query("INSERT INTO review(rec, grp, why, vals, since, source) VALUES(?,?,?,?,?,?)");
  query.bind(1, record).bind(2, group).bind(3, why.key).bind(4, join_items(values)).bind(5, since);
  query.bind(6, static_cast<std::int64_t>(source));
  return query.run();
}

Result<void> drop_reviews(const Store& store, std::int64_t record, ReviewSource source) {
  auto query = store.db.query("DELETE FROM review WHERE rec=? AND source=?");
  query.bind(1, record).bind(2, static_cast<std::int64_t>(source));
  return query.run();
}

Result<void> drop_reviews(const Store& store, std::int64_t record) {
  auto query = store.db.query("DELETE FROM review WHERE rec=?");
  query.bind(1, record);
  return query.run();
}

}  // namespace steep
