#pragma once
/// The tank beside the beds in walking order: each row's slab of liquid is that bed's share. The
/// foot of the tank falls on the very stretch where it runs dry.

#include <span>
#include <string_view>

#include "look/bed_strip.h"
#include "look/icons.h"
#include "look/layout.h"

namespace steep {

enum class TankRowState { Done, Skipped, Current, Waiting, NextLoad };

struct TankRow {
  TankRowState state = TankRowState::Waiting;
  std::string_view number = {}, crop = {};
  std::string_view right = {};             ///< '100 ft', '6:51 pm', 'load 2', 'skipped: wet'
  std::string_view flag = {};              ///< Caution seen beforehand: 'pick Fri 7 am'
  std::string_view slab = {};              ///< Volume in the tank for this bed, without unit; empty = none.
  float from_this_load = 1;                ///< Share of the bed that this load covers: below 1 the tank ends here.
  std::string_view refill = {};            ///< Word at the cut: 'refill'
  float treated_from = 0, treated_to = 0;  ///< Half done: cut drawn; equal = none.
  std::string_view spoken = {};
};

/// Of the current row, drawn as a loupe.
struct TankLoupe {
  std::string_view number = {}, crop = {}, size = {};  ///< 'N11' 'Chard' '100 ft × 30 in'
  std::string_view volume = {};                        ///< '~0.26 gal spray (0.11 tea)'
  std::string_view slab_unit = {};                     ///< 'gal spray', once, under the slab's volume; may wrap.
  std::string_view walk = {}, walk_text = {};          ///< 'Walk', '18 of 39 s'
  float walked = -1;                                   ///< 0–1; −1 = no bar.
  StripHold wait = StripHold::None;
  std::string_view wait_text = {};         ///< 'No harvest until Fri 6:53 pm'
  float treated_from = 0, treated_to = 0;  ///< Half done: cut shown under the texts.
};

struct TankGauge {
  std::string_view id = {};
  std::span<const TankRow> rows = {};  ///< In walking order; done ones first (the last one or two).
  TankLoupe loupe = {};
  std::string_view used = {}, used_word = {};  ///< '2.43' / 'used'
  bool sump = false;                           ///< What the pump can't reach.
  std::string_view sump_spoken = {};           ///< '0.15 gallons can't be sprayed'
  std::string_view then = {};                  ///< 'then N15, ½ of N16, refill': of what doesn't fit
};

/// Index of a pressed row (it becomes the bed in hand), or −1. `height` ≤ 0: as high as it needs;
/// else rows that don't fit are cut and `then` is written.
int tank_gauge(Pen& pen, const TankGauge& gauge, float height = 0);

/// The head over it: '5½ beds left in tank', '~1.57 gal spray in it', …
struct TankHead {
  std::string_view number = {}, words = {}, words2 = {};  ///< '5½' 'beds' 'left in tank'
  std::string_view amount = {}, amount_unit = {};         ///< '~1.57' 'gal spray in it'
  std::string_view line2 = {}, line3 = {};                ///< '1.42 gal can be sprayed', 'load 1 of 2 · 10 of 24 done'
  std::string_view spoken = {};
};
void tank_head(Pen& pen, const TankHead& head);

}  // namespace steep
