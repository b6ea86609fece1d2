#pragma once
/// Microscope, plate and tube counts as records: what was counted, by which method, the number with its interval.

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "book/facts.h"
#include "book/pass_start.h"
#include "quantity/written.h"

namespace steep {

/// What stands behind the number, as far as the method has it.
struct CountBehind {
  std::string method;  ///< Stored word: 'microscope', 'chamber', 'plates', 'mpn', 'geometric-mean'.
  std::optional<double> counted, looked_at;  ///< Cells, colonies, tubes that grew; fields, plates, tubes, samples.
  std::optional<double> objective, dilution;
  std::optional<Written> drop;
  std::string inputs;  ///< As behind `work NAME`: with them anybody gets the same number again.
};
/// A number with its interval. Texts are numbers of the journal: plain decimals with a point.
struct CountResult {
  std::string value;  ///< '3400000'; '<25', '>25000' where there is a bound alone.
  std::string per;    ///< Stored word: 'ml', 'g', '100ml'.
  std::optional<double> low, high;
  std::optional<double> confidence;  ///< Per cent, of the interval.
  bool estimated = false;            ///< From plates outside the counting range.
};

struct Count : RecordFacts {
  Id of;             ///< Brew, lot, heap or water source.
  std::string what;  ///< Bacteria, fungi …; empty = not said.
  CountResult result;
  CountBehind behind;
  Taken<Stamp> at;
  Moment when() const { return at ? at->at : happened(); }
};
/// Not struck, by time.
Result<std::vector<Count>> counts(const Book& book, const Id& of);

struct CountGiven {
  Id of;
  std::string what;
  CountResult result;
  CountBehind behind;
  std::optional<Moment> at;  ///< Empty = now.
};
/// Trouble: BadInput  a number that the journal cannot hold, negative, or an interval that does not hold the number.
Result<Outcome> add_count(Book& book, const CountGiven& given, const Going& going);

/// `value` with `digits` significant digits as a number of the journal; nullopt when it is too large or too small for one.
std::optional<std::string> count_number(double value, int digits);

}  // namespace steep
