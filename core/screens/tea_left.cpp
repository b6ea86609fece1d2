#include "screens/tea_left.h"

#include "screens/amounts.h"

namespace steep {

std::string tea_left_text(const BrewBalance& balance, const Surroundings& around) {
  if (!balance.left) return {};
  return around.words(balance.volume_missing ? "start.tea_left_at_most"_w : "start.tea_left"_w,
                      {tank_text(*balance.left, around.units, around.words)});
}

}  // namespace steep
