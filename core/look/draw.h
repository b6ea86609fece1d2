#pragma once
/// Drawing recipes: rectangles, rounded frames around square content, tape, hatch, dashes, stakes,
/// flags, icons and signs. All coordinates in dp; edges are put on whole device pixels.

#include <span>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

void fill_box(const Box& box, Color color, float radius = 0);
/// The edge lies inside the box.
void edge_box(const Box& box, Color color, float width, float radius = 0);
void panel(const Box& box, Color fill, Color edge, float edge_width, float radius);
void line(Point from, Point to, Color color, float width);
void polyline(std::span<const Point> points, Color color, float width, bool closed = false);
void polygon(std::span<const Point> points, Color color);  ///< Convex.
void disc(Point center, float radius, Color color);
void ring(Point center, float radius, Color color, float width);
/// Two colours from top to bottom, or from left to right.
void gradient_down(const Box& box, Color top, Color foot);
void gradient_across(const Box& box, Color left, Color right);

/// Square content was drawn into `box`: its four corners are covered in the color behind, then the
/// outline is drawn.
void frame_end(const Box& box, float radius, Color behind, Color edge, float edge_width);

/// Diagonal stripes `beet` / `tapegap`, stripe width 12; `upright` for the map.
void tape(const Box& box, bool upright = false);
/// Lines at 45°, step 12, 1.2 wide.
void hatch(const Box& box, Color color, float step = 12, float width = 1.2f);
/// Broad stripes at 45° (past its best; the sump).
void stripes(const Box& box, Color color, Color gap, float width = 4);
void dashes(Point from, Point to, Color color, float width, float on = 5, float off = 4);
void dashed_box(const Box& box, Color color, float width, float on = 5, float off = 4);

/// Bed number tag: its right edge pointed by `point`, corners at the left rounded.
void stake(const Box& box, float point, Color color, float radius = 0);
/// Stake with number, as in tables and lists; returns its width (0 = natural).
float stake_tag(const Box& box, std::string_view number, TextStyle style);
/// Width of a tag for this name: at least `least`, and `most` for a long one, which stake_name wraps.
float stake_width(std::string_view name, TextStyle style, float least, float most, float around = 24);
/// The name in the middle of its tag: on one line, smaller where that helps, else on several.
void stake_name(const Box& box, TextStyle style, Color color, std::string_view name);
/// `due` block whose left edge is notched inwards by `notch`, with a 2 line along the notch.
void flag(const Box& box, float notch);
/// `count` chevrons, at most 3, `height` high, to the right of `at`.
void chevrons(Point at, int count, float height, Color color);
void small_triangle(Point tip, float size, bool up, Color color);

/// An icon or sign, `size` high and wide. Signs with colours of their own ignore `color`;
/// RadioOn's tick is drawn in `inner` (0 = surface).
void draw_icon(Point center, float size, Icon icon, Color color, Color inner = 0);

}  // namespace steep
