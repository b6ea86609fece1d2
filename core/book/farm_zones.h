#pragma once
/// On whose clock a record is shown: that of its farm; of the house that of the only farm, where there is one alone.

#include <map>

#include "base/id.h"
#include "base/zone.h"
#include "book/book.h"
#include "book/kinds.h"

namespace steep {

class FarmZones {
 public:
  static Result<FarmZones> read(const Book& book);
  const Zone& of(const Part& part) const;

 private:
  std::map<Id, Zone> farms_;
  Zone house_;
};

}  // namespace steep
