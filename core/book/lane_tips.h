#pragma once
/// Ends of lanes: how far one is here without a gap, which is what this copy may tell others that it holds; and as printed.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"

namespace steep {

/// The last line of the lane that follows unbroken from its first; of a forked one that of each branch, for each is somebody's
/// work that wants to be confirmed. None when the first line is not here. Whoever said more would never be given what is
/// missing in between, and the writer would take it for confirmed.
Result<std::vector<ChangeRef>> unbroken_tips(const Book& book, const Lane& lane);

/// The last entry of each lane here, as printed on reports: 'Ana's phone Alder Reach/2026 812 9f3a01c2'. Kept on paper
/// elsewhere, it later shows whether that chain still holds what it held then.
std::vector<std::string> tip_codes(const Book& book);
/// Is the entry of such a code here: its number and the 8 characters behind it? The copy and part that hold it, or nullopt.
Result<std::optional<std::string>> find_tip(const Book& book, std::int64_t seq, std::uint32_t tag);

}  // namespace steep
