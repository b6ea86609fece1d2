#include "book/joined.h"

#include <algorithm>
#include <vector>

#include "book/book.h"
#include "book/wide.h"

namespace steep {

Result<Joined> Joined::read(const Book& book, std::string_view kind) {
  const std::string table = wide_name(kind);
  Query query =
      book.db().query("SELECT a.uid, a.same_as FROM " + table + " a JOIN " + table +
                      " b ON b.uid = a.same_as WHERE a.same_as IS NOT NULL AND a.uid <> b.uid AND a.struck IS "
                      "NULL AND b.struck IS NULL");
  Joined joined;
  while (query.next()) joined.as_[query.id(0)] = query.id(1);
  TRY(query.done());
  return joined;
}

Id Joined::shown(const Id& record) const {
  std::vector<Id> chain = {record};
  for (auto next = as_.find(record); next != as_.end(); next = as_.find(chain.back())) {
    const auto ring = std::find(chain.begin(), chain.end(), next->second);
    if (ring != chain.end()) return *std::min_element(ring, chain.end());
    chain.push_back(next->second);
  }
  return chain.back();
}

}  // namespace steep
