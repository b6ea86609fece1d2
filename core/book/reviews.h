#pragma once
/// Rows of the review list. Who puts one there also takes it away. For the files that fold only.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/word_id.h"
#include "book/store.h"

namespace steep {

enum class ReviewSource { Fold = 0, Parent = 1, Checks = 2, Parts = 3 };

/// `record`: its row. `group` empty = of the record as a whole; `since`: UTC milliseconds, 0 = not known.
Result<void> add_review(const Store& store, std::int64_t record, std::string_view group, WordId why,
                        const std::vector<std::string>& values, std::int64_t since, ReviewSource source);
/// Those of one source, or all.
Result<void> drop_reviews(const Store& store, std::int64_t record, ReviewSource source);
Result<void> drop_reviews(const Store& store, std::int64_t record);
/// As they were given to add_review.
std::vector<std::string> review_values(std::string_view stored);

}  // namespace steep
