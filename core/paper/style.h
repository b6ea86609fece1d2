#pragma once
/// The one style of all papers. It is a constant: the page's Content-Security-Policy allows it by its
/// hash, which the build writes there. Pictures in papers are SVG with attributes, never style="".

#include <string_view>

namespace steep {

std::string_view report_style();

}  // namespace steep
