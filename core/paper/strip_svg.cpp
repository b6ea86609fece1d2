#include "paper/strip_svg.h"

#include <fmt/format.h>
#include <algorithm>

namespace steep {
namespace {

constexpr double kWidth = 44, kHeight = 11, kTape = 3;

}  // namespace

std::string strip_svg(Stretch whole, const std::vector<Stretch>& treated, bool taped) {
  std::string svg = fmt::format("<svg width=\"{0}pt\" height=\"{1}pt\" viewBox=\"0 0 {0} {1}\" aria-hidden=\"true\">",
                                kWidth, kHeight);
  const double length = (whole.to - whole.from).meters();
  const double body = kHeight - (taped ? kTape : 0);
  for (const Stretch& stretch : treated) {
    const double from = length > 0 ? std::clamp((stretch.from - whole.from).meters() / length, 0.0, 1.0) : 0;
    const double to = length > 0 ? std::clamp((stretch.to - whole.from).meters() / length, 0.0, 1.0) : 1;
    svg += fmt::format("<rect x=\"{:.2f}\" y=\"0\" width=\"{:.2f}\" height=\"{:.1f}\" fill=\"#2b2b2b\"/>",
                       from * kWidth, (to - from) * kWidth, body);
  }
  if (taped)
    for (double x = 0; x < kWidth; x += 6)
      svg += fmt::format("<path d=\"M{:.1f} {} l3 -{} h3 l-3 {} z\" fill=\"#000\"/>", x, kHeight, kTape, kTape);
  svg += fmt::format("<rect x=\"0.5\" y=\"0.5\" width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"#000\"/></svg>",
                     kWidth - 1, kHeight - 1);
  return svg;
}

std::string mark_svg(int points) {
  std::string svg = fmt::format(
      "<svg class=\"mark\" width=\"{0}pt\" height=\"{0}pt\" viewBox=\"0 0 64 64\" role=\"img\" "
      "aria-label=\"Steepbook\">"
      "<rect width=\"64\" height=\"64\" rx=\"12\" fill=\"#000\"/>",
      points);
  constexpr double kShares[] = {1.0, 0.62, 0.28};
  for (int i = 0; i < 3; ++i)
    svg += fmt::format(
        "<rect x=\"13\" y=\"{0}\" width=\"38\" height=\"9\" fill=\"none\" stroke=\"#fff\" stroke-width=\"2\"/>"
        "<rect x=\"13\" y=\"{0}\" width=\"{1:.1f}\" height=\"9\" fill=\"#fff\"/>",
        14 + 14 * i, 38 * kShares[i]);
  return svg + "</svg>";
}

}  // namespace steep
