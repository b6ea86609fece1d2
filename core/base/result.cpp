#include "base/result.h"

namespace steep {

tl::unexpected<Problem> refuse(Trouble kind, WordId word, Values values, std::string_view place) {
  return tl::unexpected<Problem>(Problem{kind, word, {values.begin(), values.end()}, std::string(place)});
}

}  // namespace steep
