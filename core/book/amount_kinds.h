#pragma once
/// What a field of amounts takes where kinds.cpp leaves it open, and how much of it is usual. Only core/book includes this.

#include <optional>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "quantity/written.h"

namespace steep {

/// The field whose word decides what an amount may be: 'quantity' of a reading, 'what' of an event; empty = none.
std::string_view deciding_field(std::string_view kind);
/// Kinds of quantity that the field takes; empty = it takes no amount, or the table of kinds says which. `word`: of the
/// deciding field.
std::vector<Dimension> amount_dimensions(std::string_view kind, std::string_view field, std::string_view word);
/// Trouble: BadInput  a unit of another kind, less than nothing; Ask  far beyond what is usual.
Result<void> check_amount(std::string_view kind, std::string_view field, std::string_view word, const Written& amount);

/// One thing that is read off.
struct ReadingKind {
  std::string_view quantity;    ///< Stored word.
  bool bare = false;            ///< A number without a unit: pH.
  std::string_view words = {};  ///< Of smell and foam, by '|'.
};
/// nullptr = of a newer program.
const ReadingKind* find_reading_kind(std::string_view quantity);
/// The whole value of a reading: kind, word or range. Trouble as in check_amount; a pH outside 0–14 is BadInput.
Result<void> check_reading(std::string_view quantity, const FieldValue& value);

}  // namespace steep
