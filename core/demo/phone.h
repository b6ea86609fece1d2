#pragma once
/// The second phone of the demo.

#include "book/work.h"
#include "demo/story.h"

namespace steep {

/// The last pass of the book without tea: the one that Marek unknowingly repeats in part.
Result<Pass> last_sulfur(const Book& farm_book);
/// Takes the farm in, then Marek sprays two beds in the tunnel, one of them the very one that Ana is at.
Result<void> tell_phone(Story& story, const Book& farm_book, const Pass& sprayed);

}  // namespace steep
