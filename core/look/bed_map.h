#pragma once
/// The map of beds: strips standing on their stakes, to scale, block by block; pinch and drag,
/// buttons + − and 'whole farm'.

#include <span>
#include <string_view>
#include <vector>

#include "look/bed_strip.h"

namespace steep {

struct MapBed {
  std::string_view number = {};  ///< In the stake: '1'
  float length_m = 30;           ///< For the scale.
  float fill = -1;
  std::span<const StripStretch> stretches = {};
  StripHold hold = StripHold::None;
  bool due = false;
  int late_days = 0;
  bool question = false;
  std::string_view spoken = {};
};
struct MapBlock {
  std::string_view name = {}, note = {};  ///< 'North' / '24 beds, 100 ft, four of 70 ft'
  std::span<const MapBed> beds = {};
  bool covered = false;            ///< A tunnel: dashed frame.
  std::string_view zero_end = {};  ///< Name of the end at the foot ('lane'); empty = not shown.
};

/// Where the person has moved the map; owned by the screen.
struct MapPlace {
  float zoom = 1;    ///< 1 = whole farm, up to 6.
  Point shift = {};  ///< In dp.
};
struct MapPick {
  int block = -1, bed = -1;
};

/// `picked` draws the ring. Answers a newly pressed bed. `words`: spoken names of + − whole.
MapPick bed_map(const Box& box, std::string_view id, std::span<const MapBlock> blocks, MapPick picked, MapPlace& place);
/// Height in which the whole farm stands at this width without zooming.
float bed_map_height(float width, std::span<const MapBlock> blocks);

/// One upright strip, `box` without its stake: legends, and the trace view's small ones.
void draw_upright_strip(const Box& box, const MapBed& bed, Color behind);

}  // namespace steep
