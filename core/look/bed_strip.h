#pragma once
/// The bed strip: one bed, one long strip. Stake (number), body (crop, how long ago, length), end
/// cell (what comes next). Fill = share of the interval still left; flag = due; tape = hold; cut
/// line = only a stretch was treated. Nothing on a strip says that a bed is free.

#include <span>
#include <string_view>

#include "look/layout.h"

namespace steep {

enum class StripHold { None, NoHarvest, NoEntry };
enum class StripEnd {
  None,   ///< No end cell.
  Plain,  ///< '11 d' / 'to next'
  Due,    ///< Flag: 'today' / 'due', 'half' / 'due'
  Late,   ///< Flag with chevrons: '2 d' / 'late'
  Hold,   ///< Sign of `hold` and until when.
};

/// A part of the bed along its length, 0 = the named zero end (drawn at the left).
struct StripStretch {
  float from = 0, to = 1;  ///< Shares of the length, 0–1, from < to.
  float fill = -1;         ///< Share of the interval left, 0–1; −1 = no interval: no fill.
  StripHold hold = StripHold::None;
};

struct BedStrip {
  std::string_view number = {};
  std::string_view first = {}, second = {};      ///< 'Lettuce' / 'today · 100 ft'
  float fill = -1;                               ///< Of the whole bed; −1 = no interval set: no fill, notches, flag.
  int interval_days = 0;                         ///< Notches: one a day, from 22 days on one a week; 0 = none.
  std::span<const StripStretch> stretches = {};  ///< Two or more: cut lines between; then `fill` is not used.
  StripHold hold = StripHold::None;
  StripEnd end = StripEnd::None;
  std::string_view end_first = {}, end_second = {};
  int late_days = 0;
  bool question = false;  ///< Same bed twice: '?' on the strip.
};

constexpr float kStripHeight = 56, kStripTall = 72;  ///< In lists; on the bed's page.

/// Height at this width and text size: 56 (74 from 120 %); end cell below the body from 140 %.
float bed_strip_height(float width, const BedStrip& strip, bool tall = false);
/// Drawing only.
void draw_bed_strip(const Box& box, const BedStrip& strip, Color behind, std::uint32_t motion_id = 0);
/// Pressable over the whole pitch (a gap of 8 is added below). `spoken` is a whole sentence.
bool bed_strip(Pen& pen, std::string_view id, const BedStrip& strip, std::string_view spoken);
/// In tables: 120 × 24, no text.
void draw_mini_strip(const Box& box, const BedStrip& strip, Color behind);

/// Half of a bed, cut at a place, with the two buttons that stay for 10 s (pass).
struct StripOffer {
  std::string_view id = {}, other_half = {}, feet = {};
};
int strip_offer(Pen& pen, const StripOffer& offer);

}  // namespace steep
