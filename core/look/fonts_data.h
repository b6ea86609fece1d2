#pragma once
/// The bytes of the three fonts, compiled in. assets/fonts/make_fonts.py makes them at build time from
/// B612 (SIL Open Font License) and Material Design Icons, with the glyphs listed beside that script.

#include <span>

namespace steep {

/// B612 Regular and Bold: OpenType with CFF outlines. Digits are tabular and as wide in both, so a
/// word that turns bold doesn't move its neighbours. The bytes live as long as the program.
std::span<const unsigned char> font_regular();
std::span<const unsigned char> font_bold();

/// The icons listed in assets/fonts/icons.txt, at their code points (U+F004 … U+F6xx); TrueType.
std::span<const unsigned char> font_icons();

}  // namespace steep
