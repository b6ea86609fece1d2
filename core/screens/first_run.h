#pragma once
/// No book on this device yet: take the farm from a file, start one here, or look at the demo.

#include <array>
#include <optional>
#include <string>

#include "screens/page.h"

namespace steep {

struct FirstRunView {
  std::string name, line;  ///< 'Steepbook' / 'brews, sprays and beds, on this device'
  std::string first, why;
  struct Way {
    std::string first, second;
    bool operator==(const Way&) const = default;
  };
  Way take, start, demo;
  struct Line {
    std::string word;
    std::array<std::string, 2> choices;
    int chosen = 0;
    bool operator==(const Line&) const = default;
  };
  Line language, units, decimals;
  std::string caution;
  std::string problem;
  bool operator==(const FirstRunView&) const = default;
};
struct FirstRunInput : PageInput {
  bool operator==(const FirstRunInput&) const = default;
};

Result<FirstRunView> first_run_view(const Surroundings& around, const FirstRunInput& input);
std::optional<Ask> draw_first_run(const FirstRunView& view, FirstRunInput& input, const Furniture& furniture);

}  // namespace steep
