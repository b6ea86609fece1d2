#pragma once
/// Text on the screen: styles, measuring, one-line and wrapped drawing, numbers with units.
///
/// Nothing is cut with '…' except where a function says so (free notes). Texts with **bold** parts
/// go through the functions named rich; all others draw what they are given.

#include <string_view>

#include "look/theme.h"

namespace steep {

enum class Align { Left, Center, Right };

float text_size(TextStyle style);    ///< Em size in dp at the text size in force, whole dp.
float line_height(TextStyle style);  ///< At the text size in force.
bool is_bold(TextStyle style);
float text_width(TextStyle style, std::string_view text);
float longest_word(TextStyle style, std::string_view text);  ///< Width of the widest word: what wrapping can't help.

/// One line; its capitals are centered on the box's height (baseline = center + .38 em). Drawn from
/// the left edge, around the center or up to the right edge; may run over the box.
void draw_text(const Box& box, TextStyle style, Color color, std::string_view text, Align align = Align::Left);
/// One line with its baseline at `baseline`; x is the left edge, center or right edge.
void draw_text_on(float x, float baseline, TextStyle style, Color color, std::string_view text,
                  Align align = Align::Left);
/// Baseline of one line centered in the box.
float baseline_in(const Box& box, TextStyle style);
/// As draw_text, with a line through it at .36 em over the baseline: struck entries.
void draw_struck(const Box& box, TextStyle style, std::string_view text);
/// Drawn twice: `ink` everywhere, then `through` clipped to `fill`. Contrast is full on both sides.
void draw_ink_through(const Box& box, TextStyle style, Color ink, std::string_view text, const Box& fill, Color through,
                      Align align = Align::Left);
/// A free note cut with '…' at the box's width.
void draw_cut(const Box& box, TextStyle style, Color color, std::string_view text);

/// A number with its unit one or two steps smaller on the same baseline. Returns the width.
float draw_number(float x, float baseline, TextStyle number_style, std::string_view number, TextStyle unit_style,
                  std::string_view unit, Color color, Align align = Align::Left);
float number_width(TextStyle number_style, std::string_view number, TextStyle unit_style, std::string_view unit);

/// Height that the wrapped text takes at this width.
float wrapped_height(float width, TextStyle style, std::string_view text);
/// Wraps at spaces (and inside a word that is wider than the box). Returns the height.
float draw_wrapped(const Box& box, TextStyle style, Color color, std::string_view text, Align align = Align::Left);
/// The same for text with **bold** parts; bold parts may have a color of their own.
float rich_height(float width, TextStyle style, std::string_view text);
float draw_rich(const Box& box, TextStyle style, Color color, std::string_view text, Color bold_color = 0,
                Align align = Align::Left);
float rich_width(TextStyle style, std::string_view text);  ///< On one line.

}  // namespace steep
