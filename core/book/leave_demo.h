#pragma once
/// From the demo to an own book, on a device that has one place for a book.

#include "book/book.h"

namespace steep {

/// Empties the demo's book, with all that was tried in it: what lies there is then as on a new device. No Book may be open
/// there; whoever opens one begins anew. Never a real book: Trouble::Conflict "demo.is_real".
Result<void> leave_demo(const BookPlace& place);

}  // namespace steep
