#pragma once
/// One quantity as a person wrote it, and how it is read.
///
/// In the journal a quantity is ONE value: the text as typed in normal form. The form is
/// `NUMBER UNIT`, at most 40 bytes: NUMBER is a decimal ('22', '1.50', '-4') or a fraction ('1/2',
/// '2 1/2'), the mark is a point, no thousands marks; UNIT is a stored word of unit.h.
/// Reading never guesses: where two readings are possible it answers Trouble::Ask, with the
/// possible normal forms in `values` after the text as typed (values[0]).

#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "base/result.h"
#include "quantity/decimal_mark.h"
#include "quantity/dimension.h"
#include "quantity/fraction.h"
#include "quantity/quantities.h"
#include "quantity/unit.h"

namespace steep {

/// Made by the readers below only; copies are cheap enough.
struct Written {
  std::string text;            ///< Normal form: '2 1/2 cup'.
  Fraction amount;             ///< In `unit`: 5/2.
  const Unit* unit = nullptr;  ///< Of the table; never null in a value that a reader returned.

  /// The same amount of the same kind: 1.5 gal = 1.50 gal = 192 fl oz. By exact SI value.
  bool operator==(const Written& other) const;
  Dimension dimension() const { return unit->dimension; }
};

/// Exact SI value. Always exists: readers refuse what would not fit.
Fraction si(const Written& written);
/// As a strong type; the dimension must be Q's (assert).
template <class Q>
Q as(const Written& written);

/// How this person writes.
struct Habits {
  DecimalMark mark = DecimalMark::Point;
  Gallons gallons = Gallons::Us;
  Habits() = default;
  Habits(DecimalMark m, Gallons g = Gallons::Us) : mark(m), gallons(g) {}  // NOLINT: a mark is habit enough.
};

/// Every unit that this person may mean by `written`: where a spelling names US, imperial and kitchen measures alike, the
/// kind of gallon decides, or nobody does.
std::vector<UnitMeant> units_meant(std::string_view written, Gallons gallons);

/// Reads what was typed: '15 gal/ac', '68 F', '3.5 cups', '2 1/2', '½ taza', '1,5 L', '1.500,25 L',
/// `8' 6"` (stored as '102 in'). `unit_if_bare` is the unit shown beside the field; without it a bare
/// number is Trouble::Ask. Refuses: a unit of another kind, unknown units, negative amounts (but of
/// temperatures), more than 15 digits before or 9 after the mark.
Result<Written> read_quantity(std::string_view typed, Dimension wanted, const Habits& habits,
                              const Unit* unit_if_bare = nullptr);
/// Where several kinds fit, say a recipe line by weight or by volume: a bare 'oz' asks.
Result<Written> read_quantity(std::string_view typed, std::span<const Dimension> wanted, const Habits& habits,
                              const Unit* unit_if_bare = nullptr);

/// The sentence for a value of another kind: "'{0}' is not a length …". Of several kinds the first is named.
WordId wrong_kind_word(std::span<const Dimension> wanted);

/// The journal's reader: normal form and nothing else; Trouble::Damaged otherwise.
Result<Written> parse_written(std::string_view text);
/// Normal form of a computed amount: shortest decimal of at most `places`; beyond 15 digits the most that can be written.
Written write_quantity(double amount, const Unit& unit, int places = 3);
template <class Q>
requires requires { Q::kDimension; }
Written write_quantity(Q quantity, const Unit& unit, int places = 3) {
  return write_quantity(amount_in(quantity.si(), unit), unit, places);
}

/// A number alone, as typed ('1,5', '½', '1.500,25'): value and normal form.
struct WrittenNumber {
  std::string text;  ///< Decimal or fraction with a point: '1.5', '2 1/2'.
  Fraction amount;
};
/// Trouble: BadInput  no number, too many digits; Ask  it reads two ways ('1,500').
Result<WrittenNumber> read_number(std::string_view typed, DecimalMark mark);
/// Type n of the journal: -?\d{1,15}(\.\d{1,9})? and nothing else. Trouble::Damaged otherwise.
Result<Fraction> parse_journal_number(std::string_view text);
bool is_journal_number(std::string_view text);

template <class Q>
Q as(const Written& written) {
  return Q::from_si(si(written).to_double());
}

}  // namespace steep
