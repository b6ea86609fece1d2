#pragma once
/// The rows beside the tank: the bed in hand as a loupe, the others as strips with a stake. Only core/look includes this.

#include "look/layout.h"
#include "look/tank_gauge.h"

namespace steep {

float tank_row_height();
/// `width` of the card.
float tank_loupe_height(const TankLoupe& loupe, float width);
void draw_tank_loupe(const Box& box, const TankLoupe& loupe);
void draw_tank_row(const Box& box, const TankRow& row, bool down);

}  // namespace steep
