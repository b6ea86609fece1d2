#include "look/tokens.h"

#include <algorithm>
#include <cmath>

namespace steep {
namespace {

// Tables are set by hand.
// clang-format off
// White cards, near-black ink: for full sun.
constexpr Tokens kDay = {
    .ground = rgb(0xF3F0E7), .surface = rgb(0xFFFFFF), .well = rgb(0xE7E3D7),
    .ink = rgb(0x0E1B17), .ink2 = rgb(0x37443F), .rule = rgb(0x7F8983), .line = rgb(0x0E1B17),
    .stake = rgb(0x0E1B17), .onstake = rgb(0xFFFFFF),
    .pri = rgb(0x0A5240), .onpri = rgb(0xFFFFFF), .priline = rgb(0x0A5240),
    .leaf = rgb(0x0A5240), .onleaf = rgb(0xFFFFFF),
    .due = rgb(0xFFB81A), .ondue = rgb(0x0E1B17), .duetext = rgb(0x664000),
    .beet = rgb(0x8A0D42), .onbeet = rgb(0xFFFFFF), .tapegap = rgb(0xFFFFFF),
    .water = rgb(0x0B4875), .tea = rgb(0x713808),
    .steep = {rgb(0xF8ECD0), rgb(0xE3B566), rgb(0xB06A1E), rgb(0x6A350A)},
    .tank_top = rgb(0x84450F), .tank_foot = rgb(0x5E2E08), .ontank = rgb(0xFFFFFF),
    .sky = rgb(0xFFF0BF), .night = rgb(0x2C3752), .onnight = rgb(0xF4EFE2),
};

// Dark, large areas dimmed, primary button dark with a light edge: for dawn, dusk, head-lamps.
constexpr Tokens kDusk = {
    .ground = rgb(0x0B100E), .surface = rgb(0x151C19), .well = rgb(0x050807),
    .ink = rgb(0xF4EEDF), .ink2 = rgb(0xC4C8BD), .rule = rgb(0x77827B), .line = rgb(0xABB0A4),
    .stake = rgb(0xD2CCBB), .onstake = rgb(0x0B100E),
    .pri = rgb(0x0D4736), .onpri = rgb(0xF4EEDF), .priline = rgb(0x74CDA6),
    .leaf = rgb(0x74CDA6), .onleaf = rgb(0x06120D),
    .due = rgb(0xFFC54F), .ondue = rgb(0x171002), .duetext = rgb(0xFFC54F),
    .beet = rgb(0xFF9DBB), .onbeet = rgb(0x2A0414), .tapegap = rgb(0x151C19),
    .water = rgb(0x96CCF8), .tea = rgb(0xEBAE68),
    .steep = {rgb(0x4A4536), rgb(0x8A6A36), rgb(0xC98A3E), rgb(0xEBAE68)},
    .tank_top = rgb(0x744214), .tank_foot = rgb(0x55300C), .ontank = rgb(0xF4EEDF),
    .sky = rgb(0x2E2C20), .night = rgb(0x141B2C), .onnight = rgb(0xC9D2E6),
};
// clang-format on

double linear(std::uint32_t channel) {
  const double c = channel / 255.0;
  // 0.04045 is the sRGB threshold that WCAG 2.2 adopted; for 8-bit channels it makes no difference to 0.03928.
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}
double luminance(Color color) {
  return 0.2126 * linear(color & 0xFF) + 0.7152 * linear(color >> 8 & 0xFF) + 0.0722 * linear(color >> 16 & 0xFF);
}

}  // namespace

const Tokens& tokens(Theme theme) { return theme == Theme::Dusk ? kDusk : kDay; }

Color faded(Color color, float alpha) {
  const float own = static_cast<float>(color >> 24);
  const auto a = static_cast<std::uint32_t>(std::clamp(own * alpha, 0.0f, 255.0f) + 0.5f);
  return (color & 0x00FFFFFFu) | a << 24;
}

double contrast(Color a, Color b) {
  const double one = luminance(a), two = luminance(b);
  return (std::max(one, two) + 0.05) / (std::min(one, two) + 0.05);
}

}  // namespace steep
