#pragma once
/// The checks of the trade that run over records after every write and every take.

#include <deque>
#include <memory>
#include <vector>

#include "book/book.h"
#include "book/said.h"

namespace steep {

/// Checks under way, over records that were just folded anew. They decide what hangs together with these and
/// add every record that they look at to `examined` (those touched count as examined anyway); findings of
/// earlier runs about examined records are dropped, `findings` are kept instead.
///
/// Must be a function of the book's state alone, never of the clock, so that a rebuild gives the same list.
/// They run inside the transaction and only read; the book does not change between two steps.
class Checking {
 public:
  virtual ~Checking() = default;
  /// One small piece; false when all is done.
  virtual bool step() = 0;
  virtual double share() const = 0;  ///< 0…1 done.
  std::vector<Id> examined;
  std::vector<Review> findings;  ///< Review::record may be any examined record.
};

/// Records that were folded anew, or have lines that came and wait.
struct Touched {
  std::vector<Id> ids;    ///< Sorted, each once.
  std::deque<Said> said;  ///< By record, sorted: what the lines of some of them ever said, where it was at hand.
};
std::unique_ptr<Checking> begin_checks(const Book& book, Touched touched);

}  // namespace steep
