#pragma once
/// Facts of records in words: names of fields, values, whole groups in one line. For pages about any kind of record.

#include <string>
#include <string_view>
#include <vector>

#include "book/told.h"
#include "screens/page.h"

namespace steep {

/// 'Lot K-19', 'Brew 31', 'Bed N7'; the kind alone when it has no name.
std::string record_title(const Surroundings& around, const Id& record);
std::string value_text(const FieldValue& field, const Surroundings& around);
/// '12 gal spray, load 2, 0–50 ft': the values of a fact in one line.
std::string fact_text(const std::vector<FieldValue>& fields, const Surroundings& around);
/// 'Thu 14 May 6:10 pm · Ana Leland · Office'; what is not known is left out.
std::string author_text(const Surroundings& around, Moment at, const std::string& who, const std::string& copy);
/// A reason as it was written, or the text of a stored one.
std::string reason_text(const std::string& why, const Words& words);

}  // namespace steep
