#pragma once
/// A Steepbook SQLite book read as if it were a handover file.

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace steep {

struct RescuedLines {
  std::string text;                  ///< A plain handover file of the sound lines.
  std::vector<std::string> dropped;  ///< What did not verify, by place.
};

/// Problems as of read_book_file.
Result<RescuedLines> lines_of_book_file(std::string_view bytes);

}  // namespace steep
