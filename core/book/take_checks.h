#pragma once
/// The checks of the trade that run over records after every write and every take.

#include <span>
#include <vector>

#include "book/book.h"

namespace steep {

/// `touched`: records that were just folded anew, sorted. The function decides what hangs together with
/// them and adds every record that it looked at to `examined` (those of `touched` count as examined
/// anyway); findings of earlier runs about examined records are dropped, `findings` are kept instead.
/// Must be a function of the book's state alone, never of the clock, so that a rebuild gives the same
/// list. It runs inside the transaction and only reads. Review::record may be any examined record.
void take_checks(const Book& book, std::span<const Id> touched, std::vector<Id>& examined,
                 std::vector<Review>& findings);

}  // namespace steep
