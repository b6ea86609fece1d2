#include "book/reviews.h"

#include <algorithm>

#include "base/text.h"

namespace steep {
namespace {

/// Not the separator of lists: that one begins the values which spelled.h tags.
constexpr char kBetween = '\x1E';

std::string stored_values(std::vector<std::string> values) {
  for (std::string& value : values) std::replace(value.begin(), value.end(), kBetween, ' ');
  return join(values, std::string(1, kBetween));
}

}  // namespace

std::vector<std::string> review_values(std::string_view stored) {
  std::vector<std::string> values;
  if (!stored.empty())
    for (const std::string_view value : split(stored, kBetween)) values.emplace_back(value);
  return values;
}

Result<void> add_review(const Store& store, std::int64_t record, std::string_view group, WordId why,
                        const std::vector<std::string>& values, std::int64_t since, ReviewSource source) {
  auto query = store.db.query("INSERT INTO review(rec, grp, why, vals, since, source) VALUES(?,?,?,?,?,?)");
  query.bind(1, record).bind(2, group).bind(3, why.key).bind(4, stored_values(values)).bind(5, since);
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
