#pragma once
/// The volume that each of some doses shows, wherever they were sprayed: for tables of many beds.

#include <map>
#include <span>

#include "book/book.h"
#include "trade/share.h"

namespace steep {

/// By dose; one that is struck or not on this copy is missing. Each pass is read once.
Result<std::map<Id, ShownVolume>> dose_volumes(const Book& book, std::span<const Id> doses);

}  // namespace steep
