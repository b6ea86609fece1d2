#pragma once
/// Tea and water in one tank, always both.

#include "quantity/quantities.h"

namespace steep {

struct Mix {
  Volume tea, water;
  Volume spray() const { return tea + water; }
};

}  // namespace steep
