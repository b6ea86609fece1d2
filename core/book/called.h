#pragma once
/// What things are called: names that tell things apart, and names that are alike.

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "book/book.h"
#include "book/caution.h"

namespace steep {

/// 'ncqewx': the end of a record's id, behind its name where another has the same.
std::string id_end(const Id& record);
/// The copy that wrote in this lane, for display: 'Ana's phone'; empty when the lane is not here.
std::string lane_label(const Book& book, const Id& lane);
/// Without accents, in lower case: 'Té Peña' → 'te pena'. For a second look, where no name is the same.
std::string unaccented(std::string_view name);
/// The name that differs least, when a slip of the finger or two explains it; empty = none does.
std::string nearest_name(std::string_view typed, const std::vector<std::string>& names);

/// A record that would get a name that another of its kind has already: a farm, a block, a bed in its block, a person, a lot
/// of a material, a number of a brew or pass. `numbered`: that number is the person's own, not the next one.
Result<std::vector<Caution>> name_cautions(const Book& book, std::string_view kind,
                                           const std::vector<FieldValue>& fields, bool numbered);

}  // namespace steep
