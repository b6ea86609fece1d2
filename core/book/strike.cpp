#include "book/strike.h"

namespace steep {

const Head* strike_of(const Record& record) {
  for (const Group& group : record.groups)
    if (group.key == "struck") return &group.heads.front();
  return nullptr;
}

}  // namespace steep
