#pragma once
/// Lines of lanes packed into a handover file.

#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "handover/frame.h"

namespace steep {

enum class Packing {
  Gzip,   ///< NAME.steepbook
  Plain,  ///< NAME.steepbook.txt, the same lines, where a share sheet refuses the other
};

/// One lane and a way to walk its lines twice, in order of sequence (a fork's branches beside each other).
struct LaneLines {
  Lane lane;
  std::function<Result<void>(const std::function<bool(const Book::Line&)>&)> each;
};

/// A photo on its way out.
struct PhotoBytes {
  Hash hash{};
  std::string name;   ///< Caption, else the file's name.
  std::string bytes;  ///< Those of the hash, of a known type.
};

/// Fills the header's counts. `tips` and `bases` are written as given.
/// Trouble::Damaged 'give.chain' when the lines of a lane don't follow each other.
Result<std::string> write_file(FileHeader& header, Packing packing, const std::vector<LaneLines>& lanes,
                               const std::vector<ChangeRef>& tips = {}, const std::vector<ChangeRef>& bases = {},
                               const std::vector<PhotoBytes>& photos = {});

}  // namespace steep
