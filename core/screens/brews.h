#pragma once
/// The Brew tab: brews that run, and those that were.

#include <string>
#include <vector>

#include "screens/brew_figure.h"
#include "screens/page.h"

namespace steep {

struct BrewsView {
  std::string title, second;
  struct Running {
    Id brew;
    std::string head, vessel, spoken, reading;
    BrewFigure figure;
    bool operator==(const Running&) const = default;
  };
  std::vector<Running> running;
  std::string past_head, start, plan, empty, empty_why, planned_head;
  struct Planned {
    Id plan;
    std::string first, second, value;
    bool operator==(const Planned&) const = default;
  };
  std::vector<Planned> planned;
  struct Past {
    Id brew;
    std::string first, second, value;
    bool operator==(const Past&) const = default;
  };
  std::vector<Past> past;
  bool operator==(const BrewsView&) const = default;
};
struct BrewsInput : PageInput {
  bool operator==(const BrewsInput&) const = default;
};
Result<BrewsView> brews_view(const Surroundings& around, const BrewsInput& input);
std::optional<Ask> draw_brews(const BrewsView& view, BrewsInput& input, const Furniture& furniture);

/// A brew's clocks and last readings, as read_today gives them for those that run.
Result<RunningBrew> brew_now(const Surroundings& around, const Id& brew);

}  // namespace steep
