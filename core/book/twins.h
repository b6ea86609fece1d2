#pragma once
/// Ground of two farms that may be one piece of ground: blocks and beds of equal name on farms that two starts
/// of one business wrote down. They share holds until somebody says that they are two.
///
/// Looked at: farms of one name, farms said to be the same, and in a book joined of two starts any two farms.
/// 'They are two' is said of the farms, of the blocks, or of single beds.

#include <vector>

#include "base/id.h"
#include "base/result.h"

namespace steep {

class Book;

/// A bed of one farm and a bed of another that may be it, or has been said to be.
struct TwinBeds {
  Id bed, other;  ///< bed < other.
  Id block, other_block;
  bool said = false;  ///< A person joined them; else only offered.
};
/// By bed, then other. Costs nothing in a book of one farm.
Result<std::vector<TwinBeds>> twin_beds(const Book& book);

}  // namespace steep
