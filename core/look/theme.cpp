#include "look/theme.h"

#include <cmath>

#include "look/frame_state.h"

namespace steep {

using look_state::state;

ScreenClass Look::screen() const {
  if (width >= 1100) return ScreenClass::Desktop;
  if (width >= 768 && height >= 500) return ScreenClass::Tablet;
  if (width > height && width >= 560) return ScreenClass::Landscape;
  return ScreenClass::Phone;
}

float Look::margin() const {
  switch (screen()) {
    case ScreenClass::Desktop: return size::kMarginDesktop;
    case ScreenClass::Phone: return narrow() ? size::kMarginNarrow : size::kMargin;
    default: return size::kMargin;
  }
}

const Look& look() { return state().look; }
const Tokens& colors() { return tokens(state().look.theme); }

float snap(float value) {
  const float d = state().look.density;
  return std::round(value * d) / d;
}
Box snap(const Box& box) { return {snap(box.left), snap(box.top), snap(box.right), snap(box.bottom)}; }
float snap_width(float width) {
  const float d = state().look.density;
  // Halves go up, so that a 1.5 edge is not thinner than designed on a plain screen.
  return std::max(1.0f, std::floor(width * d + 0.5f)) / d;
}
float scaled(float dp) { return dp * static_cast<float>(state().look.text_percent) / 100.0f; }

}  // namespace steep
