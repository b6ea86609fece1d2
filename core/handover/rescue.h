#pragma once
/// A Steepbook SQLite book, or a photo alone, read as if it were a handover file.

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "book/book.h"

namespace steep {

struct RescuedLines {
  std::string text;                  ///< A plain handover file of the sound lines.
  std::vector<std::string> dropped;  ///< What did not verify, by place.
};

/// A photo that came as a plain file, as a handover file of nothing else. Trouble: BadInput 'take.photo_unknown' when no
/// record here names it, 'photo.large'; NotFound without a book.
Result<std::string> lines_of_photo(const Book& book, const File& photo);

/// Problems as of read_book_file.
Result<RescuedLines> lines_of_book_file(std::string_view bytes);

}  // namespace steep
