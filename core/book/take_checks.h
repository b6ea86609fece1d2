#pragma once
/// The checks of the trade that run over records after every write and every take.

#include <memory>
#include <span>
#include <vector>

#include "book/book.h"

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

/// `touched`: sorted.
std::unique_ptr<Checking> begin_checks(const Book& book, std::vector<Id> touched);
/// The same at once.
void take_checks(const Book& book, std::span<const Id> touched, std::vector<Id>& examined,
                 std::vector<Review>& findings);

}  // namespace steep
