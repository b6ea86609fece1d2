#pragma once
/// Who struck a record, and when.

#include "book/book.h"

namespace steep {

/// The strike that the tables show, of several copies' the stand-in; nullptr = nothing was ever said of one.
const Head* strike_of(const Record& record);

}  // namespace steep
